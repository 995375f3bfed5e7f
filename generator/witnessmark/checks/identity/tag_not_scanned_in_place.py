"""Nobody scanned the tag where it hangs."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.model.finding import Rule, Severity
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="tag-not-scanned-in-place",
    question="Was every tag scanned where it hangs, and did it open the page of that pipe?",
    severity=Severity.BREAKS,
    closes="Walk the building, scan every tag in its place and keep the list of code, section, date and role.",
    whose="the contractor handing over",
    what="Scans of the tags in place, against the tag register.",
    why="Two tags that were swapped on the wall are both readable, and both lead to the wrong pipe.",
    example="Tag F7KX2MR of section LTHW-F-R2 was not scanned in place.",
    passes="Tag F7KX2MR was scanned on section LTHW-F-R2 on 12 May 2026 and opened the page of that section.",
)


def run(_project: Project, _workings: Workings) -> Answer:
    """Nothing can be looked at."""
    return Answer(0, ())


CHECK = Check(RULE, run, awaits="scans of the tags in place, which no table holds yet")
