"""All workings of a project: what a page opens when a figure is asked how it came about."""

import datetime
from dataclasses import dataclass

from witnessmark.engineering.calendar_terms import first_to_end
from witnessmark.model.project import Project
from witnessmark.model.quantity import Input, Worked
from witnessmark.model.records import Section, System
from witnessmark.workings.guarantee import GuaranteeWorking, guarantee_working
from witnessmark.workings.tag_codes import TagCodes, assign
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


@dataclass(frozen=True, slots=True)
class Workings:
    """Everything worked out for a project."""

    sections: dict[str, SectionWorkings]
    systems: dict[str, SystemWorkings]
    tags: TagCodes


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

    return SystemWorkings(
        system.system_id,
        summed("Length of tube", "m", 1, [bare(m.length_m) for m in members], "sum over its sections", missing),
        summed("Water content", "L", 1, [bare(m.content_l) for m in members], "sum over its sections", missing),
    )


def work(project: Project) -> Workings:
    """Work everything out, once."""
    sections = {s.section_id: section_workings(project, s) for s in project.records.sections}
    systems = {s.system_id: _system_workings(project, s, sections) for s in project.records.systems}
    tags = assign(project.settings.id, list(sections), project.records.tags)
    return Workings(sections, systems, tags)
