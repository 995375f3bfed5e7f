"""The joints to which the questions on pressing are put, gathered once for all of these questions.

Two dozen questions each look at a hundred thousand joints, of which nearly all are alike. Joints that are alike in what a
question asks stand in one lot, shift, look or pattern, and the question is put once to each of these.
"""

import datetime
import weakref
from collections import Counter, defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property
from operator import attrgetter

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
_LOT = (
    "operative_id", "checker_id", "tool_id", "jaw_id", "adapter_id", "fitting_batch_id", "tube_batch_id", "od_mm",
    "material_tube", "system_family", "press_profile", "seal", "joint_type", "press_count",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Lot:
    """Joints made by the same hands, with the same tools, out of the same batches, to the same method."""

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
    section_family: str | None
    section_seal: str | None
    fitting: Batch | None
    method: JointMethod | None
    joints: list[Joint]

    @property
    def family(self) -> str | None:
        """The system family that the joints' rows give, or their fitting batch, or their section."""
        return self.system_family or (self.fitting.system_family if self.fitting else None) or self.section_family

    @property
    def presses_needed(self) -> int:
        """By the method, and two where the rows call it a two-stage press."""
        return max(self.method.presses if self.method else 1, 2 if self.joint_type == "two_stage_press" else 1)


@dataclass(frozen=True, slots=True)
class Shift:
    """Joints of a lot pressed on one day."""

    lot: Lot
    day: datetime.date | None
    joints: list[Joint]


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
        self.joints = sorted((joint for joint in project.records.joints if asked(joint)), key=attrgetter("joint_id"))
        self._sections = project.sections
        self._batches = project.batches

    @cached_property
    def lots(self) -> list[Lot]:
        """All joints, by lot."""
        key = attrgetter(*_LOT)
        of_section: dict[str | None, tuple[str | None, str | None]] = {
            name: (section.system_family, section.seal) for name, section in self._sections.items()
        }
        nothing = (None, None)
        groups: dict[tuple[object, ...], list[Joint]] = defaultdict(list)
        for joint in self.joints:
            groups[key(joint) + of_section.get(joint.section_id, nothing)].append(joint)
        return [
            Lot(*values, self._batches.get(joints[0].fitting_batch_id or ""), _method(joints[0]), joints)  # type: ignore[arg-type, call-arg]  # as many values as fields, in their order
            for values, joints in groups.items()
        ]

    @cached_property
    def shifts(self) -> list[Shift]:
        """All joints, by lot and press date."""
        shifts = []
        for lot in self.lots:
            days: dict[datetime.date | None, list[Joint]] = defaultdict(list)
            for joint in lot.joints:
                days[joint.press_date].append(joint)
            shifts += [Shift(lot, day, joints) for day, joints in days.items()]
        return shifts

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
        """Joints whose column ``field``, one of those that make a lot, says nothing."""
        value = attrgetter(field)
        return in_id_order(lot.joints for lot in self.lots if value(lot) is None)

    @cached_property
    def by_jaw(self) -> dict[str, list[Lot]]:
        """Lots by the jaw or sling that their rows name."""
        groups: dict[str, list[Lot]] = defaultdict(list)
        for lot in self.lots:
            if lot.jaw_id is not None:
                groups[lot.jaw_id].append(lot)
        return dict(groups)

    def days_of(self, field: str) -> dict[str, dict[datetime.date | None, list[Joint]]]:
        """Joints by the tool that ``field`` ('tool_id' or 'jaw_id') names, and by press date."""
        tool = attrgetter(field)
        used: dict[str, dict[datetime.date | None, list[Joint]]] = defaultdict(lambda: defaultdict(list))
        for shift in self.shifts:
            name = tool(shift.lot)
            if name is not None:
                used[name][shift.day] += shift.joints
        return {name: dict(days) for name, days in used.items()}

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


def _method(joint: Joint) -> JointMethod | None:
    return joint_method(joint.od_mm, joint.material_tube)


_latest: list[tuple[weakref.ref[Project], PressedJoints]] = []


def pressed_joints(project: Project) -> PressedJoints:
    """Those of this project; the last project's are kept as long as it lives, since two dozen questions share them."""
    for reference, kept in _latest:
        if reference() is project:
            return kept
    gathered = PressedJoints(project)
    _latest[:] = [(weakref.ref(project), gathered)]
    return gathered
