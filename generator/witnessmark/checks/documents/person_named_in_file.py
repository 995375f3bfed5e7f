"""The name of a person stands in the file name or title of a document that others than the auditor get."""

from witnessmark.checks.documents.document_groups import CARRIERS, by_id
from witnessmark.checks.documents.named_people import NamedPeople, whom
from witnessmark.checks.judgement import Answer, Check
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Document
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="person-named-in-file",
    question="Are file names and titles outside the audit edition free of names of people?",
    severity=Severity.BREAKS,
    closes="Name the file and the document by its number or the operative's code, or give its row the edition 'audit'; then "
    "build again.",
    whose="whoever keeps the records",
    what="File names and titles of documents for the tag or the facilities edition, against names and other spellings of the "
    "operatives table, in either order, whatever stands between the words. Initials are not looked for: two letters occur "
    "everywhere.",
    why="Whoever scans a tag in a corridor has no business knowing who worked there.",
    example="The file name of document DOC-022, for the facilities edition, holds the name of operative OP-03.",
    passes="Document DOC-022 is called 'Training certificate OP-03' and is for the audit edition.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every document for the tag or the facilities edition."""
    asked = [row for row in by_id(project.records.documents) if row.edition in CARRIERS]
    people = NamedPeople(project)
    findings = []
    for row in asked:
        for field, text in (("file", row.file), ("title", row.title)):
            codes = people.codes_in(text or "")
            if codes:
                findings.append(_finding(row, field, codes))
                break
    return Answer(len(asked), tuple(findings))


def _finding(row: Document, field: str, codes: list[str]) -> Finding:
    what = "file name" if field == "file" else "title"
    return Finding(
        RULE,
        Outcome.FAIL,
        f"The {what} of document {row.document_id}, for the {row.edition} edition, holds the name of {whom(codes)}.",
        RULE.closes,
        Subject("document", row.document_id),
        row.source.place(field),
        (row.source.place("edition"),),
        RULE.whose,
    )


CHECK = Check(RULE, run)
