"""A document is listed, and its row names no file."""

from witnessmark.checks.documents.document_groups import told_by_kind
from witnessmark.checks.judgement import Answer, Check
from witnessmark.model.finding import Rule, Severity
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="document-without-file",
    question="Does every row of the documents table name a file?",
    severity=Severity.WEAKENS,
    closes="Put the file below documents/ and write its path into the row, or take the row out.",
    whose="whoever keeps the records",
    what="Rows of the documents table whose file cell is blank. A file that is named and not there is told by the reading.",
    why="A certificate that is only listed cannot be looked at.",
    example="Document DOC-014 (test certificate) names no file.",
    passes="Document DOC-014 names tests/PT-014.pdf, and the file is there.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every document; one finding a kind."""
    blank = []
    for document in project.records.documents:
        cell = document.source.cell("file")
        if document.file is None and not (cell is not None and cell.raw.strip()):
            blank.append(document)
    findings = told_by_kind(RULE, blank, "file", ("names no file", "name no file"))
    return Answer(len(project.records.documents), tuple(findings))


CHECK = Check(RULE, run)
