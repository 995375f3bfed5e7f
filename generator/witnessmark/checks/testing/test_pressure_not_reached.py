"""The required pressure was not reached at the highest point."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.testing.stage_answers import answers
from witnessmark.model.finding import Rule, Severity
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="test-pressure-not-reached",
    question="Did every test reach the pressure that this system needs, at its highest point?",
    severity=Severity.BREAKS,
    closes="Test again at the right pressure; split a tall riser by height.",
    whose="the contractor handing over",
    what="The required pressure is worked out from this system and the procedure; the reading is brought to the "
    "highest point by static head. What the certificate asks for is compared with it.",
    why="Ten metres of water weigh one bar: a gauge in the basement does not show what the top saw.",
    example="Test PT-014, attempt 1, strength stage: The highest point saw 5.1 bar, with 9 bar at the "
    "gauge; required there is 9 bar.",
    passes="A riser of 40 m tested at its base to 13.0 bar saw 9.1 bar at the top, where 9.0 bar is asked for.",
)


def run(project: Project, workings: Workings) -> Answer:
    """Look at every stage that claims a pass and has a procedure."""
    return answers(
        RULE, project, workings, ("required_pressure", "pressure_reached", "unit"), lambda verdict: verdict.rated
    )


CHECK = Check(RULE, run)
