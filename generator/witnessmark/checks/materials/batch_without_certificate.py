"""The certificate of a batch is not in the pack."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.materials.batch_use import batch_finding, batch_gaps, batches_in_use, unread
from witnessmark.model.finding import Outcome, Rule, Severity
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="batch-without-certificate",
    question="Is the certificate of every batch in the pack?",
    severity=Severity.WEAKENS,
    closes="Get the certificate from the supplier, put it among the documents and name it in the batch register.",
    whose="the contractor handing over",
    what="Type of inspection document and certificate in the documents table, of every batch of tube, fittings or "
    "valves in use. Seals have none of their own: they come in the fitting.",
    why="Without its certificate, what a tube or fitting is made of rests on the look of it.",
    example="Batch B-17, used for 12 joints, the first of them J014, is recorded as having no certificate.",
    passes="Batch B-17 has a certificate 3.1, document DOC-MCU.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every batch of tube, fittings or valves in use."""
    uses = [use for use in batches_in_use(project) if use.batch.item not in ("seal", "other")]
    findings = []
    no_document = []
    no_type = []
    asked_by_terms = {m for m, terms in project.settings.guarantee.items() if terms.certificate_type}
    for use in uses:
        batch = use.batch
        if batch.certificate_type == "none":
            if batch.material not in asked_by_terms:
                message = f"Batch {batch.batch_id}, used for {use.words}, is recorded as having no certificate."
                findings.append(batch_finding(RULE, Outcome.FAIL, use, message, "certificate_type"))
        elif batch.document_id is None:
            no_document.append(use)
        elif batch.certificate_type is None and batch.material not in asked_by_terms:
            no_type.append(use)
    gaps = [
        *batch_gaps(RULE, project, no_document, "document_id", "which document is the certificate"),
        *batch_gaps(RULE, project, no_type, "certificate_type", "what type of certificate there is"),
    ]
    told = unread(no_document, "document_id") + unread(no_type, "certificate_type")
    return Answer(len(uses) - told, (*findings, *gaps))


CHECK = Check(RULE, run)
