"""What a section is made of and what its system carries, as the questions on materials need it."""

from collections.abc import Iterable, Iterator

from witnessmark.model.project import Project
from witnessmark.model.records import Section, System
from witnessmark.workings.section_rating import WATERS

CARRIES_WATER = WATERS | {"glycol_water"}
"""Media that corrode as water does."""
_NOT_IN_PLACE = frozenset({"planned", "removed"})


def in_place(section: Section) -> bool:
    """Whether the section stands in the building: one that is planned or removed is not asked about."""
    return section.status not in _NOT_IN_PLACE


def sections_in_place(project: Project) -> Iterator[tuple[Section, System | None]]:
    """Sections in place, each with its system where the records name one."""
    for section in project.records.sections:
        if in_place(section):
            yield section, project.systems.get(section.system_id) if section.system_id is not None else None


def stainless_sections(project: Project) -> dict[str, list[str]]:
    """Sections of stainless steel that carry water, by system."""
    found: dict[str, list[str]] = {}
    for section, system in sections_in_place(project):
        if (
            system is not None
            and system.medium in CARRIES_WATER
            and "stainless_steel" in project.materials_of_section[section.section_id]
        ):
            found.setdefault(system.system_id, []).append(section.section_id)
    return found


def is_potable(system: System) -> bool | None:
    """Whether people may drink it; ``None`` where the records do not say."""
    if system.potable or system.medium == "drinking_water":
        return True
    if system.closed_circuit or system.medium not in ("water", None):
        return False
    return system.potable


def is_open(system: System) -> bool | None:
    """Whether fresh, airy water keeps coming; ``None`` where the records do not say."""
    if is_potable(system):
        return True
    return None if system.closed_circuit is None else not system.closed_circuit


def low_and_high(section: Section, system: System | None) -> tuple[float | None, float | None]:
    """Lowest and highest temperature in service, °C; the section's own before its system's."""
    low, high = section.min_temperature_c, section.max_temperature_c
    if system is not None:
        low = system.min_temperature_c if low is None else low
        high = system.max_temperature_c if high is None else high
    return low, high


def words_of(section_ids: Iterable[str]) -> str:
    """'section S1', 'sections S1 and S2', '12 sections, the first of them S1'."""
    names = sorted(set(section_ids))
    if len(names) == 1:
        return f"section {names[0]}"
    if len(names) == 2:
        return f"sections {names[0]} and {names[1]}"
    return f"{len(names):,} sections, the first of them {names[0]}"
