"""A document that shows something of a day has no date."""

from witnessmark.checks.documents.document_groups import told_by_kind
from witnessmark.checks.judgement import Answer, Check
from witnessmark.model.finding import Rule, Severity
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="document-undated",
    question="Does every certificate, record and letter have a date?",
    severity=Severity.TIDY,
    closes="Write the date that stands on the document into its row.",
    whose="whoever keeps the records",
    what="The date cell of documents that show what was so on a day: certificates, service records, analyses, "
    "letters, registrations, permits, delivery notes. Drawings go by their revision; photos, manuals, method statements "
    "and logger files are not asked.",
    why="A certificate is worth something for its day.",
    example="Documents DOC-014 and DOC-015 (test certificate) have no date in their rows.",
    passes="DOC-014 is dated 9 March 2026.",
)
_OF_A_DAY = frozenset(
    {
        "test_certificate",
        "calibration_certificate",
        "service_record",
        "training_certificate",
        "material_certificate",
        "delivery_note",
        "hot_work_permit",
        "water_analysis",
        "letter",
        "registration",
    }
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at documents that show what was so on a day; one finding a kind."""
    asked = [row for row in project.records.documents if row.kind in _OF_A_DAY]
    blank = [row for row in asked if row.date is None]
    findings = told_by_kind(RULE, blank, "date", ("has no date in its row", "have no date in their rows"))
    return Answer(len(asked), tuple(findings))


CHECK = Check(RULE, run)
