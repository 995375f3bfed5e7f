"""A log has one row a fitting, so nobody recorded its ends one by one."""

from collections import defaultdict

from witnessmark.checks.joint_groups import finding_of
from witnessmark.checks.judgement import Answer, Check
from witnessmark.model.finding import Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Joint
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="ends-not-recorded-one-by-one",
    question="Does every row of the joint log stand for one press end?",
    severity=Severity.WEAKENS,
    closes="Log each press end in a row of its own, or write 'end' in the column 'row counts' where each row already is one.",
    whose="the subcontractor who made the joints",
    what="Rows that count a whole fitting, or that do not say what they count, by file and sheet.",
    why="An elbow has two ends, a tee three. A tick for the fitting says nothing of the end at the back.",
    example="68 press ends of section LTHW-F-L4 come from 31 rows of records/joints-l4.csv that count a whole fitting; the ends "
    "were not recorded one by one.",
    passes="Level 4 was logged end by end: 68 rows, each with its own ticks.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every joint, and answer once a file or sheet."""
    groups: dict[tuple[str, str, bool], list[Joint]] = defaultdict(list)
    logs: set[tuple[str, str]] = set()
    for joint in project.records.joints:
        table = joint.source.table
        logs.add((table.file, table.sheet))
        if not joint.recorded_as_end:
            groups[(table.file, table.sheet, joint.unit_of_count is None)].append(joint)
    findings = []
    for (file, sheet, unsaid), joints in groups.items():
        joints.sort(key=lambda joint: joint.joint_id)
        source = f"{file}, sheet {sheet}" if sheet else file
        rows = len({joint.source.row for joint in joints})
        if unsaid:
            message = f"{rows} {'row' if rows == 1 else 'rows'} of {source} {'does' if rows == 1 else 'do'} not say whether a row counts a press end or a fitting."
        else:
            message = (
                f"{len(joints)} press ends{_where(joints)} come from {rows} {'row' if rows == 1 else 'rows'} of {source} that count a whole fitting; "
                "the ends were not recorded one by one."
            )
        findings.append(
            finding_of(
                RULE,
                Outcome.CANNOT_TELL if unsaid else Outcome.FAIL,
                joints,
                Subject("file", source),
                message,
                "unit_of_count" if unsaid else "joint_id",
            )
        )
    return Answer(max(len(logs), len(findings)), tuple(findings))


def _where(joints: list[Joint]) -> str:
    sections = sorted({joint.section_id for joint in joints if joint.section_id})
    if not sections:
        return " of no section"
    return (
        f" of section {sections[0]}"
        if len(sections) == 1
        else f" of {len(sections)} sections, the first of them {sections[0]},"
    )


CHECK = Check(RULE, run)
