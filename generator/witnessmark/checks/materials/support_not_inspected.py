"""A support failed its inspection, or has none on record."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.materials.support_gaps import SupportGaps, support_finding
from witnessmark.model.day_words import day_words
from witnessmark.model.finding import Outcome, Rule, Severity
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="support-not-inspected",
    question="Were all supports and guides inspected and found right?",
    severity=Severity.TIDY,
    closes="Put right what failed, inspect again, and write day and result into the supports table.",
    whose="the contractor handing over",
    what="Day and result of the inspection of every row of supports and guides. Anchors and expansion devices are asked "
    "about where a section moves so much that it needs them.",
    why="Loose supports let pipe swing and sag, and its joints work.",
    example="Support SUP-3 on section H-2: it failed its inspection of 12 May 2026.",
    passes="Support SUP-3 on section H-2 passed its inspection of 12 May 2026.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every row of supports and guides."""
    gaps = SupportGaps(RULE, project, RULE.closes)
    findings = []
    examined = 0
    for support in project.records.supports:
        if support.kind not in ("support", "guide", None):
            continue
        examined += 1
        if support.result == "fail":
            when = f" of {day_words(support.inspected_on)}" if support.inspected_on is not None else ""
            words = f"it failed its inspection{when}."
            findings.append(support_finding(RULE, Outcome.FAIL, support, words, "result"))
            continue
        if support.inspected_on is None:
            gaps.add(support, "inspected_on", "the day of the inspection")
        if support.result is None:
            gaps.add(support, "result", "the result of the inspection")
    return Answer(examined, (*findings, *gaps.findings()))


CHECK = Check(RULE, run)
