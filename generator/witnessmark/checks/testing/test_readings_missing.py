"""A test lacks a reading."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.testing.stage_answers import answers
from witnessmark.model.finding import Rule, Severity
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="test-readings-missing",
    question="Are pressure and time of start and end recorded for every test?",
    severity=Severity.BREAKS,
    closes="Write the readings that are missing into the row of the test, from the logger file or the certificate; or test again.",
    whose="the contractor handing over",
    what="Pressure at start and end, date, start time, end time.",
    why="A test without both readings shows no drop, and without times no hold.",
    example="Test PT-014, attempt 1, strength stage: The pressure at the end is not recorded.",
    passes="PT-021: 9.0 bar at 10:00, 9.0 bar at 11:00, on 9 May 2026.",
)


def run(project: Project, workings: Workings) -> Answer:
    """Look at every stage that claims a pass."""
    return answers(RULE, project, workings, ("readings",))


CHECK = Check(RULE, run)
