"""What the cell 'Leaks found' of a test says: none, or which joints."""

import re
from collections.abc import Iterable

from witnessmark.model.project import Project
from witnessmark.model.records import Joint, TestStage

_NONE = frozenset(
    {"", "none", "no", "nil", "n", "-", "–", "—", "0", "no leaks", "no leak", "none found", "no leaks found"}
)


def leaked(stage: TestStage) -> bool:
    """Whether a stage says that something leaked."""
    return stage.leaks_found is not None and stage.leaks_found.strip().rstrip(".").casefold() not in _NONE


def leaking_joints(project: Project, stage: TestStage) -> list[Joint]:
    """Joints of the sections under test whose ids stand in the cell, whole and as written."""
    text = stage.leaks_found or ""
    candidates: Iterable[Joint] = (
        joint for section_id in stage.section_ids for joint in project.joints_of_section.get(section_id, ())
    )
    named = {
        joint.joint_id: joint
        for joint in candidates
        if joint.joint_id in text and re.search(rf"(?<![\w-]){re.escape(joint.joint_id)}(?![\w-])", text)
    }
    return [named[joint_id] for joint_id in sorted(named)]
