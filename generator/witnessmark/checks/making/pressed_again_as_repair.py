"""A joint was pressed again as a repair."""

from collections import defaultdict

from witnessmark.checks.joint_groups import finding_of, named
from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.making.marks import section_subject
from witnessmark.checks.making.pressed_joints import pressed_joints
from witnessmark.checks.making.repair_words import says_pressed_again
from witnessmark.checks.making.second_presses import alterations_of_joints, on_day, suspects
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
    whose="the subcontractor who made the joints",
    what="Pressed joints that are still in the pipework: an alteration 'pressed again' that names them, more presses in the log than their size needs, remarks that say so (an editable list of words), and the status 'reworked' without a joint replaced or a record of what was done, which cannot be told. A joint that was cut out and replaced under a new id is right.",
    why="A fitting takes its shape once. A second press over the first cracks it or loosens it, and hides what was wrong.",
    example="Section S1: joint J014 was pressed again on 12 May 2026 by alteration AL-3.",
    passes="Joint J014 leaked and was cut out; J014R was made on 12 May 2026, names J014 under 'Replaces', and was tested on 13 May 2026.",
)

_DONE = frozenset({"cut_out", "replaced"})


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every pressed joint that is still there."""
    alterations, replaced = alterations_of_joints(project)
    reasons: dict[Subject, dict[str, list[Joint]]] = defaultdict(lambda: defaultdict(list))
    unclear: dict[Subject, list[Joint]] = defaultdict(list)
    for joint, surplus in suspects(project, alterations):
        if joint.joint_id in replaced:
            continue
        subject = section_subject(joint)
        done = alterations.get(joint.joint_id, ())
        found = [
            f"pressed again{on_day(alteration)} by alteration {alteration.alteration_id}"
            for alteration in done
            if alteration.kind == "pressed_again"
        ]
        if surplus:
            found.append(surplus)
        if joint.remarks is not None and says_pressed_again(joint.remarks):
            found.append("pressed again by the remarks of the log")
        if found:
            reasons[subject][", and ".join(found)].append(joint)
        reworked = joint.status == "reworked" and joint.replaces_joint is None
        if reworked and not found and not any(alteration.kind in _DONE for alteration in done):
            unclear[subject].append(joint)
    findings = [_finding(subject, by, alterations) for subject, by in reasons.items()]
    findings += [_unclear(subject, joints) for subject, joints in unclear.items()]
    findings += [_nameless(alteration) for alteration in project.records.alterations if _is_nameless(alteration)]
    return Answer(len(pressed_joints(project).joints), tuple(findings))


def _is_nameless(alteration: Alteration) -> bool:
    return alteration.kind == "pressed_again" and not alteration.joint_ids


def _nameless(alteration: Alteration) -> Finding:
    where = f" in {', '.join(alteration.section_ids)}" if alteration.section_ids else ""
    return Finding(
        RULE,
        Outcome.FAIL,
        f"Alteration {alteration.alteration_id} says that joints{where} were pressed again{on_day(alteration)}, and names none.",
        f"Name the joints in the alterations table. {RULE.closes}",
        Subject("alteration", alteration.alteration_id),
        alteration.source.place("joint_ids"),
        (alteration.source.place("kind"),),
        RULE.whose,
        alteration.section_ids,
    )


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
