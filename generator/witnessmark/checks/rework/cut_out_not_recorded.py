"""A joint was cut out, and nothing says when."""

from collections import defaultdict

from witnessmark.checks.joint_groups import finding_of, named
from witnessmark.checks.judgement import Answer, Check
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Joint
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="cut-out-not-recorded",
    question="Is it recorded when every joint was cut out, and what took its place?",
    severity=Severity.BREAKS,
    closes="Add a row to the alterations table with the day of the work; or name the joint under 'Replaces' of the one that "
    "took its place.",
    whose="the subcontractor who made the joints",
    what="Joints with the status 'cut out': an alteration must name them, or a joint of the log must replace them.",
    why="Cutting out opens the section. Without its day nobody can tell whether a test was made after it.",
    example="Joint J014 of section S1 was cut out; no alteration names it and no joint replaces it, so it cannot be told "
    "whether the section was tested after that.",
    passes="Joint J014 was cut out; alteration AL-02 of 4 May 2026 names it, and J014R replaces it.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every joint that was cut out; one finding a section."""
    gone = [joint for joint in project.records.joints if joint.status == "cut_out"]
    if not gone:
        return Answer(0, ())
    recorded = {joint_id for row in project.records.alterations for joint_id in row.joint_ids}
    recorded |= {
        joint.replaces_joint
        for joint in project.records.joints
        if joint.replaces_joint is not None and joint.replaces_joint != joint.joint_id
    }
    silent: dict[Subject, list[Joint]] = defaultdict(list)
    for joint in gone:
        if joint.joint_id not in recorded:
            key = Subject("section", joint.section_id) if joint.section_id else Subject("joint", joint.joint_id)
            silent[key].append(joint)
    return Answer(len(gone), tuple(_finding(subject, joints) for subject, joints in silent.items()))


def _finding(subject: Subject, joints: list[Joint]) -> Finding:
    joints.sort(key=lambda joint: joint.joint_id)
    one = len(joints) == 1
    where = f" of section {subject.id}" if subject.kind == "section" else ""
    them = "it" if one else "them"
    message = (
        f"{named(joints)}{where} {'was' if one else 'were'} cut out; no alteration names {them} and no joint replaces {them}, "
        "so it cannot be told whether the section was tested after that."
    )
    return finding_of(RULE, Outcome.CANNOT_TELL, joints, subject, message, "status")


CHECK = Check(RULE, run)
