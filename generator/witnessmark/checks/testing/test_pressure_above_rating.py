"""A test went above what the weakest component carries."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.testing.stage_answers import answers
from witnessmark.model.finding import Rule, Severity
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="test-pressure-above-rating",
    question="Did every test stay within the weakest rating at its lowest point?",
    severity=Severity.BREAKS,
    closes="Have the component that was overloaded examined or replaced; declare the ratings in the ratings table.",
    whose="the contractor handing over",
    what="The reading brought to the lowest point, against the weakest component of the sections at the temperature "
    "of the test.",
    why="What was pressed beyond its rating may fail later, in service.",
    example="Test PT-014, attempt 1, strength stage: The lowest point saw 12.9 bar; the weakest "
    "rating, valve V-12, is 10 bar.",
    passes="9.0 bar at the foot of a riser with valves rated 16 bar.",
)


def run(project: Project, workings: Workings) -> Answer:
    """Look at every stage that claims a pass."""
    return answers(RULE, project, workings, ("within_rating",))


CHECK = Check(RULE, run)
