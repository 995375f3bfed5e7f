"""A batch of fittings or tube is of another system family than the joints made with it."""

from collections import defaultdict

from witnessmark.checks.joint_groups import finding_of, named
from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.making.pressed_joints import in_id_order, pressed_joints
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Joint
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="fitting-of-another-family",
    question="Are the fittings and the tube of every joint of its system family?",
    severity=Severity.BREAKS,
    closes="Correct the batch or the family; where two families were mixed, record the written consent of the maker as a concession, or cut the joints out and make them anew under new ids.",
    whose="the subcontractor who made the joints",
    what="The system family of fitting batch and tube batch, where they give one, against the family in the joint's row, or of its section where the row gives none. One finding tells all joints of one batch. A batch without a family is asked about by another question.",
    why="Fittings of another family have another contour, another seal and another insertion depth, and fit all the same.",
    example="Batch B-FA22-03 is of family FAM-K; 12 joints, the first of them J014, are recorded with FAM-C.",
    passes="Batch B-FA22-03 is of family FAM-C, and so is joint J014.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every batch in every pressed joint."""
    pressed = pressed_joints(project)
    wrong: dict[tuple[str, str, str], list[Joint]] = defaultdict(list)
    examined = 0
    for lot in pressed.lots("system_family", "section_family", "fitting_batch_id", "tube_batch_id"):
        family = lot.system_family or lot.section_family
        if family is None:
            continue
        if lot.fitting is not None and lot.fitting.system_family is not None:
            examined += len(lot.joints)
        tube = project.batches.get(lot.tube_batch_id or "")
        if lot.fitting is not None and lot.fitting.system_family not in (None, family):
            wrong[lot.fitting.batch_id, family, "fitting_batch_id"] += lot.joints
        if tube is not None and tube is not lot.fitting and tube.system_family not in (None, family):
            wrong[tube.batch_id, family, "tube_batch_id"] += lot.joints
    findings = [_finding(project, batch, family, field, joints) for (batch, family, field), joints in wrong.items()]
    return Answer(examined, tuple(findings))


def _finding(project: Project, batch_id: str, family: str, field: str, joints: list[Joint]) -> Finding:
    batch = project.batches[batch_id]
    joints = in_id_order([joints])
    be = "is" if len(joints) == 1 else "are"
    message = (
        f"Batch {batch_id} is of family {batch.system_family}; {_lower(named(joints))} {be} recorded with {family}."
    )
    related = (batch.source.place("system_family"), joints[0].source.place("system_family"))
    return finding_of(RULE, Outcome.FAIL, joints, Subject("batch", batch_id), message, field, related=related)


def _lower(words: str) -> str:
    return words[0].lower() + words[1:]


CHECK = Check(RULE, run)
