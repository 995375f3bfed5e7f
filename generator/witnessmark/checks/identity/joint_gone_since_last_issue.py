"""A joint of an earlier issue is in no row of the log today."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.model.finding import Rule, Severity
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="joint-gone-since-last-issue",
    question="Is every joint of the earlier issue still in the log?",
    severity=Severity.WEAKENS,
    closes="Put the row back; a joint that no longer counts is void, with its reason, and is never deleted.",
    whose="whoever keeps the records",
    what="The joint ids of the earlier issue against those of this one.",
    why="A row that is deleted takes with it what was known of the joint, and nobody sees that it is gone.",
    example="Joint LTHW-F-R2-J014-A of issue P01 is in no row of the joint log of issue P02.",
    passes="Joint LTHW-F-R2-J014-A of issue P01 stands in the log of issue P02 as void, with the reason.",
)


def run(_project: Project, _workings: Workings) -> Answer:
    """Nothing can be looked at."""
    return Answer(0, ())


CHECK = Check(RULE, run, awaits="the joint log of the earlier issue, which no table holds yet")
