"""A joint was pressed again as a repair."""

from collections import defaultdict

from witnessmark.checks.joint_groups import finding_of, named
from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.making.marks import section_subject
from witnessmark.checks.making.pressed_joints import pressed_joints, presses_needed
from witnessmark.checks.making.repair_words import says_pressed_again
from witnessmark.model.day_words import day_words
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Alteration, Joint
from witnessmark.model.source import SourceLocation
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="pressed-again-as-repair",
    question="Was no joint pressed again as a repair?",
    severity=Severity.BREAKS,
    closes="Cut the joint out, make it anew under a new id that names the old one under 'Replaces', and test the section again; where the joint was never pressed again, correct the record that says so.",
    whose="the subcontractor who pressed the joint",
    what="Pressed joints that are still in the pipework: an alteration 'pressed again' that names them, more presses in the log than their size needs, remarks that say so (an editable list of words), and the status 'reworked' without a joint replaced or a record of what was done, which cannot be told. A joint that was cut out and replaced under a new id is right.",
    why="A fitting takes its shape once. A second press over the first cracks it or loosens it, and hides what was wrong.",
    example="Section S1: joint J014 was pressed again on 12 May 2026 by alteration AL-3.",
    passes="Joint J014 leaked and was cut out; J014R was made on 12 May 2026, names J014 under 'Replaces', and was tested on 13 May 2026.",
)

_DONE = frozenset({"cut_out", "replaced"})


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every pressed joint that is still there."""
    pressed = pressed_joints(project)
    alterations, replaced = _alterations(project)
    reasons: dict[Subject, dict[str, list[Joint]]] = defaultdict(lambda: defaultdict(list))
    unclear: dict[Subject, list[Joint]] = defaultdict(list)
    for joint, method in zip(pressed.joints, pressed.methods, strict=True):
        if joint.joint_id in replaced:
            continue
        subject = section_subject(joint)
        found = False
        done = alterations.get(joint.joint_id, ())
        for alteration in done:
            if alteration.kind == "pressed_again":
                on = f" on {day_words(alteration.date)}" if alteration.date is not None else ""
                reasons[subject][f"pressed again{on} by alteration {alteration.alteration_id}"].append(joint)
                found = True
        needed = presses_needed(joint, method)
        if joint.press_count is not None and joint.press_count > needed:
            times = "once" if needed == 1 else f"{needed} times"
            reasons[subject][f"pressed {joint.press_count} times by the log, where {times} is right"].append(joint)
            found = True
        if joint.remarks is not None and says_pressed_again(joint.remarks):
            reasons[subject]["pressed again by the remarks of the log"].append(joint)
            found = True
        reworked = joint.status == "reworked" and joint.replaces_joint is None
        if reworked and not found and not any(alteration.kind in _DONE for alteration in done):
            unclear[subject].append(joint)
    findings = [_finding(subject, by, alterations) for subject, by in reasons.items()]
    findings += [_unclear(subject, joints) for subject, joints in unclear.items()]
    return Answer(len(pressed.joints), tuple(findings))


def _alterations(project: Project) -> tuple[dict[str, list[Alteration]], set[str]]:
    by_joint: dict[str, list[Alteration]] = defaultdict(list)
    for alteration in sorted(project.records.alterations, key=lambda alteration: alteration.alteration_id):
        for joint_id in alteration.joint_ids:
            by_joint[joint_id].append(alteration)
    replaced = {
        joint.replaces_joint for joint in project.records.joints if joint.replaces_joint not in (None, joint.joint_id)
    }
    return by_joint, {joint_id for joint_id in replaced if joint_id is not None}


def _finding(subject: Subject, by: dict[str, list[Joint]], alterations: dict[str, list[Alteration]]) -> Finding:
    clauses = []
    for reason, joints in sorted(by.items()):
        who = named(joints)
        clauses.append(f"{who[0].lower()}{who[1:]} {'was' if len(joints) == 1 else 'were'} {reason}")
    joints = sorted({joint.joint_id: joint for group in by.values() for joint in group}.values(), key=_id)
    places = _places(joints, alterations)
    place = f"Section {subject.id}: " if subject.kind == "section" else "Of no section: "
    return finding_of(
        RULE,
        Outcome.FAIL,
        joints,
        subject,
        f"{place}{'; '.join(clauses)}.",
        "remarks",
        location=places[0],
        related=places[1:20],
    )


def _places(joints: list[Joint], alterations: dict[str, list[Alteration]]) -> list[SourceLocation]:
    places = []
    for joint in joints:
        again = [a for a in alterations.get(joint.joint_id, ()) if a.kind == "pressed_again"]
        places += [alteration.source.place("kind") for alteration in again]
        if joint.remarks is not None and says_pressed_again(joint.remarks):
            places.append(joint.source.place("remarks"))
        if joint.press_count is not None and joint.press_count > 1:
            places.append(joint.source.place("press_count"))
    return places


def _unclear(subject: Subject, joints: list[Joint]) -> Finding:
    one = len(joints) == 1
    message = (
        f"{named(joints)}{f' of section {subject.id}' if subject.kind == 'section' else ''} "
        f"{'has' if one else 'have'} the status 'reworked', and no record says how: the cell{'' if one else 's'} 'Replaces' "
        f"{'is' if one else 'are'} empty and no alteration names {'it' if one else 'them'} as cut out or replaced."
    )
    remedy = (
        "Say what was done: name the joint that was cut out under 'Replaces', or add a row to the alterations table."
    )
    return finding_of(RULE, Outcome.CANNOT_TELL, joints, subject, message, "status", remedy=remedy)


def _id(joint: Joint) -> str:
    return joint.joint_id


CHECK = Check(RULE, run)
