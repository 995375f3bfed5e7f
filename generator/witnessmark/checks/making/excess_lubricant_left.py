"""Excess lubricant was left on a joint."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.making.marks import marks
from witnessmark.checks.making.pressed_joints import METHOD, in_id_order, pressed_joints
from witnessmark.model.finding import Rule, Severity
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="excess-lubricant-left",
    question="Was the excess lubricant wiped off every joint that was pressed with a sling?",
    severity=Severity.TIDY,
    closes="Wipe the joint clean before it is insulated and write it in its row.",
    whose="the subcontractor who made the joints",
    what="The column 'Excess wiped' of pressed joints for which the joint method by size and material (an editable table, common practice without a published source) asks for it: 42 to 108 mm.",
    why="Lubricant that stays attracts dirt, and looks like a leak to whoever comes next.",
    example="Joint J301 of section S4: the excess lubricant was not wiped off.",
    passes="The row of J301, 54 mm, says 'yes' under 'Excess wiped'.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every pressed joint that the question concerns."""
    pressed = pressed_joints(project)
    joints = in_id_order(
        lot.joints for lot in pressed.lots(*METHOD) if lot.method is not None and lot.method.excess_wiped
    )
    return marks(
        RULE,
        pressed,
        "excess_wiped",
        "the excess lubricant was not wiped off",
        "whether the excess lubricant was wiped off",
        joints,
    )


CHECK = Check(RULE, run)
