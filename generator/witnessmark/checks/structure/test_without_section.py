"""A test names no section."""

from collections import defaultdict

from witnessmark.checks.judgement import Answer, Check
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import TestStage
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="test-without-section",
    question="Does every test name the sections under test?",
    severity=Severity.BREAKS,
    closes="Write the ids of the sections under test, separated by semicolons.",
    whose="the tester",
    what="Tests whose sections cell is empty or names no section of the records.",
    why="A test of nothing in particular proves nothing in particular.",
    example="Test PT-014 names no section of the records in 1 row; its cell says 'all L3'.",
    passes="Test PT-014, sections LTHW-F-R2; LTHW-F-R2-L1.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every test row, and answer once a test."""
    groups: dict[str, list[TestStage]] = defaultdict(list)
    for test in project.records.tests:
        if not test.section_ids:
            groups[test.test_id].append(test)
    findings = []
    for test_id, rows in groups.items():
        written = {cell.raw.strip() for row in rows if (cell := row.source.cell("section_ids")) and cell.raw.strip()}
        said = f"; its cell says '{min(written)}'" if len(written) == 1 else ""
        findings.append(
            Finding(
                RULE,
                Outcome.CANNOT_TELL,
                f"Test {test_id} names no section of the records in {len(rows)} {'row' if len(rows) == 1 else 'rows'}{said}.",
                RULE.closes,
                Subject("test", test_id),
                rows[0].source.place("section_ids"),
                tuple(row.source.place("section_ids") for row in rows[1:20]),
                RULE.whose,
            )
        )
    return Answer(len(project.records.tests), tuple(findings))


CHECK = Check(RULE, run)
