"""Yes-or-no columns of the joint log, each a step of the work: a 'no' fails by section, a blank is a gap of the system."""

from collections import defaultdict
from collections.abc import Sequence
from operator import attrgetter

from witnessmark.checks.joint_groups import finding_of, named
from witnessmark.checks.judgement import Answer
from witnessmark.checks.making.log_gap import log_gaps
from witnessmark.checks.making.pressed_joints import PressedJoints
from witnessmark.model.finding import Finding, Outcome, Rule, Subject
from witnessmark.model.records import Joint


def marks(
    rule: Rule, pressed: PressedJoints, field: str, fault: str, question: str, joints: list[Joint] | None = None
) -> Answer:
    """Ask one column of ``joints``, or of every pressed joint.

    ``fault`` is what a 'no' says: 'the insertion depth was not marked'; ``question`` what a blank leaves open:
    'whether the insertion depth was marked'.
    """
    if joints is None:
        concerned, wrong, blank = pressed.joints, pressed.marked(field, False), pressed.marked(field, None)
    else:
        value = attrgetter(field)
        concerned = joints
        wrong = [joint for joint in concerned if value(joint) is False]
        blank = [joint for joint in concerned if value(joint) is None]
    findings = by_section(rule, wrong, fault, field)
    findings += log_gaps(rule, pressed, blank, concerned, field, question)
    return Answer(len(concerned), tuple(findings))


def by_section(rule: Rule, wrong: Sequence[Joint], fault: str, field: str) -> list[Finding]:
    """One finding a section of joints that share a fault; a joint of no section has one of its own."""
    groups: dict[Subject, list[Joint]] = defaultdict(list)
    for joint in wrong:
        groups[section_subject(joint)].append(joint)
    return [
        finding_of(rule, Outcome.FAIL, group, subject, f"{named(group)}{_of(subject)}: {fault}.", field)
        for subject, group in groups.items()
    ]


def section_subject(joint: Joint) -> Subject:
    """The section of the joint, or the joint itself where it has none."""
    return Subject("section", joint.section_id) if joint.section_id else Subject("joint", joint.joint_id)


def _of(subject: Subject) -> str:
    return f" of section {subject.id}" if subject.kind == "section" else ""
