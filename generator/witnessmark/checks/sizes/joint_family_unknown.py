"""The press system family of a joint is not known."""

from collections import Counter, defaultdict

from witnessmark.checks.joint_groups import asked, finding_of
from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.making.pressed_joints import pressed_joints
from witnessmark.model.finding import Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Joint
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="joint-family-unknown",
    question="Is the press system family of every pressed joint known?",
    severity=Severity.BREAKS,
    closes="Write the system family, by the project's own code, in the joint's row, its section or its batch of fittings.",
    whose="the subcontractor who made the joints",
    what="Pressed joints for which neither the joint log, nor the section, nor the batch of the fitting names a system family.",
    why="Jaw, training and guarantee hold for one family. Of a fitting of no known family none of them can be shown.",
    example="System LTHW-F: the system family of 12 of 212 pressed joints is in no row, neither of the joint nor of its "
    "section nor of its batch of fittings.",
    passes="Joint J088 is of the system family FAM-A.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every pressed joint, and answer once a system."""
    batches = project.batches
    lacking: dict[str, list[Joint]] = defaultdict(list)
    total: Counter[str] = Counter()
    per_section = pressed_joints(project).per_section
    of_none = [joint for joint in project.records.joints if joint.section_id is None]
    for section_id, joints in (*project.joints_of_section.items(), (None, of_none)):
        section = project.sections.get(section_id) if section_id is not None else None
        system = (section.system_id if section is not None else None) or ""
        if section_id is not None and section is not None and section.system_family is not None:
            total[system] += per_section[section_id]
            continue
        pressed = [joint for joint in joints if asked(joint)]
        total[system] += len(pressed)
        for joint in pressed:
            if joint.system_family is None:
                batch = batches.get(joint.fitting_batch_id) if joint.fitting_batch_id else None
                if batch is None or batch.system_family is None:
                    lacking[system].append(joint)
    findings = []
    for system, joints in sorted(lacking.items()):
        joints.sort(key=lambda joint: joint.joint_id)
        where = f"System {system}" if system else "Joints of no system"
        if len(joints) == 1:
            which = f"joint {joints[0].joint_id}"
        elif len(joints) == total[system]:
            which = f"all {len(joints):,} pressed joints"
        else:
            which = f"{len(joints):,} of {total[system]:,} pressed joints, the first of them {joints[0].joint_id},"
        message = (
            f"{where}: the system family of {which} is in no row, neither of the joint nor of its section nor of its batch "
            "of fittings."
        )
        subject = Subject("system", system or "no system")
        findings.append(finding_of(RULE, Outcome.CANNOT_TELL, joints, subject, message, "system_family"))
    return Answer(total.total(), tuple(findings))


CHECK = Check(RULE, run)
