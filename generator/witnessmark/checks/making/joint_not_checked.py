"""A joint was not looked at after it was pressed."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.making.marks import marks
from witnessmark.checks.making.pressed_joints import pressed_joints
from witnessmark.model.finding import Rule, Severity
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="joint-not-checked",
    question="Was every joint looked at after it was pressed?",
    severity=Severity.BREAKS,
    closes="Have a second person look at the joint while it can be seen, and write who and when; of a joint that is closed in, a photo or an endoscope picture.",
    whose="the contractor handing over",
    what="The column 'Press checked' of every pressed joint that is in the pipework.",
    why="An unpressed joint can hold at test; a second pair of eyes is what finds it.",
    example="Joint J014 of section S1: the check after the press was not made, or did not pass.",
    passes="The row of J014 says 'yes' under 'Press checked'.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every pressed joint that the question concerns."""
    pressed = pressed_joints(project)
    return marks(
        RULE,
        pressed,
        "pressed_check",
        "the check after the press was not made, or did not pass",
        "whether it was looked at after the press",
    )


CHECK = Check(RULE, run)
