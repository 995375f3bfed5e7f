"""A joint number or a record was voided, and nothing says why."""

from collections import defaultdict

from witnessmark.checks.joint_groups import finding_of, named
from witnessmark.checks.judgement import Answer, Check
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Alteration, Joint
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="void-without-reason",
    question="Does every void say why?",
    severity=Severity.WEAKENS,
    closes="Write in the remarks of the row why it is void: never pressed, number not used, written twice.",
    whose="whoever keeps the records",
    what="Joints with the status 'void' need remarks, or an alteration that names them and has a reason; alterations of the "
    "kind 'void' need a reason or remarks.",
    why="A void takes a joint out of every question. Without a reason an unused number cannot be "
    "told from a joint that is in the pipe.",
    example="Joint J014 of section S1 is void, and no remark and no alteration says why.",
    passes="Joint J014 is void; its remarks say 'number not used, elbow left out on site'.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every void joint and every alteration that voids; one finding a section or alteration."""
    voids = sorted(
        (row for row in project.records.alterations if row.kind == "void"), key=lambda row: row.alteration_id
    )
    told = {joint_id for row in project.records.alterations if row.reason or row.remarks for joint_id in row.joint_ids}
    # Joints of a void alteration without a reason are told with it.
    told |= {joint_id for row in voids for joint_id in row.joint_ids}
    joints: dict[Subject, list[Joint]] = defaultdict(list)
    examined = len(voids)
    for joint in project.records.joints:
        if joint.status == "void":
            examined += 1
            if not joint.remarks and joint.joint_id not in told:
                key = Subject("section", joint.section_id) if joint.section_id else Subject("joint", joint.joint_id)
                joints[key].append(joint)
    findings = [_of_joints(subject, group) for subject, group in joints.items()]
    findings += [_of_alteration(row) for row in voids if not row.reason and not row.remarks]
    return Answer(examined, tuple(findings))


def _of_joints(subject: Subject, joints: list[Joint]) -> Finding:
    joints.sort(key=lambda joint: joint.joint_id)
    where = f" of section {subject.id}" if subject.kind == "section" else ""
    message = (
        f"{named(joints)}{where} {'is' if len(joints) == 1 else 'are'} void, and no remark and no alteration says why."
    )
    return finding_of(RULE, Outcome.CANNOT_TELL, joints, subject, message, "remarks")


def _of_alteration(row: Alteration) -> Finding:
    return Finding(
        RULE,
        Outcome.CANNOT_TELL,
        f"Alteration {row.alteration_id} makes something void, and its cells 'Reason' and 'Remarks' are empty.",
        "Write the reason in the row of the alteration.",
        Subject("alteration", row.alteration_id),
        row.source.place("reason"),
        (),
        RULE.whose,
        row.section_ids,
        row.joint_ids,
    )


CHECK = Check(RULE, run)
