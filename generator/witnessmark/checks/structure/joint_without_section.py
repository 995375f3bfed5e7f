"""A joint belongs to no section."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="joint-without-section",
    question="Does every joint belong to one section?",
    severity=Severity.BREAKS,
    closes="Write the section in the joint's row; a joint on a boundary goes to one of the two.",
    whose="the subcontractor who made the joint",
    what="Joints whose section cell is empty or names no section.",
    why="A section is what is tested and isolated as one: a joint in no section is in no test.",
    example="Joint J031, section '9', where the sections table has no 9.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every joint."""
    findings = []
    for joint in project.records.joints:
        if joint.section_id is not None:
            continue
        cell = joint.source.cell("section_id")
        said = f"names the section '{cell.raw}', which is not read" if cell and cell.raw.strip() else "names no section"
        findings.append(
            Finding(
                RULE,
                Outcome.CANNOT_TELL,
                f"Joint {joint.joint_id} {said}.",
                RULE.closes,
                Subject("joint", joint.joint_id),
                joint.source.place("section_id"),
                whose=RULE.whose,
            )
        )
    return Answer(len(project.records.joints), tuple(findings))


CHECK = Check(RULE, run)
