"""A joint was not marked as complete where it can be seen."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.making.marks import marks
from witnessmark.checks.making.pressed_joints import pressed_joints
from witnessmark.model.finding import Rule, Severity
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="joint-not-marked-complete",
    question="Was every joint marked as complete where it can be seen?",
    severity=Severity.TIDY,
    closes="Look at the joint, mark it and write it in its row; a joint that is closed in stays as it is, with a word in the remarks.",
    whose="the subcontractor who made the joints",
    what="The column 'Marked complete' of every pressed joint that is in the pipework.",
    why="An unmarked joint cannot be told from one that was only pushed together.",
    example="Joint J014 of section S1: the joint was not marked as complete.",
    passes="The row of J014 says 'yes' under 'Marked complete'.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every pressed joint that the question concerns."""
    pressed = pressed_joints(project)
    return marks(
        RULE, pressed, "marked_complete", "the joint was not marked as complete", "whether it was marked as complete"
    )


CHECK = Check(RULE, run)
