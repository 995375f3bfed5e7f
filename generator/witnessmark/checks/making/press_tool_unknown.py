"""Nobody can tell with which tool a joint was pressed."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.making.log_gap import log_gaps
from witnessmark.checks.making.pressed_joints import pressed_joints
from witnessmark.model.finding import Rule, Severity
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="press-tool-unknown",
    question="Is it known for every joint with which tool it was pressed?",
    severity=Severity.BREAKS,
    closes="Write the register code of the tool in the row, from day sheets or hire notes; else have a sample of these joints cut out and looked at.",
    whose="the subcontractor who made the joints",
    what="The press tool of every pressed joint that is in the pipework.",
    why="A tool out of service presses short, and only the tool's code says which joints it touched.",
    example="System LTHW: for 3 of 212 joints, the first of them J014, the joint log does not say with which tool it was pressed. The cells 'Press tool' are empty, or without a match in the tools table.",
    passes="The row of J014 gives PT-02, which stands in the tools table.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every pressed joint."""
    pressed = pressed_joints(project)
    gaps = log_gaps(
        RULE,
        pressed,
        pressed.lacking("tool_id"),
        pressed.joints,
        "tool_id",
        "with which tool it was pressed",
        state="empty, or without a match in the tools table",
        remedy=RULE.closes,
    )
    return Answer(len(pressed.joints), tuple(gaps))


CHECK = Check(RULE, run)
