"""A joint's seal is not the one of its fitting batch, or not the one of its section."""

from collections import defaultdict

from witnessmark.checks.joint_groups import finding_of, named
from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.making.pressed_joints import in_id_order, pressed_joints
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Joint
from witnessmark.model.source import SourceLocation
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="seals-contradict",
    question="Is the seal of every joint the one of its fitting batch and of its section?",
    severity=Severity.BREAKS,
    closes="Look at the marking of the fitting and correct the row that is wrong; where the wrong seal was used, record the written consent of the maker as a concession, or cut the joints out and make them anew under new ids.",
    whose="the subcontractor who made the joints",
    what="The seal in the joint's row, in its fitting batch and in its section, wherever two of them give one. One finding tells all joints of one batch or section. A seal that no row gives is asked for where seals are held against their medium.",
    why="Seals look alike once pressed; the wrong one swells or hardens in service.",
    example="Fitting batch B-FA22-03 has seals of EPDM; joint J014 is recorded with FKM.",
    passes="Joint J014, its fitting batch and its section are all recorded with EPDM.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every pressed joint of which two rows give a seal."""
    examined = 0
    of_batch: dict[tuple[str, str, str], list[Joint]] = defaultdict(list)
    of_section: dict[tuple[str, str, str], list[Joint]] = defaultdict(list)
    batches, sections = project.batches, project.sections
    for lot in pressed_joints(project).lots("seal", "fitting_batch_id", "section_seal"):
        of_fitting = lot.fitting.seal if lot.fitting is not None else None
        own = lot.seal or of_fitting
        if (lot.seal, of_fitting, lot.section_seal).count(None) < 2:
            examined += len(lot.joints)
        if own is None:
            continue
        if lot.fitting is not None and of_fitting not in (None, own):
            of_batch[lot.fitting.batch_id, of_fitting or "", own] += lot.joints
        elif lot.section_seal not in (None, own):
            for joint in lot.joints:
                of_section[joint.section_id or "", lot.section_seal or "", own].append(joint)
    findings = []
    for (batch_id, given, own), joints in of_batch.items():
        words = f"Fitting batch {batch_id} has seals of {given}"
        place = batches[batch_id].source.place("seal")
        findings.append((Subject("batch", batch_id), words, place, own, joints))
    for (section_id, given, own), joints in of_section.items():
        words = f"Section {section_id} is recorded with seals of {given}"
        place = sections[section_id].source.place("seal")
        findings.append((Subject("section", section_id), words, place, own, joints))
    return Answer(examined, tuple(_finding(*row) for row in findings))


def _finding(subject: Subject, words: str, place: SourceLocation, own: str, joints: list[Joint]) -> Finding:
    source = "" if any(joint.seal is not None for joint in joints) else ", by the fitting batch"
    joints = in_id_order([joints])
    who = named(joints)
    be = "is" if len(joints) == 1 else "are"
    message = f"{words}; {who[0].lower()}{who[1:]} {be} recorded with {own}{source}."
    return finding_of(RULE, Outcome.FAIL, joints, subject, message, "seal", related=(place,))


CHECK = Check(RULE, run)
