"""One operative is logged on two levels in the same minute."""

from witnessmark.checks.anomalies.same_minute import two_levels_in_a_minute
from witnessmark.checks.judgement import Answer, Check
from witnessmark.model.finding import Rule, Severity
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="one-operative-in-two-places",
    question="Was every operative in one place at a time?",
    severity=Severity.WEAKENS,
    closes="Correct the operative, time or level of the joints, or say how the log was kept.",
    whose="the subcontractor who made the joints",
    what="Joints that name the same operative and the same minute on levels that have none in common. Looked at where "
    "minutes and levels are recorded.",
    why="Times that cannot be right were filled in later, or from one line down; then who pressed the joint may be a guess too.",
    example="Operative OP-03 is logged at 10:40 on 2 March 2026 on level 1 (joint J001) and on level 3 (joint J050). Can you say "
    "which entry is right?",
    passes="Operative OP-03 is logged on level 1 at 10:40 and on level 3 from 11:20 on.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every pressed joint with its time."""
    return two_levels_in_a_minute(RULE, project, "operative_id", "operative", "Operative")


CHECK = Check(RULE, run)
