"""A test names no section."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="test-without-section",
    question="Does every test name the sections under test?",
    severity=Severity.BREAKS,
    closes="Write the ids of the sections under test, separated by semicolons.",
    whose="whoever ran the test",
    what="Tests whose sections cell is empty or names no section of the records.",
    why="A test of nothing in particular proves nothing in particular.",
    example="Test PT-014, sections 'all L3'.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every test row."""
    findings = tuple(
        Finding(
            RULE,
            Outcome.CANNOT_TELL,
            f"Test {test.test_id}, stage {(test.stage or 'not recorded').replace('_', ' ')}, names no section of the records.",
            RULE.closes,
            Subject("test", test.test_id),
            test.source.place("section_ids"),
            whose=RULE.whose,
        )
        for test in project.records.tests
        if not test.section_ids
    )
    return Answer(len(project.records.tests), findings)


CHECK = Check(RULE, run)
