"""Two rows of the joint log have one id and differ."""

from collections import defaultdict
from operator import attrgetter

from witnessmark.checks.joint_groups import finding_of
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
    whose="the subcontractor who made the joints",
    what="Joint rows that share an id and differ in any cell. Rows that are the same in every cell are counted once.",
    why="A joint that is described twice cannot be traced to one operative, one tool and one day.",
    example="Joint LTHW-F-R2-J014-A stands in 2 rows that differ: records/joints.csv, row 15; records/joints.csv, row 31.",
    passes="LTHW-F-R2-J014-A stands in one row; the row that was copied down is LTHW-F-R2-J015-A.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every joint id, and answer once for the ids that clash within the same sections."""
    joint_ids = list(map(attrgetter("joint_id"), project.records.joints))
    if len(set(joint_ids)) == len(joint_ids):
        return Answer(len(joint_ids), ())
    first: dict[str, Joint] = {}
    rows: dict[str, list[Joint]] = {}
    for joint in project.records.joints:
        earlier = first.setdefault(joint.joint_id, joint)
        if earlier is not joint:
            rows.setdefault(joint.joint_id, [earlier]).append(joint)
    clashes: dict[tuple[str, ...], list[list[Joint]]] = defaultdict(list)
    for joints in rows.values():
        clashes[tuple(sorted({joint.section_id or "" for joint in joints}))].append(joints)
    return Answer(len(first), tuple(_finding(sections, clashes[sections]) for sections in sorted(clashes)))


def _finding(sections: tuple[str, ...], clashes: list[list[Joint]]) -> Finding:
    clashes = sorted(clashes, key=lambda joints: joints[0].joint_id)
    joints = [joint for clash in clashes for joint in sorted(clash, key=lambda joint: joint.source.location)]
    ids = [clash[0].joint_id for clash in clashes]
    known = [section for section in sections if section]
    if len(ids) == 1:
        places = "; ".join(joint.source.location.words for joint in joints[:4])
        message = f"Joint {ids[0]} stands in {len(joints)} rows that differ: {places}."
    else:
        where = f"In section {' and '.join(known)}" if known else "In no section"
        shown = ", ".join(ids[:4]) + (f" and {len(ids) - 4} more" if len(ids) > 4 else "")
        message = f"{where} {len(ids)} joint ids stand in more than one row, and the rows differ: {shown}."
    subject = Subject("section", known[0]) if known else Subject("joint", ids[0])
    return finding_of(RULE, Outcome.FAIL, joints, subject, message, "joint_id")


CHECK = Check(RULE, run)
