"""A fitting was not fully closed, or was distorted, after pressing."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.making.marks import marks
from witnessmark.checks.making.pressed_joints import pressed_joints
from witnessmark.model.finding import Rule, Severity
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="fitting-not-closed",
    question="Was every fitting fully closed and undistorted after the press?",
    severity=Severity.BREAKS,
    closes="Look at the joint again and write what was seen, with a photo; cut out a fitting that is open or distorted, make the joint anew under a new id and test it. Do not press it again.",
    whose="the subcontractor who made the joints",
    what="The column 'Fitting closed' of every pressed joint that is in the pipework. A slight out-of-round that is meant to let an unpressed joint leak is no damage and counts as 'yes'.",
    why="A press that did not run to its end leaves the seal short of its grip.",
    example="Joint J014 of section S1: the fitting was not fully closed, or was distorted, after the press.",
    passes="The row of J014 says 'yes' under 'Fitting closed'; that the fitting is slightly out of round by design does not matter.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every pressed joint that the question concerns."""
    pressed = pressed_joints(project)
    return marks(
        RULE,
        pressed,
        "fitting_closed",
        "the fitting was not fully closed, or was distorted, after the press",
        "whether the fitting was fully closed and undistorted after the press",
    )


CHECK = Check(RULE, run)
