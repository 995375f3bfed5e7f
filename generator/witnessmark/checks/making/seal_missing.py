"""A seal was not in place or not clean."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.making.marks import by_section
from witnessmark.checks.making.pressed_joints import pressed_joints
from witnessmark.model.finding import Rule, Severity
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="seal-missing",
    question="Was a clean seal in place at every joint where somebody looked?",
    severity=Severity.BREAKS,
    closes="Cut the joint out, make it anew under a new id and test the section; where the log is wrong, correct the cell and say in the remarks who looked.",
    whose="the subcontractor who made the joints",
    what="Pressed joints whose column 'Seal present' says 'no'. Joints of which the log says nothing are asked for by another question.",
    why="A joint without a seal, or with dirt on it, can pass a test on metal alone and leak with the first change of temperature.",
    example="Joint J014 of section S1: the seal was not in place or not clean.",
    passes="The row of J014 says 'yes' under 'Seal present'.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every pressed joint that the question concerns."""
    pressed = pressed_joints(project)
    wrong = pressed.marked("seal_present", False)
    answered = len(wrong) + pressed.count("seal_present", True)
    return Answer(answered, tuple(by_section(RULE, wrong, "the seal was not in place or not clean", "seal_present")))


CHECK = Check(RULE, run)
