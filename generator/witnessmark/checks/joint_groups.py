"""Joints that share a fault are one finding: the tool, operative, batch or section behind it, and every joint it touches."""

from collections.abc import Sequence

from witnessmark.model.finding import Finding, Outcome, Rule, Subject
from witnessmark.model.records import Joint
from witnessmark.model.source import SourceLocation

NOT_THERE = frozenset({"void", "planned", "cut_out"})
"""States of a joint of which nothing is asked: it is not in the pipework."""
PRESSED = frozenset({None, "press", "two_stage_press", "transition"})
"""Kinds of joint to which the questions on pressing apply; a joint whose kind is not recorded counts as pressed."""
_PLACES = 20


def asked(joint: Joint) -> bool:
    """Whether the questions on pressing are put to this joint."""
    return joint.status not in NOT_THERE and joint.joint_type in PRESSED


def named(joints: Sequence[Joint]) -> str:
    """'Joint J014', 'Joints J014 and J015', or '212 joints, the first of them J014'."""
    if len(joints) == 1:
        return f"Joint {joints[0].joint_id}"
    if len(joints) == 2:
        one, other = sorted(joint.joint_id for joint in joints)
        return f"Joints {one} and {other}"
    return f"{len(joints):,} joints, the first of them {min(joint.joint_id for joint in joints)},"


def finding_of(
    rule: Rule,
    outcome: Outcome,
    joints: Sequence[Joint],
    subject: Subject,
    message: str,
    field: str,
    *,
    remedy: str = "",
    whose: str = "",
    location: SourceLocation | None = None,
    related: Sequence[SourceLocation] = (),
) -> Finding:
    """One finding about all of ``joints``; ``field`` is the joint column to look at, ``location`` a better place."""
    first = location or joints[0].source.place(field)
    places = [*related, *(joint.source.place(field) for joint in joints[:_PLACES])]
    return Finding(
        rule,
        outcome,
        message,
        remedy or rule.closes,
        subject,
        first,
        tuple(place for place in dict.fromkeys(places) if place != first),
        whose or rule.whose,
        tuple(dict.fromkeys(joint.section_id for joint in joints if joint.section_id is not None)),
        tuple(dict.fromkeys(joint.joint_id for joint in joints)),
    )
