"""The joints to which the questions on pressing are put, gathered once for all of these questions."""

import weakref
from collections import Counter, defaultdict
from functools import cached_property
from operator import attrgetter

from witnessmark.checks.joint_groups import asked
from witnessmark.model.joint_method import JointMethod, joint_method
from witnessmark.model.project import Project
from witnessmark.model.records import Joint

NO_SYSTEM = "no system"


class PressedJoints:
    """Pressed joints in the order of their ids, so that no finding depends on the order of the rows."""

    def __init__(self, project: Project) -> None:
        self.joints = sorted((joint for joint in project.records.joints if asked(joint)), key=lambda j: j.joint_id)
        self._sections = project.sections
        self._batches = project.batches

    @cached_property
    def methods(self) -> list[JointMethod | None]:
        """The method of each of :attr:`joints`."""
        return [joint_method(joint.od_mm, joint.material_tube) for joint in self.joints]

    @cached_property
    def slung(self) -> list[tuple[Joint, JointMethod]]:
        """Joints whose method asks for more than a jaw and one press, with it."""
        return [
            (joint, method)
            for joint, method in zip(self.joints, self.methods, strict=True)
            if method is not None and (method.lubricated or method.presses > 1 or method.second_adapter)
        ]

    @cached_property
    def by_tool(self) -> dict[str, list[Joint]]:
        """Joints by the press tool that their rows name."""
        return self._by("tool_id")

    @cached_property
    def by_jaw(self) -> dict[str, list[Joint]]:
        """Joints by the jaw or sling that their rows name."""
        return self._by("jaw_id")

    def _by(self, field: str) -> dict[str, list[Joint]]:
        value = attrgetter(field)
        groups: dict[str, list[Joint]] = defaultdict(list)
        for joint in self.joints:
            tool = value(joint)
            if tool is not None:
                groups[tool].append(joint)
        return dict(groups)

    @cached_property
    def families(self) -> list[str | None]:
        """The system family of each of :attr:`joints`: its own, or its fitting batch's, or its section's."""
        return [self.family_of(joint) for joint in self.joints]

    def family_of(self, joint: Joint) -> str | None:
        """The family that the joint's row gives, or its fitting batch, or its section."""
        if joint.system_family is not None:
            return joint.system_family
        batch = self._batches.get(joint.fitting_batch_id or "")
        if batch is not None and batch.system_family is not None:
            return batch.system_family
        section = self._sections.get(joint.section_id or "")
        return section.system_family if section is not None else None

    def profile_of(self, joint: Joint) -> str | None:
        """The contour that the joint's row gives, or its fitting batch."""
        if joint.press_profile is not None:
            return joint.press_profile
        batch = self._batches.get(joint.fitting_batch_id or "")
        return batch.press_profile if batch is not None else None

    def system_of(self, joint: Joint) -> str:
        """Id of the system that the joint belongs to, or 'no system'."""
        section = self._sections.get(joint.section_id or "")
        return (section.system_id if section is not None else None) or NO_SYSTEM

    @cached_property
    def per_system(self) -> Counter[str]:
        """How many pressed joints each system has."""
        return Counter(self.system_of(joint) for joint in self.joints)


def presses_needed(joint: Joint, method: JointMethod | None) -> int:
    """How many presses the joint needs: by its method, and two where its row calls it a two-stage press."""
    return max(method.presses if method is not None else 1, 2 if joint.joint_type == "two_stage_press" else 1)


_latest: list[tuple[weakref.ref[Project], PressedJoints]] = []


def pressed_joints(project: Project) -> PressedJoints:
    """Those of this project; the last project's are kept as long as it lives, since two dozen questions share them."""
    for reference, kept in _latest:
        if reference() is project:
            return kept
    gathered = PressedJoints(project)
    _latest[:] = [(weakref.ref(project), gathered)]
    return gathered
