"""Two rows of the joint log have one id and differ."""

from collections import defaultdict

from witnessmark.checks.judgement import Answer, Check
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Joint
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="joint-id-used-twice",
    question="Does every joint id stand for one press end?",
    severity=Severity.BREAKS,
    closes="Void one row with its reason, or give it a new id and note the old one.",
    whose="the subcontractor who made the joint",
    what="Joint rows that share an id and differ in any cell. Rows that are the same in every cell are counted once.",
    why="A joint that is described twice cannot be traced to one operative, one tool and one day.",
    example="LTHW-F-R2-J014-A was pressed on 2 March by OP-03 in one row and on 9 March by OP-05 in another.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every joint id."""
    rows: dict[str, list[Joint]] = defaultdict(list)
    for joint in project.records.joints:
        rows[joint.joint_id].append(joint)
    findings = []
    for joint_id, joints in rows.items():
        if len(joints) == 1:
            continue
        first, *others = joints
        sections = tuple(dict.fromkeys(j.section_id for j in joints if j.section_id))
        findings.append(
            Finding(
                RULE,
                Outcome.FAIL,
                f"Joint {joint_id} stands in {len(joints)} rows that differ; the first is {first.source.location.words}.",
                RULE.closes,
                Subject("joint", joint_id),
                others[0].source.place("joint_id"),
                tuple(j.source.place("joint_id") for j in joints if j is not others[0]),
                RULE.whose,
                sections,
            )
        )
    return Answer(len(rows), tuple(findings))


CHECK = Check(RULE, run)
