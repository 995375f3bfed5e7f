"""A snag of class B is open after its day."""

from witnessmark.checks.handover.snag_state import claims_closed
from witnessmark.checks.judgement import Answer, Check
from witnessmark.model.day_words import day_words
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="snag-overdue",
    question="Is every open snag of class B still inside its time?",
    severity=Severity.WEAKENS,
    closes="Put it right and close it, or agree a new day with the role that raised it and write it into the row.",
    whose="the owner of the snag",
    what="Open snags of class B: the day by which they are to be put right, against the day of the issue. The day itself is in "
    "time. Without such a day it cannot be told.",
    why="A defect that was left for after handover is forgotten unless it has a day.",
    example="Snag SN-020 of class B was to be put right by 1 May 2026 and is open at the issue of 15 May 2026, 14 days later.",
    passes="Snag SN-020 of class B is open and due on 12 June 2026; the issue is of 15 May 2026.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every open snag of class B; one finding a snag."""
    issue = project.settings.issue.date
    examined = 0
    findings = []
    for snag in sorted(project.records.snags, key=lambda row: row.snag_id):
        if snag.snag_class != "B":
            continue
        examined += 1
        if claims_closed(snag) or (snag.due_on is not None and snag.due_on >= issue):
            continue
        if snag.due_on is None:
            outcome = Outcome.CANNOT_TELL
            message = f"Snag {snag.snag_id} of class B is open and has no day by which it is to be put right."
        else:
            outcome = Outcome.FAIL
            days = (issue - snag.due_on).days
            message = (
                f"Snag {snag.snag_id} of class B was to be put right by {day_words(snag.due_on)} and is open at the issue of "
                f"{day_words(issue)}, {days} {'day' if days == 1 else 'days'} later."
            )
        findings.append(
            Finding(
                RULE,
                outcome,
                message,
                RULE.closes,
                Subject("snag", snag.snag_id),
                snag.source.place("due_on"),
                (snag.source.place("closed_on"),),
                snag.owner_role or RULE.whose,
                snag.section_ids,
                snag.joint_ids,
            )
        )
    return Answer(examined, tuple(findings))


CHECK = Check(RULE, run)
