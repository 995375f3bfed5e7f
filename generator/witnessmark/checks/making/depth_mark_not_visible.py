"""The depth mark is not at the mouth of the fitting after pressing."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.making.marks import marks
from witnessmark.checks.making.pressed_joints import pressed_joints
from witnessmark.model.finding import Rule, Severity
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="depth-mark-not-visible",
    question="Was the depth mark still at the mouth of every fitting after the press?",
    severity=Severity.BREAKS,
    closes="Look at the joint again and photograph mark and fitting; where the mark does not stand at the mouth of the fitting, cut the joint out, make it anew under a new id and test it.",
    whose="the subcontractor who made the joints",
    what="The column 'Mark at the mouth' of every pressed joint that is in the pipework.",
    why="The mark shows that the tube did not move while it was pressed; a mark that is gone, or stands off, is a joint of unknown depth.",
    example="Joint J014 of section S1: after the press the depth mark was not to be seen at the mouth of the fitting.",
    passes="The row of J014 says 'yes' under 'Mark at the mouth'.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every pressed joint that the question concerns."""
    pressed = pressed_joints(project)
    return marks(
        RULE,
        pressed,
        "depth_mark_visible",
        "after the press the depth mark was not to be seen at the mouth of the fitting",
        "whether the depth mark stood at the mouth of the fitting after the press",
    )


CHECK = Check(RULE, run)
