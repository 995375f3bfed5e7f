"""How fast a flush ran in the largest pipe that it went through."""

from dataclasses import dataclass

from witnessmark.checks.water.water_log import WetSection, flushings_of_section, wet_sections
from witnessmark.engineering.drainage import velocity_at_flow
from witnessmark.engineering.tube import bore_area
from witnessmark.model.project import Project
from witnessmark.model.records import Flushing
from witnessmark.model.source import SourceLocation
from witnessmark.workings.tube_content import TubeWorking
from witnessmark.workings.work import Workings


@dataclass(frozen=True, slots=True)
class FlushVelocity:
    """The last flush of some sections: largest bore, mm, velocity in it worked out from the flow, m/s, what is missing."""

    flushing: Flushing
    sections: tuple[WetSection, ...]
    bore_mm: float | None
    od_mm: float | None
    worked_out: float | None
    missing: str
    missing_place: SourceLocation | None

    @property
    def velocity_m_s(self) -> float | None:
        """Worked out from the flow where that can be done, else as written."""
        return self.worked_out if self.worked_out is not None else self.flushing.velocity_m_s


def last_flushes(project: Project, workings: Workings) -> list[FlushVelocity]:
    """The last flush of every section, each flush once, in the order of their ids."""
    flushed = flushings_of_section(project, ("flush",))
    groups: dict[str, tuple[Flushing, list[WetSection]]] = {}
    for wet in wet_sections(project):
        if wet.id in flushed:
            row = flushed[wet.id][-1]
            groups.setdefault(row.flushing_id, (row, []))[1].append(wet)
    return [_worked(workings, *groups[name]) for name in sorted(groups)]


def _worked(workings: Workings, row: Flushing, sections: list[WetSection]) -> FlushVelocity:
    largest: TubeWorking | None = None
    missing, place = "", None
    for section_id in row.section_ids:
        worked = workings.sections.get(section_id)
        tubes = worked.tubes if worked else ()
        if not tubes and not missing:
            missing, place = f"the tube of section {section_id} in the tubes table", row.source.place("section_ids")
        for tube in tubes:
            if tube.bore_mm.value is None:
                if not missing:
                    missing = f"{tube.bore_mm.missing[0]} for a tube of section {section_id}"
                    place = tube.tube.source.location
            elif largest is None or tube.bore_mm.value > (largest.bore_mm.value or 0):
                largest = tube
    if missing or largest is None or largest.tube.od_mm is None or largest.wall_mm.value is None:
        return FlushVelocity(row, tuple(sections), None, None, None, missing, place)
    velocity = None
    if row.flow_l_s is not None:
        velocity = velocity_at_flow(bore_area(largest.tube.od_mm, largest.wall_mm.value), row.flow_l_s)
    return FlushVelocity(row, tuple(sections), largest.bore_mm.value, largest.tube.od_mm, velocity, "", None)
