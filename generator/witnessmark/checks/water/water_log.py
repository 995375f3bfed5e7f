"""What the records say of the water of a section: flushes, treatments, tests, each in the order of their days."""

import datetime
import weakref
from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, field

from witnessmark.model.project import Project
from witnessmark.model.records import Flushing, Section, System, TestStage, Treatment

WATER = frozenset({"water", "treated_water", "drinking_water", "glycol_water"})
"""Media to which the questions on water apply: not gas, not air, and not condensate, which runs off."""
_CIRCUITS = frozenset({"heating_flow", "heating_return", "chilled_flow", "chilled_return"})
_NO_PIPE_YET = frozenset({"planned", "removed"})
CLEANING = frozenset({"flush", "chemical_clean"})


@dataclass(frozen=True, slots=True)
class WetSection:
    """A section with water in it, and its system."""

    section: Section
    system: System

    @property
    def id(self) -> str:
        """Id of the section."""
        return self.section.section_id

    @property
    def closed(self) -> bool:
        """Whether the same water goes round and nobody drinks it; so heating and chilled water, where nothing is said."""
        said = self.system.closed_circuit
        return not self.potable and (said if said is not None else self.system.service in _CIRCUITS)

    @property
    def potable(self) -> bool:
        """Whether people may drink it; drinking water is, where the records do not say otherwise."""
        said = self.system.potable
        return said if said is not None else self.system.medium == "drinking_water"


@dataclass(slots=True)
class _Gathered:
    """What several questions ask for, put together once."""

    wet: list[WetSection] | None = None
    flushings: dict[frozenset[str], dict[str, list[Flushing]]] = field(default_factory=dict)
    treatments: dict[str, dict[str, list[Treatment]]] = field(default_factory=dict)


_latest: list[tuple[weakref.ref[Project], _Gathered]] = []


def _gathered(project: Project) -> _Gathered:
    # One project at a time is asked about; keeping more would keep their records in memory.
    if not _latest or _latest[0][0]() is not project:
        _latest[:] = [(weakref.ref(project), _Gathered())]
    return _latest[0][1]


def wet_sections(project: Project) -> list[WetSection]:
    """Sections that carry water and are in place, in the order of their ids."""
    gathered = _gathered(project)
    if gathered.wet is None:
        gathered.wet = []
        for section in sorted(project.records.sections, key=lambda row: row.section_id):
            system = project.systems.get(section.system_id or "")
            if system is not None and system.medium in WATER and section.status not in _NO_PIPE_YET:
                gathered.wet.append(WetSection(section, system))
    return gathered.wet


def flushings_of_section(project: Project, kinds: Iterable[str] = CLEANING) -> dict[str, list[Flushing]]:
    """Dated records of these kinds by section, the last one last."""
    wanted = frozenset(kinds)
    known = _gathered(project).flushings
    if wanted not in known:
        rows = [
            (row.date, row.flushing_id, row) for row in project.records.flushings if row.date and row.kind in wanted
        ]
        grouped: dict[str, list[Flushing]] = defaultdict(list)
        for _, _, row in sorted(rows, key=lambda entry: entry[:2]):
            for section_id in row.section_ids:
                grouped[section_id].append(row)
        known[wanted] = dict(grouped)
    return known[wanted]


def treatments_of_section(project: Project, kind: str) -> dict[str, list[Treatment]]:
    """Dated events of one kind by section, those of a whole system at each of its sections, the last one last."""
    known = _gathered(project).treatments
    if kind not in known:
        rows = [
            (row.date, row.treatment_id, row) for row in project.records.treatments if row.date and row.kind == kind
        ]
        grouped: dict[str, list[Treatment]] = defaultdict(list)
        for _, _, row in sorted(rows, key=lambda entry: entry[:2]):
            for section_id in sections_of(project, row):
                grouped[section_id].append(row)
        known[kind] = dict(grouped)
    return known[kind]


def sections_of(project: Project, row: Treatment) -> tuple[str, ...]:
    """Sections that an event names, or those of its system where it names none."""
    if row.section_ids:
        return row.section_ids
    return tuple(s.section_id for s in project.sections_of_system.get(row.system_id or "", ()))


def last_strength_test(project: Project, section_id: str) -> TestStage | None:
    """The last dated strength test of a section that is recorded as passed."""
    passed = [
        test
        for test in project.tests_of_section.get(section_id, ())
        if test.stage == "strength" and test.result == "pass" and test.date is not None
    ]
    return max(passed, key=lambda test: (test.date or datetime.date.min, test.test_id, test.attempt or 0), default=None)


def in_use_from(project: Project, section: Section) -> datetime.date | None:
    """Day from which a section is used: commissioning, or completion of the works; ``None`` where neither is known."""
    return section.commissioned_on or project.settings.completion_date


def listed(names: Iterable[str]) -> str:
    """'S1', 'S1 and S2', or 'S1, S2, S3 and 9 more'."""
    known = list(dict.fromkeys(names))
    if len(known) > 4:
        return f"{', '.join(known[:3])} and {len(known) - 3} more"
    return known[0] if len(known) == 1 else f"{', '.join(known[:-1])} and {known[-1]}"
