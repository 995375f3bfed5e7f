"""A log has one row a fitting, so nobody recorded its ends one by one."""

from collections import defaultdict

from witnessmark.checks.judgement import Answer, Check
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Joint
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="ends-not-recorded-one-by-one",
    question="Does every row of the joint log stand for one press end?",
    severity=Severity.WEAKENS,
    closes="Log each press end in a row of its own, or write 'end' in the column 'row counts' where each row already is one.",
    whose="the subcontractor who made the joints",
    what="Rows that count a whole fitting, or that do not say what they count, by section and file.",
    why="An elbow has two ends, a tee three. A tick for the fitting says nothing of the end at the back.",
    example="Level 4 was logged by fitting: 31 rows were expanded to 68 ends.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every joint, and answer once a section and file."""
    groups: dict[tuple[str, str, str, bool], list[Joint]] = defaultdict(list)
    for joint in project.records.joints:
        if not joint.recorded_as_end:
            table = joint.source.table
            groups[(joint.section_id or "", table.file, table.sheet, joint.unit_of_count is None)].append(joint)
    findings = []
    for (section_id, file, sheet, unsaid), joints in groups.items():
        where = f"section {section_id}" if section_id else "no section"
        source = f"{file}, sheet {sheet}" if sheet else file
        if unsaid:
            message = (
                f"{len(joints)} rows for {where} in {source} do not say whether they count a press end or a fitting."
            )
        else:
            rows = len({joint.source.row for joint in joints})
            message = (
                f"{len(joints)} press ends of {where} come from {rows} rows of {source} that count a whole fitting; "
                "the ends were not recorded one by one."
            )
        findings.append(
            Finding(
                RULE,
                Outcome.CANNOT_TELL if unsaid else Outcome.FAIL,
                message,
                RULE.closes,
                Subject("section", section_id) if section_id else Subject("file", source),
                joints[0].source.place("joint_id"),
                tuple(dict.fromkeys(joint.source.place("joint_id") for joint in joints[1:20])),
                RULE.whose,
                (section_id,) if section_id else (),
            )
        )
    passed = len({(j.section_id, j.source.table.file, j.source.table.sheet) for j in project.records.joints})
    return Answer(max(passed, len(findings)), tuple(findings))


CHECK = Check(RULE, run)
