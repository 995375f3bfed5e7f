"""A document is dated after the issue that carries it."""

from witnessmark.checks.documents.document_groups import by_id, document_finding
from witnessmark.checks.judgement import Answer, Check
from witnessmark.model.day_words import day_words
from witnessmark.model.finding import Rule, Severity
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="document-dated-after-issue",
    question="Is every document older than the issue that carries it?",
    severity=Severity.WEAKENS,
    closes="Correct the date in the row of the document, or the date of the issue; where the document itself is wrong, have it "
    "made again.",
    whose="whoever keeps the records",
    what="The date of every document against the date of the issue. The same day is in order.",
    why="A paper from tomorrow was not seen when the issue was made.",
    example="Document DOC-014 is dated 9 June 2026; the issue is of 15 May 2026.",
    passes="Document DOC-014 is dated 9 March 2026; the issue is of 15 May 2026.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every dated document."""
    issue = project.settings.issue.date
    dated = [row for row in by_id(project.records.documents) if row.date is not None]
    findings = tuple(
        document_finding(
            RULE,
            row,
            f"Document {row.document_id} is dated {day_words(row.date)}; the issue is of {day_words(issue)}.",
            "date",
        )
        for row in dated
        if row.date is not None and row.date > issue
    )
    return Answer(len(dated), findings)


CHECK = Check(RULE, run)
