"""A concession names no check, or one that there is not."""

import difflib

from witnessmark.checks.concessions.decided import concession_finding
from witnessmark.checks.judgement import Answer, Check
from witnessmark.model.finding import Outcome, Rule, Severity
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="concession-for-unknown-check",
    question="Does every concession name a check that there is?",
    severity=Severity.WEAKENS,
    closes="Copy the name of the check, as the finding that is to be accepted shows it, into the row of the concession.",
    whose="whoever keeps the records",
    what="The check of every concession, against the names of all checks. One that names none cannot be applied; nor can one "
    "that names a fault of reading, such as an unreadable date.",
    why="A concession for a check that does not exist waives nothing, and the finding that it was meant for stands.",
    example="Concession CN-004 names the check 'gauge-unift', which there is not; did it mean 'gauge-unfit'?",
    passes="Concession CN-004 names the check 'gauge-unfit'.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every concession."""
    # The list of checks holds this one: at import time it is not there yet.
    from witnessmark.checks.registry import CHECKS, RULES

    known = {check.rule.slug for check in CHECKS}
    not_waivable = {rule.slug for rule in RULES} - known
    rows = sorted(project.records.concessions, key=lambda row: row.concession_id)
    findings = []
    for row in rows:
        if row.check in known:
            continue
        if row.check is None:
            message = f"Concession {row.concession_id} names no check, so nothing can be waived by it."
            findings.append(concession_finding(RULE, Outcome.CANNOT_TELL, row, message, "check"))
            continue
        if row.check in not_waivable:
            message = (
                f"Concession {row.concession_id} names '{row.check}', a fault of reading the records: it can be put right "
                "and cannot be accepted."
            )
            findings.append(concession_finding(RULE, Outcome.FAIL, row, message, "check"))
            continue
        near = difflib.get_close_matches(row.check, sorted(known), 1)
        hint = f"; did it mean '{near[0]}'?" if near else "."
        message = f"Concession {row.concession_id} names the check '{row.check}', which there is not{hint}"
        findings.append(concession_finding(RULE, Outcome.FAIL, row, message, "check"))
    return Answer(len(rows), tuple(findings))


CHECK = Check(RULE, run)
