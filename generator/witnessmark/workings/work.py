"""All workings of a project: what a page opens when a figure is asked how it came about."""

import datetime
from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from witnessmark.engineering import dosing
from witnessmark.engineering.calendar_terms import first_to_end
from witnessmark.model.project import Project
from witnessmark.model.quantity import Input, Worked
from witnessmark.model.records import Section, System
from witnessmark.model.source import SourceLocation
from witnessmark.workings.aids import AidWork, SectionAids
from witnessmark.workings.calculation import calculated, of_worked, recorded
from witnessmark.workings.guarantee import GuaranteeWorking, guarantee_working
from witnessmark.workings.section_rating import RatingWork, SectionRating, ServicePoint
from witnessmark.workings.tag_codes import TagCodes, assign
from witnessmark.workings.test_scope import ScopeFinder
from witnessmark.workings.test_sensitivity import TestSensitivity, sensitivity_of
from witnessmark.workings.test_verdict import StageVerdict, VerdictWork, service_point
from witnessmark.workings.traces import StageTrace, TraceWork
from witnessmark.workings.tube_content import CONTENT_FORMULA, TubeWorking, section_length, summed, tube_working


@dataclass(frozen=True, slots=True)
class SectionWorkings:
    """Everything worked out for one section."""

    section_id: str
    tubes: tuple[TubeWorking, ...]
    length_m: Worked
    content_l: Worked
    max_pressure_bar: Worked
    max_temperature_c: Worked
    min_temperature_c: Worked
    largest_od_mm: float | None
    materials: tuple[str, ...]
    guarantees: tuple[GuaranteeWorking, ...]

    @property
    def first_guarantee_end(self) -> datetime.date | None:
        """The first guarantee to end; ``None`` where any end is unknown."""
        ends = [g.ends_on for g in self.guarantees]
        known = [end for end in ends if end is not None]
        return first_to_end(known) if known and len(known) == len(ends) else None


@dataclass(frozen=True, slots=True)
class SystemWorkings:
    """Everything worked out for one system."""

    system_id: str
    length_m: Worked
    content_l: Worked
    fittings_allowance_l: Worked
    """What the designer declares for fittings and valves; never added to the content in silence."""
    plant_content_l: Worked


@dataclass(frozen=True, slots=True)
class Workings:
    """Everything worked out for a project."""

    sections: dict[str, SectionWorkings]
    systems: dict[str, SystemWorkings]
    tags: TagCodes
    ratings: dict[str, SectionRating] = field(default_factory=dict)
    """By section."""
    verdicts: dict[SourceLocation, StageVerdict] = field(default_factory=dict)
    """By the row of the test stage: ``stage.source.location``."""
    sensitivities: dict[SourceLocation, TestSensitivity] = field(default_factory=dict)
    """By the row of the test stage; stages with a pressure only."""
    traces: dict[SourceLocation, StageTrace] = field(default_factory=dict)
    """By the row of the test stage; stages that name a readable logger file only."""
    aids: Mapping[str, SectionAids] = field(default_factory=dict)
    """By section; worked out when asked for."""


def _limit(section: Section, system: System | None, field: str, name: str, unit: str, places: int) -> Worked:
    for record in (section, system):
        value = getattr(record, field) if record is not None else None
        if record is not None and value is not None:
            source = Input(name, f"{value:g} {unit}", record.source.place(field))
            return Worked(name, value, unit, places, "as recorded", (source,))
    return Worked(
        name, None, unit, places, "as recorded", missing=(f"the {name.lower()} of the section or its system",)
    )


def section_workings(project: Project, section: Section) -> SectionWorkings:
    """Work one section out."""
    lengths = project.tubes_of_section.get(section.section_id, [])
    tubes = tuple(tube_working(project, tube) for tube in lengths)
    system = project.systems.get(section.system_id) if section.system_id else None
    materials = tuple(dict.fromkeys(t.material for t in lengths if t.material is not None))
    sizes = [t.od_mm for t in lengths if t.od_mm is not None]
    return SectionWorkings(
        section_id=section.section_id,
        tubes=tubes,
        length_m=section_length(section, lengths),
        content_l=summed(
            "Water content",
            "L",
            1,
            [t.content_l for t in tubes],
            f"sum over the tubes of {CONTENT_FORMULA}",
            f"a tube length for section {section.section_id}",
        ),
        max_pressure_bar=_limit(section, system, "max_operating_pressure_bar", "Maximum operating pressure", "bar", 1),
        max_temperature_c=_limit(section, system, "max_temperature_c", "Highest temperature", "°C", 0),
        min_temperature_c=_limit(section, system, "min_temperature_c", "Lowest temperature", "°C", 0),
        largest_od_mm=max(sizes) if sizes else None,
        materials=materials,
        guarantees=tuple(guarantee_working(project, section, material) for material in materials),
    )


def _system_workings(project: Project, system: System, sections: dict[str, SectionWorkings]) -> SystemWorkings:
    members = [sections[s.section_id] for s in project.sections_of_system.get(system.system_id, [])]
    missing = f"a section for system {system.system_id}"

    def bare(worked: Worked) -> Worked:
        # A system sums hundreds of tubes: its working names the sections, whose pages open to the cells.
        return Worked(worked.name, worked.value, worked.unit, worked.places, worked.formula, missing=worked.missing)

    content = summed("Water content", "L", 1, [bare(m.content_l) for m in members], "sum over its sections", missing)
    plant = recorded(system, "plant_content_l", "plant content", "L")
    return SystemWorkings(
        system.system_id,
        summed("Length of tube", "m", 1, [bare(m.length_m) for m in members], "sum over its sections", missing),
        content,
        calculated(
            "Allowance for fittings",
            "fittings-allowance",
            (of_worked(content), recorded(system, "fittings_allowance_percent", "allowance for fittings", "%")),
            dosing.dose,
        ),
        Worked(
            "Plant content",
            plant.value,
            "L",
            0,
            "as recorded",
            (plant.input,) if plant.input else (),
            missing=(plant.missing,) if plant.value is None else (),
        ),
    )


def work(project: Project) -> Workings:
    """Work everything out, once."""
    sections = {s.section_id: section_workings(project, s) for s in project.records.sections}
    systems = {s.system_id: _system_workings(project, s, sections) for s in project.records.systems}
    tags = assign(project.settings.id, list(sections), project.records.tags)
    tubes = {section_id: worked.tubes for section_id, worked in sections.items()}
    rating = RatingWork(project)
    ratings = {s.section_id: rating.rate(s, tubes[s.section_id]) for s in project.records.sections}
    judging = VerdictWork(project, ratings, ScopeFinder(project, tubes))
    verdicts = {stage.source.location: judging.judge(stage) for stage in project.records.tests}
    sensitivities = {
        place: sensitivity_of(
            verdict.stage,
            verdict.scope,
            judging.gauges.instrument(verdict.stage),
            verdict.hold_min,
            verdict.procedure_stage.allowed_drop_bar if verdict.procedure_stage is not None else None,
        )
        for place, verdict in verdicts.items()
        if verdict.stage.stage != "visual"
    }
    _add_test_points(ratings, verdicts)
    aids = AidWork(project, tubes, {section_id: worked.content_l for section_id, worked in sections.items()})
    tracing = TraceWork(project)
    traces = {place: traced for place, v in verdicts.items() if (traced := tracing.of(v.stage)) is not None}
    return Workings(sections, systems, tags, ratings, verdicts, sensitivities, traces, aids)


def _add_test_points(ratings: dict[str, SectionRating], verdicts: dict[SourceLocation, StageVerdict]) -> None:
    points: dict[str, list[ServicePoint]] = defaultdict(list)
    for verdict in verdicts.values():
        point = service_point(verdict)
        if point is not None:
            for section in verdict.scope.sections:
                points[section.section_id].append(point)
    for section_id, more in points.items():
        rating = ratings[section_id]
        ratings[section_id] = replace(rating, points=(*rating.points, *more))
