"""Nobody can tell who checked a joint."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.making.log_gap import log_gaps
from witnessmark.checks.making.pressed_joints import pressed_joints
from witnessmark.model.finding import Rule, Severity
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="checker-unknown",
    question="Is it known of every checked joint who checked it?",
    severity=Severity.BREAKS,
    closes="Write the register code of whoever checked the joint in its row; where nobody remembers, have it checked again while it can be seen.",
    whose="the contractor handing over",
    what="The checker of every pressed joint whose row says that it was checked.",
    why="The check is worth something because a second person made it; without a code it may have been the first.",
    example="System LTHW: for none of 212 joints does the joint log say who checked it. The cells 'Checker' are empty, or without a match in the operatives table.",
    passes="The row of J014 gives OP-09 as checker, who stands in the operatives table.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every pressed joint that was checked."""
    pressed = pressed_joints(project)
    blank = [joint for joint in pressed.lacking("checker_id") if joint.pressed_check is True]
    checked = pressed.marked("pressed_check", True) if blank else []
    gaps = log_gaps(
        RULE,
        pressed,
        blank,
        checked,
        "checker_id",
        "who checked it",
        state="empty, or without a match in the operatives table",
        remedy=RULE.closes,
    )
    return Answer(pressed.count("pressed_check", True), tuple(gaps))


CHECK = Check(RULE, run)
