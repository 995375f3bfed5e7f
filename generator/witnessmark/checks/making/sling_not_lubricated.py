"""The segments of a sling were not lubricated."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.making.marks import marks
from witnessmark.checks.making.pressed_joints import METHOD, in_id_order, pressed_joints
from witnessmark.model.finding import Rule, Severity
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="sling-not-lubricated",
    question="Were the segments of the sling lubricated at every joint that needs it?",
    severity=Severity.WEAKENS,
    closes="Have the joint looked at and its outline measured, and write the result in its row; cut out what is not as it should be.",
    whose="the subcontractor who made the joints",
    what="The column 'Sling lubricated' of pressed joints for which the joint method by size and material (an editable table, common practice without a published source) asks for it: 42 to 108 mm.",
    why="A dry segment sticks, and the sling closes on one side before the other.",
    example="Joint J301 of section S4: the sling was not lubricated before the press.",
    passes="The row of J301, 54 mm, says 'yes' under 'Sling lubricated'; nobody asks it of J014, 22 mm.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every pressed joint that the question concerns."""
    pressed = pressed_joints(project)
    joints = in_id_order(
        lot.joints for lot in pressed.lots(*METHOD) if lot.method is not None and lot.method.lubricated
    )
    return marks(
        RULE,
        pressed,
        "lubricated",
        "the sling was not lubricated before the press",
        "whether the sling was lubricated before the press",
        joints,
    )


CHECK = Check(RULE, run)
