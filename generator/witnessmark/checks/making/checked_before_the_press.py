"""A joint was checked before it was pressed."""

from collections import defaultdict

from witnessmark.checks.joint_groups import finding_of
from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.making.check_days import checked_on
from witnessmark.checks.making.marks import section_subject
from witnessmark.checks.making.press_days import press_days
from witnessmark.checks.making.pressed_joints import in_id_order, pressed_joints
from witnessmark.model.finding import Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Joint
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="checked-before-the-press",
    question="Was every joint checked on or after the day it was pressed?",
    severity=Severity.BREAKS,
    closes="Correct the date that is wrong, from the day sheets; else have the joint checked again while it can be seen.",
    whose="the contractor handing over",
    what="The day of the check against the press date of every pressed joint whose row gives both; the same day counts.",
    why="What was looked at before the press was not this joint: it was pressed later, or pressed again.",
    example="Joint J014 was checked on 11 May 2026; by the joint log it was pressed on 12 May 2026.",
    passes="Joint J014 was pressed and checked on 12 May 2026.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every pressed joint with both dates."""
    examined = 0
    early: dict[Subject, list[Joint]] = defaultdict(list)
    for look in pressed_joints(project).looks:
        if look.check_date is None or look.press_date is None:
            continue
        examined += len(look.joints)
        if look.check_date < look.press_date:
            for joint in look.joints:
                early[section_subject(joint)].append(joint)
    findings = []
    for subject, group in early.items():
        joints = in_id_order([group])
        message = f"{checked_on(joints)}; by the joint log it was pressed {press_days(joints)}."
        if len(joints) > 1:
            message = f"{checked_on(joints)}; by the joint log they were pressed later, {press_days(joints)}."
        places = [joints[0].source.place("press_date")]
        findings.append(finding_of(RULE, Outcome.FAIL, joints, subject, message, "check_date", related=places))
    return Answer(examined, tuple(findings))


CHECK = Check(RULE, run)
