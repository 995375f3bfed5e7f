"""Attempts at tests with water, and how their sections were left."""

import weakref
from collections import defaultdict
from dataclasses import dataclass
from operator import itemgetter

from witnessmark.checks.testing.proving_tests import proving_tests
from witnessmark.model.project import Project
from witnessmark.model.records import Section, TestStage
from witnessmark.model.threshold import limit

DAYS = "made-safe-days"
POTABLE_DAYS = "made-safe-potable-days"
WAYS = {
    "drained_dried": "drained and dried",
    "left_full_treated": "treated",
    "left_full_untreated": "left full of untreated water",
    "put_in_service": "put in service",
}


@dataclass(frozen=True, slots=True)
class WetTest:
    """One attempt with water: its last stage under pressure, the stage that says how it was left, its sections."""

    last: TestStage
    left: TestStage
    sections: tuple[Section, ...]
    potable: bool
    days: float
    """Longest time allowed until it is made fit."""

    @property
    def systems(self) -> list[str]:
        """Systems of its sections."""
        return sorted({section.system_id for section in self.sections if section.system_id})

    @property
    def words(self) -> str:
        """Such as 'Test PT-014, attempt 2'."""
        attempt = f", attempt {self.last.attempt}" if self.last.attempt is not None else ""
        return f"Test {self.last.test_id}{attempt}"


def wet_tests(project: Project) -> list[WetTest]:
    """Every attempt with water on known sections, in the order of tests; kept as long as the project lives."""
    for reference, kept in _latest:
        if reference() is project:
            return kept
    gathered = _gathered(project)
    _latest[:] = [(weakref.ref(project), gathered)]
    return gathered


_latest: list[tuple[weakref.ref[Project], list[WetTest]]] = []


def _gathered(project: Project) -> list[WetTest]:
    attempts: dict[tuple[str, int], list[TestStage]] = defaultdict(list)
    for stage in proving_tests(project).in_order:
        if _with_water(stage) and stage.stage != "visual":
            attempts[stage.test_id, stage.attempt or 0].append(stage)
    found = []
    days = limit(project.settings, DAYS)
    potable_days = limit(project.settings, POTABLE_DAYS)
    for _, stages in sorted(attempts.items(), key=itemgetter(0)):
        names = sorted({name for stage in stages for name in stage.section_ids})
        sections = tuple(project.sections[name] for name in names if name in project.sections)
        if not sections:
            continue
        told = [stage for stage in stages if stage.made_safe is not None]
        systems = [project.systems.get(section.system_id or "") for section in sections]
        potable = any(s is not None and (s.potable or s.medium == "drinking_water") for s in systems)
        left = told[-1] if told else stages[-1]
        found.append(WetTest(stages[-1], left, sections, potable, potable_days if potable else days))
    return found


def _with_water(stage: TestStage) -> bool:
    """Whether water was in it: its medium says so, or, where none is recorded, how it was left."""
    return stage.medium == "water" or (stage.medium is None and (stage.made_safe or "").startswith("left_full"))


def risk_words(project: Project, test: WetTest) -> str:
    """What standing water does to the tube of the sections, as a sentence with a blank before it; '' where unknown."""
    materials = {m for section in test.sections for m in project.materials_of_section.get(section.section_id, ())}
    told = []
    if "carbon_steel" in materials:
        told.append(" Carbon steel that stays wet with air in it rusts.")
    if "stainless_steel" in materials:
        told.append(" In stainless steel, microbes in standing water can start pitting.")
    if test.potable:
        told.append(" Standing drinking water lets legionella and other germs grow.")
    return "".join(told)
