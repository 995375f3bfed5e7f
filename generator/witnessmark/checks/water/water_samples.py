"""The last sample of every system, at every place where samples were taken."""

from collections import defaultdict
from dataclasses import dataclass

from witnessmark.checks.water.water_log import WetSection, sections_of, wet_sections
from witnessmark.model.project import Project
from witnessmark.model.records import Treatment


@dataclass(frozen=True, slots=True)
class Sample:
    """A sample and the sections with water for which it speaks."""

    row: Treatment
    sections: tuple[WetSection, ...]

    @property
    def section_ids(self) -> tuple[str, ...]:
        """Ids of those sections."""
        return tuple(wet.id for wet in self.sections)

    @property
    def where(self) -> str:
        """' at the return header', or nothing where no place is recorded."""
        return f" at '{self.row.sample_point}'" if self.row.sample_point else ""


def last_samples(project: Project) -> list[Sample]:
    """Dated samples that no later one of the same sections and place replaces, in the order of their ids."""
    wet = {one.id: one for one in wet_sections(project)}
    by_place: dict[tuple[str, ...], list[Treatment]] = defaultdict(list)
    for row in project.records.treatments:
        if row.kind != "sample" or row.date is None:
            continue
        names = tuple(sorted(name for name in sections_of(project, row) if name in wet))
        if names:
            by_place[(row.sample_point or "").casefold(), *names].append(row)
    last = [
        Sample(max(rows, key=lambda row: (str(row.date), row.treatment_id)), tuple(wet[name] for name in place[1:]))
        for place, rows in by_place.items()
    ]
    return sorted(last, key=lambda sample: sample.row.treatment_id)
