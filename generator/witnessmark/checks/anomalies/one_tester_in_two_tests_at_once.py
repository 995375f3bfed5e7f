"""One tester ran two tests at the same time on different levels."""

from witnessmark.checks.anomalies.level_words import apart
from witnessmark.checks.anomalies.test_clash import clash_finding
from witnessmark.checks.anomalies.tests_at_once import TestLevels, clashes, timed
from witnessmark.checks.judgement import Answer, Check
from witnessmark.model.finding import Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="one-tester-in-two-tests-at-once",
    question="Did every tester run one test at a time?",
    severity=Severity.WEAKENS,
    closes="Say on the certificates who watched which test, or that the tests were one; correct times that were copied.",
    whose="the tester",
    what="Holds of different tests that name the same tester, overlap in time and run on levels that have none in common. "
    "Looked at where times and levels are recorded in figures.",
    why="A hold is watched, and joints are looked at while it lasts. Nobody does that on two levels at once; often one of "
    "the times was copied.",
    example="Tester OP-09 is named in test PT-014 (09:30 to 10:30) and test PT-015 (10:00 to 11:00) of 9 "
    "March 2026, which are on different levels. Can you say who watched which?",
    passes="Tester OP-09 ran test PT-014 from 09:30 to 10:30 and test PT-015 from 11:00 on.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every hold with tester, times and levels, and answer once a tester and day."""
    level = TestLevels(project)
    holds = [hold for hold in timed(project.records.tests) if hold.test.tester and level.of(hold.test)]
    found = clashes(
        holds, lambda hold: hold.test.tester, lambda one, other: apart(level.of(one.test), level.of(other.test))
    )
    findings = []
    for (name, day), held in found.items():
        findings.append(
            clash_finding(
                RULE,
                held,
                Subject("operative", name),
                f"Tester {name} is named in",
                ", which are on different levels. Can you say who watched which?",
                day,
                "tester",
            )
        )
    return Answer(len(holds), tuple(findings))


CHECK = Check(RULE, run)
