"""One witness read two gauges on different levels in the same minutes."""

from witnessmark.checks.anomalies.level_words import apart
from witnessmark.checks.anomalies.test_clash import clash_finding
from witnessmark.checks.anomalies.tests_at_once import Hold, TestLevels, clashes, timed
from witnessmark.checks.judgement import Answer, Check
from witnessmark.model.finding import Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.threshold import limit
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="one-witness-in-two-tests-at-once",
    question="Could every witness have seen the start and the end of each test?",
    severity=Severity.WEAKENS,
    closes="Say on the certificates who watched which test, or that the tests were one; correct times that were copied.",
    whose="the contractor handing over",
    what="Holds of different tests that name the same witness, begin together and end together, and run on levels that have "
    "none in common. Looked at where times and levels are recorded in figures.",
    why="A witness may walk from one test to the next while they hold, but reads the gauge at the start and at the end. "
    "Two gauges on two levels cannot be read in the same minute; often one of the times was copied.",
    example="One witness is named in test PT-014 (09:30 to 10:30) and test PT-015 (09:31 to 10:30) of 9 March 2026, which are "
    "on different levels and begin and end together. Can you say who watched which?",
    passes="The witness saw test PT-014 from 09:30 to 10:30 and test PT-015 from 09:50 on.",
    thresholds=("witness-walk-min",),
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every hold with witness, times and levels, and answer once a witness and day."""
    level = TestLevels(project)
    holds = [
        hold
        for hold in timed(project.records.tests)
        if hold.test.witness and hold.test.start_pressure_bar is not None and level.of(hold.test)
    ]
    walk = limit(project.settings, "witness-walk-min")

    def cannot_see_both(one: Hold, other: Hold) -> bool:
        together = abs(one.start - other.start) < walk and abs(one.end - other.end) < walk
        return together and apart(level.of(one.test), level.of(other.test))

    found = clashes(holds, lambda hold: hold.test.witness, cannot_see_both)
    findings = []
    for (_, day), held in found.items():
        findings.append(
            clash_finding(
                RULE,
                held,
                Subject("test", held[0].test.test_id),
                "One witness is named in",
                ", which are on different levels and begin and end together. Can you say who watched which?",
                day,
                "witness",
            )
        )
    return Answer(len(holds), tuple(findings))


CHECK = Check(RULE, run)
