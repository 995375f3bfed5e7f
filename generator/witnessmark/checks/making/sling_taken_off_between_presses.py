"""The sling was taken off between the first and the second press."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.making.marks import marks
from witnessmark.checks.making.pressed_joints import METHOD, in_id_order, pressed_joints
from witnessmark.model.finding import Rule, Severity
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="sling-taken-off-between-presses",
    question="Did the sling stay on between the first and the second press?",
    severity=Severity.BREAKS,
    closes="Have the joint looked at by whom the maker of the fitting names, and write the result in its row; else cut it out, make it anew under a new id and test it.",
    whose="the subcontractor who made the joints",
    what="The column 'Sling left on' of pressed joints for which the joint method by size and material (an editable table, common practice without a published source) asks for it: 108 mm.",
    why="A sling that was taken off does not come back to the same place, and the second press does not go on where the first ended.",
    example="Joint J402 of section S9: the sling was taken off between the first and the second press.",
    passes="The row of J402, 108 mm, says 'yes' under 'Sling left on'.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every pressed joint that the question concerns."""
    pressed = pressed_joints(project)
    joints = in_id_order(
        lot.joints for lot in pressed.lots(*METHOD) if lot.method is not None and lot.method.sling_left_on
    )
    return marks(
        RULE,
        pressed,
        "sling_left_on",
        "the sling was taken off between the first and the second press",
        "whether the sling stayed on between the two presses",
        joints,
    )


CHECK = Check(RULE, run)
