"""A gauge was not fit for a test."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.testing.stage_answers import answers
from witnessmark.model.finding import Rule, Severity
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="gauge-unfit",
    question="Was every gauge of the right range, class and resolution?",
    severity=Severity.WEAKENS,
    closes="Test again with a better gauge.",
    whose="the contractor handing over",
    what="Place of the reading on the dial, 25 to 75 % by practice; error and smallest step against the drop allowed.",
    why="A gauge of 0 to 40 bar cannot show a tenth of a bar at 9 bar.",
    example="Test PT-014, attempt 1, strength stage: 9 bar lies at 15 % of the range of gauge G-07; "
    "practice asks for 25 to 75 %.",
    passes="9 bar read on 0 to 16 bar, in steps of 0.05 bar.",
)


def run(project: Project, workings: Workings) -> Answer:
    """Look at every stage that claims a pass and has a procedure."""
    return answers(RULE, project, workings, ("gauge_range", "gauge_fine"), lambda verdict: verdict.rated)


CHECK = Check(RULE, run)
