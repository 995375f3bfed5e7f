"""One gauge read two tests at the same time."""

from witnessmark.checks.anomalies.test_clash import clash_finding
from witnessmark.checks.anomalies.tests_at_once import clashes, no_section_in_common, timed
from witnessmark.checks.judgement import Answer, Check
from witnessmark.model.finding import Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="one-gauge-in-two-places",
    question="Was every gauge at one test at a time?",
    severity=Severity.WEAKENS,
    closes="Say on the certificates which gauge read which test and when, or that the tests were one; attach the logger file "
    "where there is one.",
    whose="the tester",
    what="Holds of different tests that name the same gauge, overlap in time and have no section in common. Looked at "
    "where day, start and end are recorded.",
    why="A gauge shows the pressure of one pipe. Often the tests were one, or a number was copied; the records should say.",
    example="Gauge G-01 is named in test PT-014 (09:30 to 10:30) and test PT-015 (10:00 to 11:00) of 9 March 2026, which have "
    "no section in common. Can you say which of them it read?",
    passes="Gauge G-01 read test PT-014 from 09:30 to 10:30 and test PT-015 from 10:45 on.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every hold with gauge and times, and answer once a gauge and day."""
    holds = [hold for hold in timed(project.records.tests) if hold.test.instrument_id is not None]
    findings = []
    for (gauge, day), held in clashes(holds, lambda hold: hold.test.instrument_id, no_section_in_common).items():
        findings.append(
            clash_finding(
                RULE,
                held,
                Subject("instrument", gauge),
                f"Gauge {gauge} is named in",
                ", which have no section in common. Can you say which of them it read?",
                day,
                "instrument_id",
            )
        )
    return Answer(len(holds), tuple(findings))


CHECK = Check(RULE, run)
