"""A snag is said to be closed, and the row does not say by whom or when."""

from witnessmark.checks.handover.snag_state import claims_closed
from witnessmark.checks.judgement import Answer, Check
from witnessmark.model.day_words import day_words
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Snag
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="snag-closing-not-shown",
    question="Does every closed snag say who closed it and when?",
    severity=Severity.BREAKS,
    closes="Write the day and the role of closing into the row of the snag, as the record of the inspection has them.",
    whose="the owner of the snag",
    what="Snags with a day or a role of closing: both must be there, and the day must lie between the raising of the snag and "
    "the issue.",
    why="A closed snag is somebody's word that it was put right; without a role and a day it is nobody's.",
    example="Snag SN-012 was closed on 5 March 2026, and its row does not say by which role.",
    passes="Snag SN-012 was closed on 5 March 2026 by the contractor's commissioning engineer.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every snag that is said to be closed; one finding a snag."""
    snags = [snag for snag in sorted(project.records.snags, key=lambda row: row.snag_id) if claims_closed(snag)]
    findings = [finding for snag in snags if (finding := _judged(project, snag)) is not None]
    return Answer(len(snags), tuple(findings))


def _judged(project: Project, snag: Snag) -> Finding | None:
    name, day = f"Snag {snag.snag_id}", snag.closed_on
    if day is None:
        message = f"{name} has a role that closed it, and its row does not say when."
        return _finding(snag, Outcome.CANNOT_TELL, message, "closed_on")
    if snag.raised_on is not None and day < snag.raised_on:
        message = f"{name} was closed on {day_words(day)}, before it was raised on {day_words(snag.raised_on)}."
        return _finding(snag, Outcome.FAIL, message, "closed_on")
    if day > project.settings.issue.date:
        message = f"{name} was closed on {day_words(day)}, after the issue of {day_words(project.settings.issue.date)}."
        return _finding(snag, Outcome.FAIL, message, "closed_on")
    if not snag.closed_by_role:
        message = f"{name} was closed on {day_words(day)}, and its row does not say by which role."
        return _finding(snag, Outcome.CANNOT_TELL, message, "closed_by_role")
    return None


def _finding(snag: Snag, outcome: Outcome, message: str, field: str) -> Finding:
    return Finding(
        RULE,
        outcome,
        message,
        RULE.closes,
        Subject("snag", snag.snag_id),
        snag.source.place(field),
        (snag.source.place("raised_on"),) if outcome is Outcome.FAIL else (),
        snag.owner_role or RULE.whose,
        snag.section_ids,
        snag.joint_ids,
    )


CHECK = Check(RULE, run)
