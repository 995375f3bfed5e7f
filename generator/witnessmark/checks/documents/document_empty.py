"""The file of a document holds nothing."""

from witnessmark.checks.documents.document_groups import by_id, document_finding
from witnessmark.checks.judgement import Answer, Check
from witnessmark.model.finding import Rule, Severity
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="document-empty",
    question="Does every document hold something?",
    severity=Severity.WEAKENS,
    closes="Get the file again from whoever made it, and replace the empty one.",
    whose="whoever keeps the records",
    what="The size of every file of the documents table that is there.",
    why="A file of no bytes is a name without a document, left by a copy that broke off.",
    example="The file of document DOC-014 is empty.",
    passes="tests/PT-014.pdf holds 84 kB.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every document whose file is there."""
    there = [row for row in by_id(project.records.documents) if row.size_bytes is not None]
    findings = tuple(
        document_finding(RULE, row, f"The file of document {row.document_id} is empty.", "file")
        for row in there
        if row.size_bytes == 0
    )
    return Answer(len(there), findings)


CHECK = Check(RULE, run)
