"""Nobody recorded that a seal was looked for."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.making.log_gap import log_gaps
from witnessmark.checks.making.pressed_joints import pressed_joints
from witnessmark.model.finding import Rule, Severity
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="seal-not-checked",
    question="Is it recorded for every joint that its seal was looked for before the press?",
    severity=Severity.WEAKENS,
    closes="Write 'yes' or 'no' in the row, from the day sheets; where nobody remembers, name the certificate that shows that the seals came fitted by the factory, in the remarks.",
    whose="the subcontractor who made the joints",
    what="The column 'Seal present' of every pressed joint that is in the pipework. What a 'no' means is another question.",
    why="A seal falls out in the box, and nobody sees it once the tube is in.",
    example="System LTHW: for none of 212 joints does the joint log say whether the seal was in place and clean. The cells 'Seal present' are empty or could not be read.",
    passes="The row of J014 says 'yes' under 'Seal present'.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every pressed joint that the question concerns."""
    pressed = pressed_joints(project)
    blank = pressed.marked("seal_present", None)
    gaps = log_gaps(
        RULE,
        pressed,
        blank,
        pressed.joints,
        "seal_present",
        "whether the seal was in place and clean",
        remedy=RULE.closes,
    )
    return Answer(len(pressed.joints), tuple(gaps))


CHECK = Check(RULE, run)
