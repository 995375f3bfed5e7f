"""A document is not the file that its maker sent."""

from witnessmark.checks.documents.document_groups import by_id, document_finding
from witnessmark.checks.judgement import Answer, Check
from witnessmark.model.finding import Rule, Severity
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="document-differs-from-its-hash",
    question="Is every document that came with a hash still the file that its maker sent?",
    severity=Severity.WEAKENS,
    closes="Get the file again from whoever made it, and say what was changed in the one that is here.",
    whose="whoever keeps the records",
    what="Documents with a declared SHA-256 and a file: the hash of the file against it, upper and lower case alike.",
    why="A file that changed after it was sent is no longer what was certified, for whatever reason.",
    example="The file of document DOC-014 is not the one that its maker sent: its SHA-256 begins 3f9a01c2, and the "
    "one declared begins 77b0e4d1.",
    passes="The file of document DOC-014 has the SHA-256 that was declared.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every document with a declared hash and a file."""
    findings = []
    examined = 0
    for row in by_id(project.records.documents):
        if not row.declared_sha256 or row.sha256 is None:
            continue
        examined += 1
        declared = "".join(row.declared_sha256.split()).casefold().removeprefix("sha256:")
        if declared != row.sha256.casefold():
            message = (
                f"The file of document {row.document_id} is not the one that its maker sent: its SHA-256 begins "
                f"{row.sha256[:8]}, and the one declared begins {declared[:8]}."
            )
            findings.append(document_finding(RULE, row, message, "declared_sha256"))
    return Answer(examined, tuple(findings))


CHECK = Check(RULE, run)
