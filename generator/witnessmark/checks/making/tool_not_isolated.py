"""A press tool was not cut off from its supply when its jaw was changed."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.making.marks import marks
from witnessmark.checks.making.pressed_joints import pressed_joints
from witnessmark.model.finding import Rule, Severity
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="tool-not-isolated",
    question="Was the press tool cut off from its supply whenever the jaw was changed?",
    severity=Severity.TIDY,
    closes="Remind the gang how jaws are changed, and write it in the log from now on; where the log only left it blank, let whoever pressed the joint say so in the row.",
    whose="the subcontractor who made the joints",
    what="The column 'Tool isolated' of every pressed joint that is in the pipework. It says nothing of the joint, but of the people who made it.",
    why="A tool that starts while a hand is between its jaws takes fingers.",
    example="Joint J014 of section S1: the tool was not cut off from its supply when the jaw was changed.",
    passes="The row of J014 says 'yes' under 'Tool isolated'.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every pressed joint that the question concerns."""
    pressed = pressed_joints(project)
    return marks(
        RULE,
        pressed,
        "tool_isolated",
        "the tool was not cut off from its supply when the jaw was changed",
        "whether the tool was cut off from its supply when the jaw was changed",
    )


CHECK = Check(RULE, run)
