"""Holds of different tests that overlap in time: what one gauge, tester or witness cannot be at together."""

import datetime
from collections import defaultdict
from collections.abc import Callable, Iterable
from dataclasses import dataclass

from witnessmark.checks.anomalies.level_words import levels
from witnessmark.model.project import Project
from witnessmark.model.records import TestStage


@dataclass(frozen=True, slots=True)
class Hold:
    """One hold with its day and times in minutes; a hold that ends before it began ends on the day after."""

    test: TestStage
    day: datetime.date
    start: int
    end: int

    @property
    def words(self) -> str:
        """'test PT-014 (09:30 to 10:30)'."""
        return f"test {self.test.test_id} ({_clock(self.start)} to {_clock(self.end)})"


def _clock(minutes: int) -> str:
    return f"{minutes // 60 % 24:02d}:{minutes % 60:02d}"


def timed(tests: Iterable[TestStage]) -> list[Hold]:
    """The holds of which day, start and end are recorded."""
    holds = []
    for test in tests:
        if test.date is not None and test.start_time is not None and test.end_time is not None:
            base = test.date.toordinal() * 1440
            start = base + test.start_time.hour * 60 + test.start_time.minute
            end = base + test.end_time.hour * 60 + test.end_time.minute
            holds.append(Hold(test, test.date, start, end if end >= start else end + 1440))
    return holds


def clashes(
    holds: Iterable[Hold], key: Callable[[Hold], str | None], apart: Callable[[Hold, Hold], bool]
) -> dict[tuple[str, datetime.date], list[Hold]]:
    """Holds that overlap one of another test from which they are ``apart``, by key and day, in order of time.

    Holds that touch (one ends at 10:30, the next begins at 10:30) do not overlap.
    """
    by_key: dict[str, list[Hold]] = defaultdict(list)
    for hold in holds:
        name = key(hold)
        if name is not None and hold.end > hold.start:
            by_key[name].append(hold)
    found: dict[tuple[str, datetime.date], dict[int, Hold]] = defaultdict(dict)
    for name, group in by_key.items():
        group.sort(key=lambda hold: (hold.start, hold.end, hold.test.test_id, hold.test.stage or ""))
        running: list[Hold] = []
        for hold in group:
            running = [other for other in running if other.end > hold.start]
            for other in running:
                if other.test.test_id != hold.test.test_id and apart(other, hold):
                    clash = found[name, other.day]
                    clash[id(other)], clash[id(hold)] = other, hold
                    break
            running.append(hold)
    return {place: list(held.values()) for place, held in sorted(found.items())}


def no_section_in_common(one: Hold, other: Hold) -> bool:
    """Whether both tests name sections and none is in both."""
    held, also = one.test.section_ids, other.test.section_ids
    return bool(held) and bool(also) and set(held).isdisjoint(also)


class TestLevels:
    """Levels that the sections of a test run through."""

    __test__ = False

    def __init__(self, project: Project) -> None:
        self._of_section = {section.section_id: levels(section.level) for section in project.records.sections}

    def of(self, test: TestStage) -> frozenset[int] | None:
        """All levels of the sections under test; ``None`` where that of any is not known in figures."""
        together: set[int] = set()
        for section_id in test.section_ids:
            known = self._of_section.get(section_id)
            if not known:
                return None
            together |= known
        return frozenset(together) or None
