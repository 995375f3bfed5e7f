"""The tube was not cut square."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.making.marks import marks
from witnessmark.checks.making.pressed_joints import pressed_joints
from witnessmark.model.finding import Rule, Severity
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="tube-not-cut-square",
    question="Was the tube cut square at every joint?",
    severity=Severity.WEAKENS,
    closes="Say in the row what was done about it and add a photo, or cut the joint out, make it anew under a new id and test it.",
    whose="the subcontractor who made the joints",
    what="The column 'Cut square' of every pressed joint that is in the pipework.",
    why="A slanting end sits deep on one side and short on the other, and its edge can catch the seal.",
    example="Joint J014 of section S1: the tube was not cut square.",
    passes="The row of J014 says 'yes' under 'Cut square'.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every pressed joint that the question concerns."""
    pressed = pressed_joints(project)
    return marks(RULE, pressed, "cut_square", "the tube was not cut square", "whether the tube was cut square")


CHECK = Check(RULE, run)
