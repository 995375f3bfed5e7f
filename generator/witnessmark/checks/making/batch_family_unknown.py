"""It is not known of what system family the fittings of a batch are."""

from collections import defaultdict

from witnessmark.checks.joint_groups import finding_of
from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.making.log_gap import whole
from witnessmark.checks.making.pressed_joints import PressedJoints, in_id_order, pressed_joints
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Joint
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="batch-family-unknown",
    question="Is it known of what system family the fittings of every batch are?",
    severity=Severity.WEAKENS,
    closes="Write the system family in the row of the batch, from the marking of the fitting or the delivery note.",
    whose="whoever keeps the records",
    what="The system family in the row of every fitting batch that pressed joints name.",
    why="The family in the joint's row is what the log says; the batch shows what was delivered. Without it, a fitting of "
    "another family would go unseen.",
    example="The batches table does not say of what system family fitting batch B-FA22-03 is.",
    passes="Fitting batch B-FA22-03 is of family FAM-C.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at the fitting batch of every pressed joint that names one."""
    pressed = pressed_joints(project)
    nameless: dict[str, list[Joint]] = defaultdict(list)
    examined = 0
    for lot in pressed.lots("fitting_batch_id"):
        if lot.fitting is None:
            continue
        examined += len(lot.joints)
        if lot.fitting.system_family is None:
            for joint in lot.joints:
                nameless[pressed.system_of(joint.section_id)].append(joint)
    findings = (_gap(project, pressed, system, joints) for system, joints in nameless.items())
    return Answer(examined, tuple(findings))


def _gap(project: Project, pressed: PressedJoints, system: str, joints: list[Joint]) -> Finding:
    joints = in_id_order([joints])
    names = sorted({joint.fitting_batch_id for joint in joints if joint.fitting_batch_id is not None})
    more = f" and {len(names) - 3} more" if len(names) > 3 else ""
    batches = f"fitting batch {names[0]} is" if len(names) == 1 else f"fitting batches {', '.join(names[:3])}{more} are"
    place = project.batches[names[0]].source.place("system_family")
    message = (
        f"{whole(system)}: the batches table does not say of what system family {batches}; "
        f"it cannot be told for {len(joints):,} of {pressed.per_system[system]:,} joints."
    )
    subject = Subject("system", system)
    return finding_of(RULE, Outcome.CANNOT_TELL, joints, subject, message, "fitting_batch_id", location=place)


CHECK = Check(RULE, run)
