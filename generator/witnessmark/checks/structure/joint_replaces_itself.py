"""A joint replaces itself, or joints replace each other in a circle."""

from collections import defaultdict

from witnessmark.checks.joint_groups import finding_of
from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.structure.replacements import JointNames, circles, replacing
from witnessmark.model.finding import Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Joint
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="joint-replaces-itself",
    question="Does every replacement lead back to a joint that was there before it?",
    severity=Severity.BREAKS,
    closes="Give the new joint an id of its own, write the id of the joint that was cut out as the one it replaces, and keep "
    "the row of the old joint with the state 'cut out'.",
    whose="the subcontractor who made the joints",
    what="The column of the joint that a joint replaces, followed from joint to joint.",
    why="Where replacements run in a circle nobody can tell which joint is in the pipe and which was cut out.",
    example="Joint J014 says that it replaces itself.",
    passes="Joint J014R replaces J014, and J014 replaces none.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every joint that says which joint it replaces."""
    joints = replacing(project)
    names = JointNames(project, joints)
    leads_to: dict[str, set[str]] = defaultdict(set)
    rows: dict[str, Joint] = {}
    for joint in joints:
        meant, _ = names.meant(joint.replaces_joint or "")
        leads_to[joint.joint_id].update(other.joint_id for other in meant)
        rows.setdefault(joint.joint_id, joint)
    findings = []
    for circle in circles(leads_to):
        inside = [rows[joint_id] for joint_id in circle]
        if len(circle) == 1:
            message = f"Joint {circle[0]} says that it replaces itself."
        else:
            message = f"Joints {', '.join(circle[:5])}{' and more' if len(circle) > 5 else ''} replace each other in a circle."
        subject = Subject("joint", circle[0])
        findings.append(finding_of(RULE, Outcome.FAIL, inside, subject, message, "replaces_joint"))
    return Answer(len(joints), tuple(findings))


CHECK = Check(RULE, run)
