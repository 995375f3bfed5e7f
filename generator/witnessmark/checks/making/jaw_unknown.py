"""Nobody can tell with which jaw or sling a joint was pressed."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.making.log_gap import log_gaps
from witnessmark.checks.making.pressed_joints import pressed_joints
from witnessmark.model.finding import Rule, Severity
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="jaw-unknown",
    question="Is it known for every joint with which jaw or sling it was pressed?",
    severity=Severity.BREAKS,
    closes="Write the register code of the jaw or sling in the row; else have the marks on the fitting compared with the jaws of the site and write what was found.",
    whose="the subcontractor who made the joints",
    what="The jaw or sling of every pressed joint that is in the pipework.",
    why="The contour of the jaw must be that of the fitting, and its size that of the tube: without the jaw neither can be shown.",
    example="System LTHW: for 3 of 212 joints, the first of them J014, the joint log does not say with which jaw or sling it was pressed. The cells 'Jaw or sling' are empty, or without a match in the tools table.",
    passes="The row of J014 gives JW-22-1, which stands in the tools table.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every pressed joint."""
    pressed = pressed_joints(project)
    gaps = log_gaps(
        RULE,
        pressed,
        pressed.lacking("jaw_id"),
        pressed.joints,
        "jaw_id",
        "with which jaw or sling it was pressed",
        state="empty, or without a match in the tools table",
        remedy=RULE.closes,
    )
    return Answer(len(pressed.joints), tuple(gaps))


CHECK = Check(RULE, run)
