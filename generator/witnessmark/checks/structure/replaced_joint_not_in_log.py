"""A joint replaces one that the log does not have."""

from collections import defaultdict

from witnessmark.checks.joint_groups import finding_of
from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.structure.replacements import JointNames, replacing
from witnessmark.model.finding import Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Joint
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="replaced-joint-not-in-log",
    question="Is every joint that another one replaces still in the log?",
    severity=Severity.WEAKENS,
    closes="Put the row of the old joint back with the state 'cut out' or 'void' and the reason, or correct the id of the "
    "joint that was replaced.",
    whose="the subcontractor who made the joints",
    what="The column of the joint that a joint replaces, looked up in the joint log.",
    why="A row that was overwritten or deleted takes the history of the joint with it: what failed, and when.",
    example="Joint J014R replaces J014, which is in no row of the joint log.",
    passes="Joint J014R replaces J014, whose row says 'cut out' and why.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every joint that says which joint it replaces, and answer once a section."""
    joints = replacing(project)
    names = JointNames(project, joints)
    groups: dict[str, list[tuple[Joint, str]]] = defaultdict(list)
    for joint in joints:
        _, unknown = names.meant(joint.replaces_joint or "")
        if unknown:
            groups[joint.section_id or ""].append((joint, " and ".join(unknown)))
    findings = []
    for section_id, pairs in sorted(groups.items()):
        rows = [joint for joint, _ in pairs]
        if len(pairs) == 1:
            message = f"Joint {rows[0].joint_id} replaces {pairs[0][1]}, which is in no row of the joint log."
        else:
            shown = "; ".join(f"{joint.joint_id} replaces {name}" for joint, name in pairs[:4])
            more = f"; and {len(pairs) - 4} more" if len(pairs) > 4 else ""
            message = f"{len(pairs)} joints replace joints that are in no row of the joint log: {shown}{more}."
        subject = Subject("section", section_id) if section_id else Subject("joint", rows[0].joint_id)
        findings.append(finding_of(RULE, Outcome.FAIL, rows, subject, message, "replaces_joint"))
    return Answer(len(joints), tuple(findings))


CHECK = Check(RULE, run)
