"""What was repaired, set aside, counted and found, as tables of the export."""

from __future__ import annotations

from collections.abc import Callable
from operator import attrgetter
from typing import TYPE_CHECKING, Any

from witnessmark.model.finding import Finding, Severity
from witnessmark.model.finding import Outcome as Answer
from witnessmark.model.source import SourceLocation
from witnessmark.pack.data_table import DataColumn, DataTable, ForeignKey, figure
from witnessmark.pack.record_tables import record_number, reference_columns, register_keys

if TYPE_CHECKING:
    from witnessmark.pipeline import Outcome


def repairs(outcome: Outcome) -> DataTable:
    """The repair ledger."""
    return DataTable(
        name="repairs",
        title="Repair ledger",
        description="One row a value that was read as something other than its plain text.",
        primary_key="record",
        columns=(
            record_number("repairs"),
            figure("table", "string", "Table", "Table of the contract.", attrgetter("table")),
            figure("field", "string", "Field", "Column of the contract.", attrgetter("field")),
            figure("raw", "string", "As it stood", "Text of the cell.", attrgetter("raw")),
            figure("read", "string", "Read as", "Value that was read.", attrgetter("read")),
            figure("reason", "string", "Reason", "Why it was read so.", attrgetter("reason")),
            *_place(attrgetter("location")),
        ),
        rows=outcome.project.repairs,
    )


def set_aside(outcome: Outcome) -> DataTable:
    """Rows that became no record."""
    return DataTable(
        name="set_aside",
        title="Rows set aside",
        description="One row a row of the records that became no record, with the reason.",
        primary_key="record",
        columns=(
            record_number("set_aside"),
            figure("table", "string", "Table", "Table of the contract.", attrgetter("table")),
            figure("reason", "string", "Reason", "Why the row was set aside.", attrgetter("reason")),
            figure("raw", "string", "As it stood", "Text of the row.", attrgetter("raw")),
            *_place(attrgetter("location")),
        ),
        rows=outcome.project.set_aside,
    )


def accounts(outcome: Outcome) -> DataTable:
    """The sum of every file and sheet."""
    return DataTable(
        name="accounts",
        title="Accounts",
        description="One row a file or sheet read: rows in = used + set aside. Headings count, blank rows do not.",
        primary_key="record",
        columns=(
            record_number("accounts"),
            figure("table", "string", "Table", "Table of the contract.", attrgetter("table")),
            figure("rows_in", "integer", "Rows in", "Rows that hold anything.", attrgetter("rows_in")),
            figure("rows_used", "integer", "Rows used", "Rows that records were made of.", attrgetter("rows_used")),
            figure("rows_set_aside", "integer", "Set aside", "Rows in set_aside.csv.", attrgetter("rows_set_aside")),
            figure("records", "integer", "Records", "Records made; more than rows used where a row stood for several.",
                   attrgetter("records")),
            figure("source_file", "string", "Source file", "File, relative to the project folder.", attrgetter("file")),
            figure("source_sheet", "string", "Source sheet", "Sheet; empty for a CSV file.", attrgetter("sheet")),
            figure("sha256", "string", "SHA-256", "Digest of the file as it was read.", attrgetter("sha256")),
        ),
        rows=outcome.project.accounts,
    )  # fmt: skip


def findings(outcome: Outcome) -> DataTable:
    """All findings, in the order in which to act on them."""

    def some(get: Callable[[Finding], Any]) -> Callable[[Finding], Any]:
        return lambda finding: get(finding) or None

    return DataTable(
        name="findings",
        title="Findings",
        description="One row an answer other than pass, in the order in which to act on them.",
        primary_key="record",
        columns=(
            record_number("findings"),
            figure("slug", "string", "Rule", "Permanent name of the rule and its fault.", attrgetter("rule.slug")),
            figure("severity", "string", "Severity", "How bad it is for the evidence.",
                   lambda f: f.rule.severity.value, enum=[s.value for s in Severity]),
            figure("outcome", "string", "Outcome", "How the question ended; only a pass, which is no finding, is good.",
                   lambda f: f.outcome.value, enum=[a.value for a in Answer if a is not Answer.PASS]),
            figure("message", "string", "Message", "The fact, with its values.", attrgetter("message")),
            figure("remedy", "string", "Remedy", "What would close it.", attrgetter("remedy")),
            figure("whose", "string", "Whose", "Whose job that is.", some(lambda f: f.whose or f.rule.whose)),
            figure("subject_kind", "string", "About", "Kind of thing that it is about.", attrgetter("subject.kind")),
            figure("subject_id", "string", "Id", "Id of the thing.", attrgetter("subject.id")),
            figure("section_ids", "string", "Sections", "Sections concerned; finding_sections.csv has them one by one.",
                   some(lambda f: "; ".join(f.section_ids))),
            figure("related", "string", "Related places", "Other places in the records.",
                   some(lambda f: "; ".join(place.words for place in f.related))),
            *_place(attrgetter("location")),
        ),
        rows=outcome.judgement.findings,
    )  # fmt: skip


def finding_sections(outcome: Outcome) -> DataTable:
    """One row per finding and section that it concerns."""
    section = {
        "name": "section_id",
        "type": "string",
        "title": "Section",
        "description": "Section that the finding concerns.",
    }
    known = register_keys(outcome.project.records, "sections")
    inside, outside = reference_columns(section, "sections", known, lambda row: row[1])
    return DataTable(
        name="finding_sections",
        title="Sections of findings",
        description="One row per finding and section that it concerns.",
        primary_key="record",
        columns=(
            record_number("finding_sections"),
            figure("finding_record", "string", "Finding", "Row of findings.csv.", lambda row: row[0], required=True),
            inside,
            outside,
        ),
        rows=[
            (f"findings-{number:06d}", section_id)
            for number, finding in enumerate(outcome.judgement.findings, start=1)
            for section_id in finding.section_ids
        ],
        foreign_keys=(
            ForeignKey("finding_record", "findings", "record"),
            ForeignKey("section_id", "sections", "section_id"),
        ),
    )


def _place(where: Callable[[Any], SourceLocation | None]) -> tuple[DataColumn, ...]:
    def of(part: str) -> Callable[[Any], Any]:
        return lambda row: getattr(where(row), part, None) or None

    return (
        figure("source_file", "string", "Source file", "File, relative to the project folder.", of("file")),
        figure("source_sheet", "string", "Source sheet", "Sheet; empty for a CSV file.", of("sheet")),
        figure("source_row", "integer", "Source row", "Row as a spreadsheet numbers it.", of("row")),
        figure("source_column", "string", "Source column", "Letter of the column.", of("column")),
        figure("source_heading", "string", "Source heading", "Heading above the column.", of("heading")),
    )  # fmt: skip
