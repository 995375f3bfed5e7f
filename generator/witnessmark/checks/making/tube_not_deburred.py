"""The tube was not deburred."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.making.marks import marks
from witnessmark.checks.making.pressed_joints import pressed_joints
from witnessmark.model.finding import Rule, Severity
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="tube-not-deburred",
    question="Was the tube deburred inside and out at every joint?",
    severity=Severity.WEAKENS,
    closes="Say in the row what was done about it and add a photo, or cut the joint out, make it anew under a new id and test it.",
    whose="the subcontractor who made the joints",
    what="The column 'Deburred' of every pressed joint that is in the pipework.",
    why="A burr cuts the seal as the tube goes in; the cut may not leak on the day of the test.",
    example="Joint J014 of section S1: the tube was not deburred.",
    passes="The row of J014 says 'yes' under 'Deburred'.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every pressed joint that the question concerns."""
    pressed = pressed_joints(project)
    return marks(
        RULE,
        pressed,
        "deburred",
        "the tube was not deburred inside and out",
        "whether the tube was deburred inside and out",
    )


CHECK = Check(RULE, run)
