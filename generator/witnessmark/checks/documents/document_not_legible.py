"""A document cannot be read by a person."""

from witnessmark.checks.documents.document_groups import by_id, document_finding, told_by_kind
from witnessmark.checks.judgement import Answer, Check
from witnessmark.model.finding import Rule, Severity
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="document-not-legible",
    question="Did somebody look at every document and find that it can be read?",
    severity=Severity.WEAKENS,
    closes="Scan or photograph it again from the original; look at it, and write 'yes' into its legible cell.",
    whose="whoever keeps the records",
    what="The legible cell of every document whose file is there. A blank one cannot tell, and is told once a kind. Logger "
    "files are not asked: the reading reads them.",
    why="A certificate that cannot be read shows nothing.",
    example="Document DOC-014 cannot be read, by its row.",
    passes="Somebody looked at DOC-014 and could read it.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every document with a file; blanks are one finding a kind."""
    asked = [row for row in by_id(project.records.documents) if row.size_bytes and row.kind != "logger_file"]
    findings = [
        document_finding(RULE, row, f"Document {row.document_id} cannot be read, by its row.", "legible")
        for row in asked
        if row.legible is False
    ]
    blank = [row for row in asked if row.legible is None]
    unknown = "does not say whether it can be read", "do not say whether they can be read"
    return Answer(len(asked), (*findings, *told_by_kind(RULE, blank, "legible", unknown)))


CHECK = Check(RULE, run)
