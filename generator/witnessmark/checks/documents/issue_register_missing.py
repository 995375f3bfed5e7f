"""This issue cannot be held against the issues before it."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.model.finding import Rule, Severity
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="issue-register-missing",
    question="Does this issue follow the one before it, with a list of every difference?",
    severity=Severity.BREAKS,
    closes="Keep the records of every issue, and list what was added, taken away and changed since the last one, and why.",
    whose="the contractor handing over",
    what="Number and date of this issue against the last one, a change log with every difference of the records, and the "
    "hashes of the files of the issue. It is listed here and cannot be asked yet; tag codes of earlier issues are "
    "another question.",
    why="Nothing that was once handed over may go away in silence.",
    example="Issue C02 lacks joint LTHW-F-R2-J014-A of issue C01, and no change is recorded.",
    passes="Issue C02 lists every difference from issue C01 with its reason.",
)


def run(_project: Project, _workings: Workings) -> Answer:
    """It waits for the register of earlier issues."""
    return Answer(0, ())


CHECK = Check(RULE, run, awaits="the register of earlier issues, which no table holds yet")
