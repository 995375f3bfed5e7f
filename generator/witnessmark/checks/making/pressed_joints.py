"""The joints to which the questions on pressing are put, gathered once for all of these questions.

Two dozen questions each look at a hundred thousand joints, of which nearly all are alike. Joints that are alike in what a
question asks stand in one lot, look or pattern, and the question is put once to each of these.
"""

import datetime
import weakref
from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property
from operator import attrgetter
from typing import Any, cast

from witnessmark.checks.joint_groups import asked
from witnessmark.model.joint_method import JointMethod, joint_method
from witnessmark.model.project import Project
from witnessmark.model.records import Batch, Joint

NO_SYSTEM = "no system"
MARKS = (
    "cut_square", "deburred", "seal_present", "depth_marked", "fully_inserted", "lubricated", "tool_isolated",
    "depth_mark_visible", "fitting_closed", "sling_left_on", "excess_wiped", "marked_complete", "pressed_check",
    "coating_stripped",
)  # fmt: skip
"""Columns that say yes or no."""
METHOD = ("od_mm", "material_tube")
"""Columns that settle the method of a joint."""
_OF_SECTION = {"section_family": "system_family", "section_seal": "seal"}


class Lot:
    """Joints that are alike in the columns by which they were put together; any other column is no attribute of it."""

    __slots__ = ("_batches", "adapter_id", "checker_id", "family", "fitting_batch_id", "jaw_id", "joint_type", "joints",
                 "material_tube", "od_mm", "operative_id", "press_count", "press_date", "press_profile", "seal",
                 "section_family", "section_id", "section_seal", "system_family", "tool_id", "tube_batch_id")  # fmt: skip
    operative_id: str | None
    checker_id: str | None
    tool_id: str | None
    jaw_id: str | None
    adapter_id: str | None
    fitting_batch_id: str | None
    tube_batch_id: str | None
    od_mm: float | None
    material_tube: str | None
    system_family: str | None
    press_profile: str | None
    seal: str | None
    joint_type: str | None
    press_count: int | None
    press_date: datetime.date | None
    section_id: str | None
    section_family: str | None
    section_seal: str | None
    family: str | None
    """The system family that the joints' rows give, or their fitting batch, or their section."""

    def __init__(
        self, fields: Sequence[str], values: Sequence[object], batches: dict[str, Batch], joints: list[Joint]
    ) -> None:
        for field, value in zip(fields, values, strict=True):
            setattr(self, field, value)
        self._batches = batches
        self.joints = joints

    def told(self, field: str) -> set[Any]:
        """What the joints say in a column of the joint log."""
        return set(map(attrgetter(field), self.joints))

    @property
    def fitting(self) -> Batch | None:
        """The fitting batch, by its id."""
        return self._batches.get(self.fitting_batch_id or "")

    @property
    def method(self) -> JointMethod | None:
        """The joint method, by size and material."""
        return joint_method(self.od_mm, self.material_tube)

    @property
    def presses_needed(self) -> int:
        """By the method, and two where the rows call it a two-stage press."""
        method = self.method
        return max(method.presses if method else 1, 2 if self.joint_type == "two_stage_press" else 1)


@dataclass(frozen=True, slots=True)
class Look:
    """Joints of a section pressed on one day and checked on one day."""

    section_id: str | None
    press_date: datetime.date | None
    check_date: datetime.date | None
    joints: list[Joint]


class PressedJoints:
    """Pressed joints in the order of their ids, so that no finding depends on the order of the rows."""

    def __init__(self, project: Project) -> None:
        there = [joint for joint in project.records.joints if asked(joint)]
        self.joints = sorted(there, key=attrgetter("joint_id"))
        self._sections = project.sections
        self._batches = project.batches
        self._columns: dict[str, list[object]] = {}
        self._lots: dict[tuple[str, ...], list[Lot]] = {}
        self._days: dict[str, dict[str, dict[datetime.date | None, list[Joint]]]] = {}

    def _column(self, field: str) -> list[object]:
        """What all joints say in one column: to go through the values again is quick, through the joints it is not."""
        if field not in self._columns:
            if field in _OF_SECTION:
                value = attrgetter(_OF_SECTION[field])
                of_section = {name: value(section) for name, section in self._sections.items()}
                self._columns[field] = list(map(of_section.get, cast(list[str], self._column("section_id"))))
            elif field == "family":
                self._columns[field] = self._families()
            else:
                self._columns[field] = list(map(attrgetter(field), self.joints))
        return self._columns[field]

    def _families(self) -> list[object]:
        """The system family that each joint's row gives, or its fitting batch, or its section."""
        batches = {name: batch.system_family for name, batch in self._batches.items()}
        columns = (self._column(field) for field in ("system_family", "fitting_batch_id", "section_family"))
        return [
            own or batches.get(cast(str, fitting)) or of_section
            for own, fitting, of_section in zip(*columns, strict=True)
        ]

    def lots(self, *fields: str) -> list[Lot]:
        """All joints, put together by what they say in these columns; names of a lot's attributes."""
        if fields not in self._lots:
            found: dict[tuple[object, ...], list[Joint]] = defaultdict(list)
            columns = [self._column(field) for field in fields]
            for joint, values in zip(self.joints, zip(*columns, strict=True), strict=True):
                found[values].append(joint)
            self._lots[fields] = [Lot(fields, values, self._batches, joints) for values, joints in found.items()]
        return self._lots[fields]

    @cached_property
    def looks(self) -> list[Look]:
        """All joints, by section, press date and check date."""
        key = attrgetter("section_id", "press_date", "check_date")
        groups: dict[tuple[str | None, datetime.date | None, datetime.date | None], list[Joint]] = defaultdict(list)
        for joint in self.joints:
            groups[key(joint)].append(joint)
        return [Look(*values, joints) for values, joints in groups.items()]

    @cached_property
    def _patterns(self) -> dict[tuple[bool | None, ...], list[Joint]]:
        key = attrgetter(*MARKS)
        groups: dict[tuple[bool | None, ...], list[Joint]] = defaultdict(list)
        for joint in self.joints:
            groups[key(joint)].append(joint)
        return groups

    def marked(self, field: str, value: bool | None) -> list[Joint]:
        """Joints whose column ``field``, one of :data:`MARKS`, says that."""
        at = MARKS.index(field)
        return in_id_order(joints for marks, joints in self._patterns.items() if marks[at] is value)

    def count(self, field: str, value: bool | None) -> int:
        """How many joints :meth:`marked` would give."""
        at = MARKS.index(field)
        return sum(len(joints) for marks, joints in self._patterns.items() if marks[at] is value)

    @property
    def undated_checks(self) -> list[Joint]:
        """Joints without a check date."""
        return in_id_order(look.joints for look in self.looks if look.check_date is None)

    def lacking(self, field: str) -> list[Joint]:
        """Joints whose column ``field``, one that a lot can have, says nothing."""
        return [joint for joint, value in zip(self.joints, self._column(field), strict=True) if value is None]

    def by_jaw(self, *fields: str) -> dict[str, list[Lot]]:
        """Lots by the jaw or sling that their rows name, put together by it and by ``fields``."""
        groups: dict[str, list[Lot]] = defaultdict(list)
        for lot in self.lots("jaw_id", *fields):
            if lot.jaw_id is not None:
                groups[lot.jaw_id].append(lot)
        return dict(groups)

    def days_of(self, field: str) -> dict[str, dict[datetime.date | None, list[Joint]]]:
        """Joints by the tool that ``field`` ('tool_id' or 'jaw_id') names, and by press date."""
        if field in self._days:
            return self._days[field]
        tool = attrgetter(field)
        used: dict[str, dict[datetime.date | None, list[Joint]]] = defaultdict(dict)
        for lot in self.lots(field, "press_date"):
            name = tool(lot)
            if name is not None:
                used[name][lot.press_date] = lot.joints
        self._days[field] = dict(used)
        return self._days[field]

    def system_of(self, section_id: str | None) -> str:
        """Id of the system that a section belongs to, or 'no system'."""
        section = self._sections.get(section_id or "")
        return (section.system_id if section is not None else None) or NO_SYSTEM

    @cached_property
    def per_section(self) -> Counter[str]:
        """How many pressed joints each section has."""
        counts: Counter[str] = Counter()
        for look in self.looks:
            if look.section_id is not None:
                counts[look.section_id] += len(look.joints)
        return counts

    @cached_property
    def per_system(self) -> Counter[str]:
        """How many pressed joints each system has."""
        counts: Counter[str] = Counter()
        for look in self.looks:
            counts[self.system_of(look.section_id)] += len(look.joints)
        return counts


def in_id_order(groups: Iterable[list[Joint]]) -> list[Joint]:
    """The joints of all groups in one list, by id."""
    lists = list(groups)
    return sorted((joint for joints in lists for joint in joints), key=attrgetter("joint_id"))


_latest: list[tuple[weakref.ref[Project], PressedJoints]] = []


def pressed_joints(project: Project) -> PressedJoints:
    """Those of this project; the last project's are kept as long as it lives, since two dozen questions share them."""
    for reference, kept in _latest:
        if reference() is project:
            return kept
    gathered = PressedJoints(project)
    _latest[:] = [(weakref.ref(project), gathered)]
    return gathered
