"""Nobody can tell who pressed a joint."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.making.log_gap import log_gaps
from witnessmark.checks.making.pressed_joints import pressed_joints
from witnessmark.model.finding import Rule, Severity
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="operative-unknown",
    question="Is it known for every joint who pressed it?",
    severity=Severity.BREAKS,
    closes="Write the register code of whoever pressed the joint in its row, from the day sheets; add the person to the operatives table where the code is missing there.",
    whose="the subcontractor who made the joints",
    what="The operative of every pressed joint that is in the pipework. Initials and names count where they match one person of the operatives table and no other.",
    why="Training, tool and method hang on the person; a guarantee asks for trained hands, and initials are no hands.",
    example="System LTHW: for 3 of 212 joints, the first of them J014, the joint log does not say who pressed it. The cells 'Operative' are empty, or without a match in the operatives table.",
    passes="The row of J014 gives OP-03, who stands in the operatives table.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every pressed joint."""
    pressed = pressed_joints(project)
    gaps = log_gaps(
        RULE,
        pressed,
        pressed.lacking("operative_id"),
        pressed.joints,
        "operative_id",
        "who pressed it",
        state="empty, or without a match in the operatives table",
        remedy=RULE.closes,
    )
    return Answer(len(pressed.joints), tuple(gaps))


CHECK = Check(RULE, run)
