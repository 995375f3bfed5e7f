"""Passed tests that prove a section, and which of them lie after something that was done to its pipe."""

import datetime
from collections.abc import Iterable

from witnessmark.model.procedure import TestProcedure
from witnessmark.model.project import Project
from witnessmark.model.records import TestStage
from witnessmark.workings.procedures import all_procedures

NOT_IN_PLACE = frozenset({"planned", "removed"})
"""States of a section of which no test is asked."""
_PRESSED = ("strength", "tightness", "leak", "service")
_FIRST_DAY, _MIDNIGHT = datetime.date.min, datetime.time.min


def passed(stage: TestStage) -> bool:
    """Whether the record claims a pass; a failed or broken-off attempt never does."""
    return stage.result == "pass"


def in_time_order(stages: Iterable[TestStage]) -> list[TestStage]:
    """Stages by day, start, test and attempt; those without a day first."""
    return sorted(
        stages,
        key=lambda s: (s.date or _FIRST_DAY, s.start_time or _MIDNIGHT, s.test_id, s.attempt or 0, s.stage or ""),
    )


def is_after(stage: TestStage, day: datetime.date | None, time: datetime.time | None) -> bool | None:
    """Whether a stage began after a moment; ``None`` where days, or on one day the times, are not recorded."""
    if stage.date is None or day is None:
        return None
    if stage.date != day:
        return stage.date > day
    if stage.start_time is None or time is None:
        return None
    return stage.start_time > time


def any_after(stages: Iterable[TestStage], day: datetime.date | None, time: datetime.time | None) -> bool | None:
    """Whether any stage began after a moment; ``None`` where one may have and none certainly did."""
    answers = {is_after(stage, day, time) for stage in stages}
    return True if True in answers else (None if None in answers else False)


class ProvingTests:
    """Procedures of sections, and the passed stages that prove their joints under pressure."""

    def __init__(self, project: Project) -> None:
        self._project = project
        self._procedures = all_procedures(project.settings)
        self._proving: dict[str, tuple[TestStage, ...]] = {}

    def procedure(self, section_id: str) -> TestProcedure | None:
        """What the service of a section asks for; ``None`` where project.yml does not say."""
        section = self._project.sections.get(section_id)
        system = self._project.systems.get(section.system_id or "") if section is not None else None
        wanted = self._project.settings.testing.get(system.service or "") if system is not None else None
        return self._procedures.get(wanted or "")

    def stage_name(self, section_id: str) -> str:
        """The stage that proves: strength, or where the procedure has none, the strictest under pressure that it has."""
        procedure = self.procedure(section_id)
        named = {stage.stage for stage in procedure.stages} if procedure is not None else set()
        return next((name for name in _PRESSED if name in named), "strength")

    def of(self, section_id: str) -> tuple[TestStage, ...]:
        """Passed stages that prove a section, the last of them last."""
        if section_id not in self._proving:
            name = self.stage_name(section_id)
            stages = self._project.tests_of_section.get(section_id, ())
            self._proving[section_id] = tuple(in_time_order(s for s in stages if s.stage == name and passed(s)))
        return self._proving[section_id]

    def covering(self, section_id: str, joint_ids: Iterable[str]) -> tuple[TestStage, ...]:
        """Those that leave out none of the joints."""
        wanted = set(joint_ids)
        return tuple(stage for stage in self.of(section_id) if wanted.isdisjoint(stage.joints_left_out))
