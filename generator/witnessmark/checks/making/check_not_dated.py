"""The check of a joint has no date."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.making.log_gap import log_gaps
from witnessmark.checks.making.pressed_joints import pressed_joints
from witnessmark.model.finding import Rule, Severity
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="check-not-dated",
    question="Is it known of every checked joint when it was checked?",
    severity=Severity.BREAKS,
    closes="Write the day of the check in the row; where nobody remembers, have the joint checked again while it can be seen.",
    whose="the contractor handing over",
    what="The day of the check of every pressed joint whose row says that it was checked.",
    why="A check counts if it came before the joint was covered and before the strength test; only a date shows that.",
    example="System LTHW: for 3 of 212 joints, the first of them J014, the joint log does not say when it was checked. The cells 'Checked on' are empty or could not be read.",
    passes="The row of J014 says that it was checked on 12 May 2026.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every pressed joint that was checked."""
    pressed = pressed_joints(project)
    blank = [joint for joint in pressed.undated_checks if joint.pressed_check is True]
    checked = pressed.marked("pressed_check", True) if blank else []
    gaps = log_gaps(
        RULE,
        pressed,
        blank,
        checked,
        "check_date",
        "when it was checked",
        state="empty or could not be read",
        remedy=RULE.closes,
    )
    return Answer(pressed.count("pressed_check", True), tuple(gaps))


CHECK = Check(RULE, run)
