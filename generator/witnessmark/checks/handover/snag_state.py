"""What the row of a snag says of its state."""

from witnessmark.model.project import Project
from witnessmark.model.records import Snag


def claims_closed(snag: Snag) -> bool:
    """Whether the row says that the snag is closed: a day, or a role, of closing."""
    return snag.closed_on is not None or bool(snag.closed_by_role)


def snag_sections(project: Project, snag: Snag, section_of_joint: dict[str, str]) -> tuple[str, ...]:
    """Sections that a snag names, and those of the joints that it names."""
    joints = (section_of_joint.get(name) for name in snag.joint_ids)
    found = [*snag.section_ids, *(name for name in joints if name is not None)]
    return tuple(sorted(name for name in dict.fromkeys(found) if name in project.sections))


def sections_of_joints(project: Project, snags: list[Snag]) -> dict[str, str]:
    """Section of every joint that a snag names."""
    named = {name for snag in snags for name in snag.joint_ids}
    if not named:
        return {}
    return {
        joint.joint_id: joint.section_id
        for joint in project.records.joints
        if joint.joint_id in named and joint.section_id is not None
    }
