"""A test was held too short, did not settle, or was topped up."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.testing.stage_answers import answers
from witnessmark.model.finding import Rule, Severity
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="hold-too-short",
    question="Was every test settled and held as long as its procedure says, with no pressure added?",
    severity=Severity.BREAKS,
    closes="Test again with the full hold; take times from the logger file.",
    whose="the contractor handing over",
    what="Hold by the clock in the time zone of the building, past midnight and past clock changes, against the "
    "procedure and the hold as typed; settling time; whether pressure was added.",
    why="A short hold, or a pump stroke half-way, hides a slow leak.",
    example="Test PT-014, attempt 1, strength stage: It was held for 35 min; asked for are 60 min.",
    passes="Settled for 30 min, held from 10:00 to 11:00, asked for are 30 and 60 min; no pressure was added.",
)


def run(project: Project, workings: Workings) -> Answer:
    """Look at every stage that claims a pass and has a procedure."""
    return answers(RULE, project, workings, ("settle", "hold", "topped_up"), lambda verdict: verdict.rated)


CHECK = Check(RULE, run)
