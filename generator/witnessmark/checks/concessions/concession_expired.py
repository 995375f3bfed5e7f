"""A concession had ended at the date of the issue."""

from witnessmark.checks.concessions.decided import accepted, concession_finding
from witnessmark.checks.judgement import Answer, Check
from witnessmark.model.day_words import day_words
from witnessmark.model.finding import Outcome, Rule, Severity
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="concession-expired",
    question="Is every concession still in force on the day of the issue?",
    severity=Severity.BREAKS,
    closes="Put right what was departed from, or have the concession accepted anew and write it as a new row.",
    whose="the contractor handing over",
    what="Accepted concessions with a last day: it must not lie before the issue, nor before the day of approval. The last "
    "day itself is in force. A later concession that replaces it has a row of its own: take the old one's check away "
    "only by putting right what was departed from.",
    why="What was accepted for a time is a fault again when the time is over.",
    example="Concession CN-004 on 'gauge-unfit' ended on 30 April 2026; the issue is of 15 May 2026.",
    passes="Concession CN-004 ends on 12 March 2027; the issue is of 15 May 2026.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every accepted concession with a last day."""
    issue = project.settings.issue.date
    examined = 0
    findings = []
    for row in accepted(project):
        if row.expires_on is None:
            continue
        examined += 1
        ended = day_words(row.expires_on)
        if row.approved_on is not None and row.expires_on < row.approved_on:
            message = f"Concession {row.concession_id} ends on {ended}, before it was accepted on {day_words(row.approved_on)}."
        elif row.expires_on < issue:
            of = f" on '{row.check}'" if row.check else ""
            message = f"Concession {row.concession_id}{of} ended on {ended}; the issue is of {day_words(issue)}."
        else:
            continue
        findings.append(concession_finding(RULE, Outcome.FAIL, row, message, "expires_on"))
    return Answer(examined, tuple(findings))


CHECK = Check(RULE, run)
