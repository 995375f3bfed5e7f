"""A joint was pressed fewer times than its size needs."""

from collections import defaultdict

from witnessmark.checks.joint_groups import finding_of, named
from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.making.log_gap import log_gaps
from witnessmark.checks.making.marks import section_subject
from witnessmark.checks.making.pressed_joints import METHOD, in_id_order, pressed_joints
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Joint
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="pressed-too-few-times",
    question="Was every joint pressed as many times as its size needs?",
    severity=Severity.BREAKS,
    closes="Correct the number if the log is wrong and say what shows it; else cut the joint out, make it anew under a new id and test it.",
    whose="the subcontractor who made the joints",
    what="The column 'Presses' against the joint method by size and material (an editable table, common practice without a published source): one press up to 89 mm, two at 108 mm and for every two-stage press. A blank is asked about only where more than one press is needed.",
    why="After the first of two presses the joint looks closed and is not.",
    example="Joint J402 of section S9 needs 2 presses; the log counts 1.",
    passes="Joint J402 of 108 mm was pressed twice, and its row says '2' under 'Presses'.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every pressed joint that gives its presses or needs more than one."""
    pressed = pressed_joints(project)
    wrong: dict[tuple[Subject, int, int], list[Joint]] = defaultdict(list)
    several: list[list[Joint]] = []
    blank: list[list[Joint]] = []
    examined = 0
    for lot in pressed.lots(*METHOD, "joint_type", "press_count"):
        needed = lot.presses_needed
        if needed > 1:
            several.append(lot.joints)
        if lot.press_count is None:
            if needed > 1:
                blank.append(lot.joints)
            continue
        examined += len(lot.joints)
        if lot.press_count < needed:
            for joint in lot.joints:
                wrong[section_subject(joint), needed, lot.press_count].append(joint)
    unknown = in_id_order(blank)
    findings = [
        _finding(subject, needed, count, in_id_order([group])) for (subject, needed, count), group in wrong.items()
    ]
    findings += log_gaps(RULE, pressed, unknown, in_id_order(several), "press_count", "how many times it was pressed")
    return Answer(examined + len(unknown), tuple(findings))


def _finding(subject: Subject, needed: int, count: int, joints: list[Joint]) -> Finding:
    of = f" of section {subject.id}" if subject.kind == "section" else ""
    presses = f"{needed} press" if needed == 1 else f"{needed} presses"
    need = "needs" if len(joints) == 1 else "need"
    each = "" if len(joints) == 1 else " for each"
    message = f"{named(joints)}{of} {need} {presses}; the log counts {count or 'none'}{each}."
    return finding_of(RULE, Outcome.FAIL, joints, subject, message, "press_count")


CHECK = Check(RULE, run)
