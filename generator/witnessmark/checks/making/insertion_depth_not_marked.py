"""The insertion depth was not marked on the tube before pressing."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.making.marks import marks
from witnessmark.checks.making.pressed_joints import pressed_joints
from witnessmark.model.finding import Rule, Severity
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="insertion-depth-not-marked",
    question="Was the insertion depth marked at every joint before it was pressed?",
    severity=Severity.BREAKS,
    closes="Have the joint measured and photographed against the insertion depth of the fitting and write the result in its row; cut out a joint that cannot be measured, make it anew under a new id and test it.",
    whose="the subcontractor who made the joints",
    what="The column 'Depth marked' of every pressed joint that is in the pipework.",
    why="A tube that is only partly inserted holds under test and slides out in service; without a mark nobody can see how far it went in.",
    example="Joint J014 of section S1: the insertion depth was not marked before the press.",
    passes="The row of J014 says 'yes' under 'Depth marked'.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every pressed joint that the question concerns."""
    pressed = pressed_joints(project)
    return marks(
        RULE,
        pressed,
        "depth_marked",
        "the insertion depth was not marked before the press",
        "whether the insertion depth was marked before the press",
    )


CHECK = Check(RULE, run)
