"""The tube was not inserted to the mark."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.making.marks import marks
from witnessmark.checks.making.pressed_joints import pressed_joints
from witnessmark.model.finding import Rule, Severity
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="tube-not-fully-inserted",
    question="Was the tube fully inserted at every joint?",
    severity=Severity.BREAKS,
    closes="Cut the joint out, make it anew under a new id and test the section; where the log is wrong, correct the cell and add a photo of mark and fitting.",
    whose="the subcontractor who made the joints",
    what="The column 'Fully inserted' of every pressed joint that is in the pipework.",
    why="A short insertion leaves too little tube under the press: it may hold at test and let go years later.",
    example="Joint J014 of section S1: the tube was not inserted to the mark.",
    passes="The row of J014 says 'yes' under 'Fully inserted'.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every pressed joint that the question concerns."""
    pressed = pressed_joints(project)
    return marks(
        RULE,
        pressed,
        "fully_inserted",
        "the tube was not inserted to the mark",
        "whether the tube was inserted to the mark",
    )


CHECK = Check(RULE, run)
