"""Passed tests that prove a section, and which of them lie after something that was done to its pipe."""

import datetime
import weakref
from collections.abc import Iterable, Sequence

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
    """Stages of sections in the order of time, what procedures ask of them, and the passed stages that prove their joints."""

    def __init__(self, project: Project) -> None:
        self._settings = project.settings
        self._procedures = all_procedures(project.settings)
        self._service = {
            section.section_id: system.service
            for section in project.records.sections
            if (system := project.systems.get(section.system_id or "")) is not None
        }
        self._names: dict[str | None, str] = {}
        self.in_order = tuple(in_time_order(project.records.tests))
        """All stages."""
        by_section: dict[str, dict[str | None, list[TestStage]]] = {}
        passes: dict[str, dict[str | None, list[TestStage]]] = {}
        for stage in self.in_order:
            for section_id in stage.section_ids:
                by_section.setdefault(section_id, {}).setdefault(stage.stage, []).append(stage)
                if stage.result == "pass":
                    passes.setdefault(section_id, {}).setdefault(stage.stage, []).append(stage)
        self.stages = by_section
        """Stages of each section, by name of the stage."""
        self.passes = passes
        """Those recorded as passed."""

    def procedure(self, section_id: str) -> TestProcedure | None:
        """What the service of a section asks for; ``None`` where project.yml does not say."""
        return self._procedures.get(self._settings.testing.get(self._service.get(section_id) or "", ""))

    def stage_name(self, section_id: str) -> str:
        """The stage that proves: strength, or where the procedure has none, the strictest under pressure that it has."""
        service = self._service.get(section_id)
        if service not in self._names:
            procedure = self.procedure(section_id)
            named = {stage.stage for stage in procedure.stages} if procedure is not None else set()
            self._names[service] = next((name for name in _PRESSED if name in named), "strength")
        return self._names[service]

    def of(self, section_id: str) -> Sequence[TestStage]:
        """Passed stages that prove a section, the last of them last."""
        by_name = self.passes.get(section_id)
        return by_name.get(self.stage_name(section_id), ()) if by_name is not None else ()

    def covering(self, section_id: str, joint_ids: Iterable[str]) -> Sequence[TestStage]:
        """Those that leave out none of the joints."""
        wanted = set(joint_ids)
        return [stage for stage in self.of(section_id) if wanted.isdisjoint(stage.joints_left_out)]


_latest: list[tuple[weakref.ref[Project], ProvingTests]] = []


def proving_tests(project: Project) -> ProvingTests:
    """Those of this project; the last project's are kept as long as it lives, since many questions share them."""
    for reference, kept in _latest:
        if reference() is project:
            return kept
    gathered = ProvingTests(project)
    _latest[:] = [(weakref.ref(project), gathered)]
    return gathered
