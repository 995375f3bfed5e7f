"""Joints were not all looked at during a test."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.testing.stage_answers import answers
from witnessmark.model.finding import Rule, Severity
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="joints-not-looked-at",
    question="Was every joint looked at during every stage of its test?",
    severity=Severity.WEAKENS,
    closes="Look at every joint under pressure and record it; test again where the joints can no longer be seen.",
    whose="the tester",
    what="The cell that says whether all joints were looked at, of every stage recorded as passed.",
    why="A gauge cannot show a drip in a large section; eyes on every joint can.",
    example="Test PT-014, attempt 1, visual stage: The joints were not all looked at.",
    passes="Test PT-014: joints looked at, yes, in the visual, leak and strength stages.",
)


def run(project: Project, workings: Workings) -> Answer:
    """Look at every stage that claims a pass."""
    return answers(RULE, project, workings, ("inspected",), remedy=RULE.closes)


CHECK = Check(RULE, run)
