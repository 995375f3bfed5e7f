"""Computed columns of ``sections.csv`` and ``tubes.csv``: every figure that a section's page shows, unrounded."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from witnessmark.model.finding import Outcome as Answer
from witnessmark.model.finding import Severity
from witnessmark.model.records import Section, TubeLength
from witnessmark.pack.data_table import DataColumn, figure
from witnessmark.pack.rating_figures import aid_figures, rating_figures, tube_aid_figures
from witnessmark.pack.tag_address import tag_address
from witnessmark.workings.guarantee import GuaranteeWorking
from witnessmark.workings.tube_content import TubeWorking
from witnessmark.workings.work import SectionWorkings

if TYPE_CHECKING:
    from witnessmark.pipeline import Outcome

MATERIALS = ("copper", "stainless_steel", "carbon_steel")


def section_figures(outcome: Outcome) -> tuple[DataColumn, ...]:
    """Columns that stand behind the record columns of ``sections.csv``."""
    worked = outcome.workings.sections

    def of(get: Callable[[SectionWorkings], Any]) -> Callable[[Section], Any]:
        return lambda section: get(worked[section.section_id])

    columns = [
        figure("length_m", "number", "Length of tube", "Sum of the recorded tube lengths.",
               of(lambda w: w.length_m.value), "m"),
        figure("length_m_missing", "string", "Length: missing", "What is not recorded where there is no length.",
               of(lambda w: _reasons(w.length_m.missing))),
        figure("content_l", "number", "Water content", "Content of the tubes at their bore; fittings, valves and plant "
               "are not in it. Empty as soon as one tube is unknown.", of(lambda w: w.content_l.value), "l"),
        figure("content_l_missing", "string", "Content: missing", "What is not recorded where there is no content.",
               of(lambda w: _reasons(w.content_l.missing))),
        figure("materials", "string", "Materials", "Recorded materials of its tubes, divided by semicolons.",
               of(lambda w: "; ".join(w.materials) or None)),
        figure("bore_mm", "number", "Bore", "Bore of the tube, where all tubes of the section have one and the same; "
               "tubes.csv has them one by one.", of(single_bore), "mm"),
        figure("largest_od_mm", "number", "Largest outside diameter", "Largest recorded outside diameter of the tubes.",
               of(lambda w: w.largest_od_mm), "mm"),
        figure("used_max_pressure_bar", "number", "Maximum operating pressure, used",
               "Gauge pressure of the section or, where it has none, of its system.",
               of(lambda w: w.max_pressure_bar.value), "bar"),
        figure("used_max_temperature_c", "number", "Highest temperature, used",
               "Highest temperature of the section or, where it has none, of its system.",
               of(lambda w: w.max_temperature_c.value), "degC"),
        figure("used_min_temperature_c", "number", "Lowest temperature, used",
               "Lowest temperature of the section or, where it has none, of its system.",
               of(lambda w: w.min_temperature_c.value), "degC"),
    ]  # fmt: skip
    for material in MATERIALS:
        columns += _guarantee(material, worked)
    columns.append(
        figure("first_guarantee_ends_on", "date", "First guarantee to end",
               "Last day of the guarantee that ends first; empty where any end is unknown.",
               of(lambda w: w.first_guarantee_end))
    )  # fmt: skip
    return (*columns, *rating_figures(outcome), *aid_figures(outcome), *_counts(outcome), *_tag(outcome))


def tube_figures(outcome: Outcome) -> tuple[DataColumn, ...]:
    """Columns that stand behind the record columns of ``tubes.csv``; empty for a tube of no known section."""
    worked = {id(w.tube): w for section in outcome.workings.sections.values() for w in section.tubes}

    def of(get: Callable[[TubeWorking], Any]) -> Callable[[TubeLength], Any]:
        def value(tube: TubeLength) -> Any:
            working = worked.get(id(tube))
            return None if working is None else get(working)

        return value

    return (
        figure("used_wall_mm", "number", "Wall, used", "Wall as recorded for the tube or its batch, or by the declared "
               "series.", of(lambda w: w.wall_mm.value), "mm"),
        figure("bore_mm", "number", "Bore", "Outside diameter less two walls.", of(lambda w: w.bore_mm.value), "mm"),
        figure("content_l", "number", "Water content", "Content at the bore over the length.",
               of(lambda w: w.content_l.value), "l"),
        figure("content_l_missing", "string", "Content: missing", "What is not recorded where there is no content.",
               of(lambda w: _reasons(w.content_l.missing))),
        *tube_aid_figures(outcome),
    )  # fmt: skip


def single_bore(worked: SectionWorkings) -> float | None:
    """The bore of a section's tubes, [mm], where each is known and all are the same."""
    bores = {tube.bore_mm.value for tube in worked.tubes}
    return bores.pop() if len(bores) == 1 else None


def _guarantee(material: str, worked: dict[str, SectionWorkings]) -> list[DataColumn]:
    words = material.replace("_", " ")

    def of(get: Callable[[GuaranteeWorking], Any]) -> Callable[[Section], Any]:
        def value(section: Section) -> Any:
            for guarantee in worked[section.section_id].guarantees:
                if guarantee.material == material:
                    return get(guarantee)
            return None

        return value

    return [
        figure(f"{material}_guarantee_starts_on", "date", f"Guarantee on {words}, start",
               f"Day from which the guarantee on {words} runs by the project's terms.", of(lambda g: g.starts_on)),
        figure(f"{material}_guarantee_ends_on", "date", f"Guarantee on {words}, end",
               f"Last day of the guarantee on {words}; empty where the section has none of it, or it is not known.",
               of(lambda g: g.ends_on)),
        figure(f"{material}_register_by", "date", f"Guarantee on {words}, register by",
               f"Last day on which the guarantee on {words} can be registered, where the terms ask for it.",
               of(lambda g: g.register_by)),
        figure(f"{material}_guarantee_missing", "string", f"Guarantee on {words}: missing",
               f"What is not recorded where the section has {words} and the end of its guarantee is not known.",
               of(lambda g: _reasons(g.missing))),
    ]  # fmt: skip


def _counts(outcome: Outcome) -> tuple[DataColumn, ...]:
    project, found = outcome.project, outcome.judgement.by_section
    joints, tests = project.joints_of_section, project.tests_of_section
    severities = {
        section_id: Counter("waived" if f.outcome is Answer.WAIVED else f.rule.severity.value for f in findings)
        for section_id, findings in found.items()
    }
    none: Counter[str] = Counter()

    def number(key: str) -> Callable[[Section], int]:
        return lambda section: severities.get(section.section_id, none)[key]

    return (
        figure("joint_count", "integer", "Joints", "Joint records of the section, contradicting ones included.",
               lambda s: len(joints.get(s.section_id, ()))),
        figure("test_stage_count", "integer", "Test stages", "Recorded stages of its tests, failed ones included.",
               lambda s: len(tests.get(s.section_id, ()))),
        *(
            figure(f"findings_{severity.value}", "integer", f"Findings: {severity.value}",
                   f"Findings of severity '{severity.value}' that concern the section: failed, or cannot tell.",
                   number(severity.value))
            for severity in Severity
        ),
        figure("findings_waived", "integer", "Findings: waived", "Findings waived with a recorded reason.",
               number("waived")),
    )  # fmt: skip


def _tag(outcome: Outcome) -> tuple[DataColumn, ...]:
    codes, settings = outcome.workings.tags.by_section, outcome.project.settings.tags
    return (
        figure("tag_code", "string", "Tag code", "Permanent code of the section.", lambda s: codes[s.section_id]),
        figure("tag_address", "string", "Tag address", "Address that the tag's QR symbol holds.",
               lambda s: tag_address(settings, codes[s.section_id])),
    )  # fmt: skip


def _reasons(missing: tuple[str, ...]) -> str | None:
    return "; ".join(missing) or None
