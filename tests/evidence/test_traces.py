"""A joint leads to all that stands behind it, and everything behind it leads back to the joint."""

from __future__ import annotations

import csv
import datetime
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from witnessmark.checks.registry import CHECKS
from witnessmark.evidence.reverse_trace import KINDS
from witnessmark.evidence.trace_slugs import LINK_OF, SLUGS
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.pack.trace_table import write_links, write_touched
from witnessmark.pipeline import Outcome as PipelineOutcome

DAY = datetime.date


def rule(slug: str, severity: Severity = Severity.BREAKS) -> Rule:
    return Rule(slug, "?", severity, "", "", "", "", "")


def finding(
    slug: str,
    kind: str,
    subject: str,
    *sections: str,
    joints: tuple[str, ...] = (),
    severity: Severity = Severity.BREAKS,
) -> Finding:
    return Finding(
        rule(slug, severity),
        Outcome.FAIL,
        f"{subject} is wrong.",
        "R.",
        Subject(kind, subject),
        section_ids=sections,
        joint_ids=joints,
    )


@pytest.fixture
def make(record: Any, make_outcome: Callable[..., PipelineOutcome]) -> Callable[..., PipelineOutcome]:
    def made(*findings: Finding) -> PipelineOutcome:
        return make_outcome(
            findings,
            systems=(record("systems", system_id="H"),),
            sections=(
                record("sections", section_id="S1", system_id="H", rooms="1.01, 1.02"),
                record("sections", section_id="S2", system_id="H", rooms="1.02; 1.03"),
            ),
            tubes=(
                record("tubes", section_id="S1", material="copper", od_mm=22.0),
                record("tubes", section_id="S2", material="copper", od_mm=22.0, batch_id="B-T"),
            ),
            joints=(
                record(
                    "joints", joint_id="J1", section_id="S1", od_mm=22.0, material_tube="copper", system_family="FAM-A",
                    fitting_batch_id="B-F", operative_id="OP-1", tool_id="PT-1", jaw_id="JW-1", checker_id="OP-2",
                    pressed_check=True, press_date=DAY(2026, 2, 2), check_date=DAY(2026, 2, 3),
                ),
                record("joints", joint_id="J2", section_id="S2", operative_id="OP-2", tool_id="PT-1",
                       replaces_joint="J1"),
                record("joints", joint_id="J3", section_id="S2", operative_id="OP-1", status="cut_out"),
            ),
            tests=(
                record("tests", test_id="PT-9", attempt=1, stage="strength", section_ids=("S1", "S2"),
                       date=DAY(2026, 3, 2), result="pass", instrument_id="G-1", tester="OP-3",
                       joints_left_out=("J2",)),
                record("tests", test_id="PT-9", attempt=1, stage="leak", section_ids=("S1", "S2"),
                       date=DAY(2026, 3, 1), result="pass", instrument_id="G-2", tester="OP-3"),
            ),
            instruments=(record("instruments", instrument_id="G-1"), record("instruments", instrument_id="G-2")),
            calibrations=(
                record("calibrations", instrument_id="G-1", certificate_no="CAL-1", calibrated_on=DAY(2026, 1, 5)),
                record("calibrations", instrument_id="G-2", certificate_no="CAL-2", calibrated_on=DAY(2026, 1, 5)),
            ),
            tools=(record("tools", tool_id="PT-1", kind="press_tool"), record("tools", tool_id="JW-1", kind="jaw")),
            tool_services=(
                record("tool_services", tool_id="PT-1", serviced_on=DAY(2025, 9, 1), certificate_no="SV-1"),
                record("tool_services", tool_id="PT-1", serviced_on=DAY(2026, 9, 1), certificate_no="SV-LATER"),
            ),
            operatives=tuple(record("operatives", operative_id=f"OP-{n}") for n in (1, 2, 3)),
            trainings=(
                record("trainings", operative_id="OP-1", system_family="FAM-A", certificate_no="TR-A"),
                record("trainings", operative_id="OP-1", system_family="FAM-B", certificate_no="TR-B"),
            ),
            batches=(record("batches", batch_id="B-F", certificate_no="MC-1"), record("batches", batch_id="B-T")),
            alterations=(record("alterations", alteration_id="AL-1", kind="cut_out", joint_ids=("J1",)),),
            snags=(record("snags", snag_id="SN-1", joint_ids=("J1",)),),
        )  # fmt: skip

    return made


def links(outcome: PipelineOutcome, place: int = 0) -> dict[str, list[tuple[str, str]]]:
    found: dict[str, list[tuple[str, str]]] = {}
    for link in outcome.evidence.joint_trace.trace(outcome.project.records.joints[place]):
        found.setdefault(link.link, []).append((link.record_id, link.state.value))
    return found


def test_a_joint_leads_to_everything_behind_it(make: Callable[..., PipelineOutcome]) -> None:
    found = links(make())
    assert found["section"] == [("S1", "pass")]
    assert found["system"] == [("H", "pass")]
    assert found["batch"] == [("B-F", "pass"), ("", "cannot tell")]
    assert found["certificate"] == [("MC-1", "pass")]
    assert found["operative"] == [("OP-1", "pass")]
    assert found["training"] == [("TR-A", "pass")]
    assert found["tool service"] == [("SV-1", "pass")]
    assert found["jaw service"] == [("", "cannot tell")]
    assert found["test"] == [("PT-9", "pass"), ("PT-9", "pass")]
    assert [name for name, _ in found["calibration"]] == ["CAL-2", "CAL-1"]
    assert found["rework"] == [("J2", "pass"), ("AL-1", "pass")]
    assert found["snag"] == [("SN-1", "fail")]
    assert found["photo"] == [("", "cannot tell")]
    assert [name for name, _ in found["guarantee"]] == ["GUAR-1"]


def test_every_link_names_its_cell(make: Callable[..., PipelineOutcome]) -> None:
    outcome = make()
    joint = outcome.project.records.joints[0]
    by_words = {link.words: link.place for link in outcome.evidence.joint_trace.trace(joint)}
    assert by_words["Pressed by"] == joint.source.place("operative_id")
    assert by_words["Training"] == outcome.project.records.trainings[0].source.place("trained_on")
    assert all(place is not None for place in by_words.values())


def test_a_finding_stands_at_its_link_and_at_its_gauge_only(make: Callable[..., PipelineOutcome]) -> None:
    found = links(make(finding("gauge-not-in-calibration", "instrument", "G-1", "S1", "S2")))
    assert found["calibration"] == [("CAL-2", "pass"), ("CAL-1", "fail")]
    assert found["gauge"] == [("G-2", "pass"), ("G-1", "pass")]


def test_a_finding_of_no_link_stands_at_the_end_and_is_not_lost(make: Callable[..., PipelineOutcome]) -> None:
    found = links(make(finding("section-not-flushed", "section", "S1", "S1", severity=Severity.WEAKENS)))
    assert found["other"] == [("section-not-flushed", "fail")]


def test_a_finding_about_another_joint_is_not_in_the_trace(make: Callable[..., PipelineOutcome]) -> None:
    outcome = make(finding("jaw-of-another-size", "joint", "J2", "S2", joints=("J2",)))
    assert links(outcome)["jaw"] == [("JW-1", "pass")]
    assert links(outcome, 1)["jaw"] == [("", "fail")]


@pytest.mark.parametrize(
    ("result", "state"), [("pass", "pass"), ("fail", "fail"), ("abandoned", "fail"), (None, "cannot tell")]
)
def test_only_a_passed_test_is_shown_as_recorded(
    record: Any, make_outcome: Callable[..., PipelineOutcome], result: str | None, state: str
) -> None:
    outcome = make_outcome(
        sections=(record("sections", section_id="S1"),),
        joints=(record("joints", joint_id="J1", section_id="S1"),),
        tests=(record("tests", test_id="PT-1", stage="strength", section_ids=("S1",), result=result),),
    )
    assert links(outcome)["test"] == [("PT-1", state)]


def test_a_no_an_open_snag_and_a_photo_that_is_not_there_are_not_shown_as_recorded(
    record: Any, make_outcome: Callable[..., PipelineOutcome]
) -> None:
    outcome = make_outcome(
        sections=(record("sections", section_id="S1"),),
        joints=(
            record("joints", joint_id="J1", section_id="S1", pressed_check=False, photo="DOC-9"),
            record("joints", joint_id="J2", section_id="S1", pressed_check=True, photo="DOC-1; DOC-2"),
        ),
        snags=(
            record("snags", snag_id="SN-1", joint_ids=("J1",)),
            record("snags", snag_id="SN-2", joint_ids=("J2",), closed_on=DAY(2026, 3, 3)),
        ),
        documents=(record("documents", document_id="DOC-2", kind="photo"),),
    )
    bad, good = links(outcome), links(outcome, 1)
    assert (bad["check"], bad["snag"], bad["photo"]) == (
        [("no", "fail")],
        [("SN-1", "fail")],
        [("DOC-9", "cannot tell")],
    )
    assert [state for link in ("check", "snag", "photo") for _, state in good[link]] == ["pass"] * 3


def test_a_joint_that_a_test_left_out_is_not_covered_by_it(make: Callable[..., PipelineOutcome]) -> None:
    outcome = make()
    tests = [
        link.detail
        for link in outcome.evidence.joint_trace.trace(outcome.project.records.joints[1])
        if link.link == "test"
    ]
    assert len(tests) == 1
    assert "leak" in tests[0]


@pytest.mark.parametrize(("kind", "name", "joints", "sections"), [
    ("batch", "B-F", {"J1"}, {"S1"}),
    ("batch", "B-T", set(), {"S2"}),
    ("tool", "PT-1", {"J1", "J2"}, {"S1", "S2"}),
    ("tool", "JW-1", {"J1"}, {"S1"}),
    ("operative", "OP-2", {"J1", "J2"}, {"S1", "S2"}),
    ("operative", "OP-3", set(), {"S1", "S2"}),
    ("gauge", "G-1", {"J1"}, {"S1", "S2"}),
    ("gauge", "G-2", {"J1", "J2"}, {"S1", "S2"}),
    ("tool", "PT-404", set(), set()),
])  # fmt: skip
def test_everything_leads_back_to_what_it_touched(
    make: Callable[..., PipelineOutcome], kind: str, name: str, joints: set[str], sections: set[str]
) -> None:
    outcome = make()
    touched = outcome.evidence.reverse_trace.touched(kind, name)
    assert {each.joint.joint_id for each in touched.joints} == joints
    assert {section.section_id for section in touched.sections} == sections
    assert len(touched.tag_codes) == len(sections)
    if "S2" in sections:
        assert "1.03" in touched.rooms


def test_both_ways_agree_on_every_joint(make: Callable[..., PipelineOutcome]) -> None:
    """Whatever a joint's trace names, the reverse trace of that leads back to the joint."""
    outcome = make()
    tables = {"batches": "batch", "tools": "tool", "operatives": "operative", "instruments": "gauge"}
    for joint in outcome.project.records.joints[:2]:
        for link in outcome.evidence.joint_trace.trace(joint):
            if link.table in tables and link.record_id:
                back = outcome.evidence.reverse_trace.touched(tables[link.table], link.record_id)
                assert joint in [each.joint for each in back.joints], link


def test_how_a_joint_was_touched_and_which_guarantee_is_said(make: Callable[..., PipelineOutcome]) -> None:
    touched = make().evidence.reverse_trace.touched("operative", "OP-2")
    assert {each.joint.joint_id: each.how for each in touched.joints} == {"J1": ("checked by",), "J2": ("pressed by",)}
    assert [(g.material, g.section_ids) for g in touched.guarantees] == [("copper", ("S1", "S2"))]


def test_traces_are_written_whole(make: Callable[..., PipelineOutcome], tmp_path: Path) -> None:
    outcome = make()
    joint = outcome.project.records.joints[0]
    trace = outcome.evidence.joint_trace.trace(joint)
    assert write_links([("J1", "row 2", trace)], tmp_path / "a.csv") == len(trace)
    touched = outcome.evidence.reverse_trace.touched("batch", "B-T")
    assert write_touched(outcome, touched, tmp_path / "b.csv") == 1
    with (tmp_path / "b.csv").open(encoding="utf-8-sig", newline="") as stream:
        (row,) = csv.DictReader(stream)
    assert (row["section"], row["joint"], row["rooms"]) == ("S2", "", "1.02; 1.03")


def test_links_name_checks_that_exist_and_each_once() -> None:
    known = {check.rule.slug for check in CHECKS}
    assert set(LINK_OF) <= known
    assert len(LINK_OF) == sum(map(len, SLUGS.values()))
    assert KINDS == ("batch", "tool", "operative", "gauge")
