"""A concession needs the guarantor's consent, and the records do not show it."""

from witnessmark.checks.concessions.decided import accepted, concession_finding
from witnessmark.checks.judgement import Answer, Check
from witnessmark.model.finding import Outcome, Rule, Severity
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="guarantor-consent-missing",
    question="Did the guarantor agree in writing to every concession that needs it?",
    severity=Severity.BREAKS,
    closes="Ask the guarantor in writing, and write the answer and the letter into the row of the concession.",
    whose="the contractor handing over",
    what="Accepted concessions: what they do to the guarantee must be said; where the guarantor's consent is needed, it must "
    "be recorded, with its letter in the documents table.",
    why="A client can waive a rule of the contract. Only the guarantor can waive one of the guarantee.",
    example="Concession CN-004 needs the guarantor's consent, and its row says that there is none.",
    passes="Concession CN-004 needs the guarantor's consent; it was given, in letter DOC-031.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every accepted concession."""
    rows = accepted(project)
    findings = []
    for row in rows:
        name = f"Concession {row.concession_id}"
        if row.guarantee_effect is None:
            message, outcome = f"{name} does not say what it does to the guarantee.", Outcome.CANNOT_TELL
            field = "guarantee_effect"
        elif row.guarantee_effect != "needs_consent":
            continue
        elif row.guarantor_consent is None:
            message = f"{name} needs the guarantor's consent, and its row does not say whether it was given."
            outcome, field = Outcome.CANNOT_TELL, "guarantor_consent"
        elif not row.guarantor_consent:
            message = f"{name} needs the guarantor's consent, and its row says that there is none."
            outcome, field = Outcome.FAIL, "guarantor_consent"
        elif row.document_id is None:
            message = f"{name} has the guarantor's consent by its row, and no letter is named that shows it."
            outcome, field = Outcome.CANNOT_TELL, "document_id"
        else:
            continue
        findings.append(concession_finding(RULE, outcome, row, message, field))
    return Answer(len(rows), tuple(findings))


CHECK = Check(RULE, run)
