"""A reading did not move although the temperature did."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.testing.stage_answers import answers, pressures_read
from witnessmark.model.finding import Rule, Severity
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="zero-drop-with-temperature-change",
    question="Did every reading move as the temperature says it should?",
    severity=Severity.WEAKENS,
    closes="Explain it, or test again with a logger.",
    whose="the contractor handing over",
    what="Readings that stayed within half a step of the gauge while the temperature should have moved them by two "
    "steps or more, even with trapped air.",
    why="Air, a gauge that stuck, a figure carried over, or luck: it is no proof of anything, and asks for an explanation.",
    example="9.0 bar at start and end; the water cooled by 6 K.",
    passes="9.0 bar at start and end; the water stayed at 14 °C.",
)


def run(project: Project, workings: Workings) -> Answer:
    """Look at every stage that claims a pass."""
    return answers(RULE, project, workings, ("stuck",), pressures_read)


CHECK = Check(RULE, run)
