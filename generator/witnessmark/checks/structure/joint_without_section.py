"""A joint belongs to no section."""

from collections import defaultdict

from witnessmark.checks.joint_groups import finding_of, named
from witnessmark.checks.judgement import Answer, Check
from witnessmark.model.finding import Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Joint
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="joint-without-section",
    question="Does every joint belong to one section?",
    severity=Severity.BREAKS,
    closes="Write the section in the joint's row; a joint on a boundary goes to one of the two.",
    whose="the subcontractor who made the joints",
    what="Joints whose section cell is empty or names no section.",
    why="A section is what is tested and isolated as one: a joint in no section is in no test.",
    example="Joint J031 names the section '9', which is not read.",
    passes="Joint J031 belongs to section LTHW-F-R2, which the sections table has.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every joint, and answer once for the joints of a file whose section cells say the same."""
    groups: dict[tuple[str, str, str], list[Joint]] = defaultdict(list)
    for joint in project.records.joints:
        if joint.section_id is None:
            cell = joint.source.cell("section_id")
            table = joint.source.table
            groups[table.file, table.sheet, cell.raw.strip() if cell else ""].append(joint)
    findings = []
    for (file, sheet, written), joints in groups.items():
        joints.sort(key=lambda joint: joint.joint_id)
        single = len(joints) == 1
        if written:
            said = f"{'names' if single else 'name'} the section '{written}', which is not read"
        else:
            said = "names no section" if single else "name no section"
        subject = (
            Subject("joint", joints[0].joint_id) if single else Subject("file", f"{file} [{sheet}]" if sheet else file)
        )
        message = f"{named(joints)} {said}."
        findings.append(finding_of(RULE, Outcome.CANNOT_TELL, joints, subject, message, "section_id"))
    return Answer(len(project.records.joints), tuple(findings))


CHECK = Check(RULE, run)
