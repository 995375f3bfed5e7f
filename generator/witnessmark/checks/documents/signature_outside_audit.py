"""A signature or a certificate with names is offered to an edition that it is not for."""

from witnessmark.checks.documents.document_groups import CARRIERS, by_id
from witnessmark.checks.judgement import Answer, Check
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Document
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="signature-outside-audit",
    question="Are signatures, training certificates and other papers with names kept out of the editions they are not for?",
    severity=Severity.BREAKS,
    closes="Give the row of the document the edition 'audit', and build again; for other readers carry a copy without names "
    "as a document of its own.",
    whose="whoever keeps the records",
    what="By the kind of document: signatures and training certificates are for the audit edition only. Certificates, service "
    "records, permits, letters and registrations carry names of people and are not for the tag edition.",
    why="A signature can be copied, and a name in a corridor helps nobody who stands before a leak.",
    example="Document DOC-022 is a signature and is offered to the facilities edition.",
    passes="Document DOC-022 is a signature and is for the audit edition.",
)
_AUDIT_ONLY = frozenset({"signature", "training_certificate"})
_NOT_ON_TAGS = frozenset(
    {
        "test_certificate",
        "calibration_certificate",
        "service_record",
        "hot_work_permit",
        "water_analysis",
        "letter",
        "registration",
        "delivery_note",
    }
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every document for the tag or the facilities edition."""
    asked = [row for row in by_id(project.records.documents) if row.edition in CARRIERS]
    findings = tuple(
        _finding(row) for row in asked if row.kind in _AUDIT_ONLY or (row.edition == "tag" and row.kind in _NOT_ON_TAGS)
    )
    return Answer(len(asked), findings)


def _finding(row: Document) -> Finding:
    kind = (row.kind or "").replace("_", " ")
    return Finding(
        RULE,
        Outcome.FAIL,
        f"Document {row.document_id} is a {kind} and is offered to the {row.edition} edition.",
        RULE.closes,
        Subject("document", row.document_id),
        row.source.place("edition"),
        (row.source.place("kind"),),
        RULE.whose,
    )


CHECK = Check(RULE, run)
