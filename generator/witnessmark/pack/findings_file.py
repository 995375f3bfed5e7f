"""Findings for programs and spreadsheets: ``check --json``, and ``findings.json`` and ``findings.csv`` of a pack."""

from __future__ import annotations

import datetime
import json
from pathlib import Path
from typing import TYPE_CHECKING, Any

from witnessmark.model.finding import Finding, Waiver
from witnessmark.model.source import SourceLocation
from witnessmark.pack.csv_writer import write_csv

if TYPE_CHECKING:
    from witnessmark.pipeline import Outcome

FINDINGS_FILE = "findings.json"
FINDINGS_TABLE = "findings.csv"
_HEADER = (
    "check", "severity", "outcome", "message", "remedy", "whose", "subject_kind", "subject", "file", "sheet", "row",
    "column", "heading", "sections", "joints", "concession", "approved_by", "approved_on", "expires_on",
    "guarantee_effect", "reason",
)  # fmt: skip


def findings_document(outcome: Outcome) -> list[dict[str, Any]]:
    """All findings in the order in which to act on them, as ``shared/contract/findings.schema.json`` describes."""
    return [_finding(finding) for finding in outcome.judgement.findings]


def findings_text(outcome: Outcome) -> str:
    """The document as JSON text with one line feed at its end. Lone surrogates, which UTF-8 lacks, become U+FFFD."""
    text = json.dumps(findings_document(outcome), ensure_ascii=False, indent=2) + "\n"
    return text.encode("utf-16", "surrogatepass").decode("utf-16", "replace")


def _finding(finding: Finding) -> dict[str, Any]:
    return {
        "slug": finding.rule.slug,
        "severity": finding.rule.severity.value,
        "outcome": finding.outcome.value,
        "message": finding.message,
        "remedy": finding.remedy,
        "whose": finding.whose or finding.rule.whose,
        "subject": {"kind": finding.subject.kind, "id": finding.subject.id},
        "location": None if finding.location is None else _location(finding.location),
        "related": [_location(place) for place in finding.related],
        "sections": list(finding.section_ids),
        "joints": list(finding.joint_ids),
        "waiver": None if finding.waiver is None else _waiver(finding.waiver),
    }


def _waiver(waiver: Waiver) -> dict[str, Any]:
    return {
        "concession": waiver.concession_id,
        "approved_by_role": waiver.approved_by_role,
        "approved_on": waiver.approved_on.isoformat(),
        "expires_on": waiver.expires_on.isoformat() if waiver.expires_on else None,
        "reason": waiver.reason,
        "guarantee_effect": waiver.guarantee_effect,
    }


def write_findings_table(outcome: Outcome, path: Path) -> int:
    """The same list as a CSV file for spreadsheet programs; returns the number of rows."""
    return write_csv(path, _HEADER, map(_row, outcome.judgement.findings), byte_order_mark=True)


def _row(finding: Finding) -> tuple[str | int | datetime.date | None, ...]:
    place, waiver = finding.location, finding.waiver
    return (
        finding.rule.slug,
        finding.rule.severity.value,
        finding.outcome.value,
        finding.message,
        finding.remedy,
        finding.whose or finding.rule.whose,
        finding.subject.kind,
        finding.subject.id,
        place.file if place else None,
        place.sheet or None if place else None,
        place.row or None if place else None,
        place.column or None if place else None,
        place.heading or None if place else None,
        "; ".join(finding.section_ids),
        "; ".join(finding.joint_ids),
        waiver.concession_id if waiver else None,
        waiver.approved_by_role if waiver else None,
        waiver.approved_on if waiver else None,
        waiver.expires_on if waiver else None,
        waiver.guarantee_effect if waiver else None,
        waiver.reason if waiver else None,
    )


def _location(place: SourceLocation) -> dict[str, Any]:
    return {
        "file": place.file or None,
        "sheet": place.sheet or None,
        "row": place.row or None,
        "column": place.column or None,
        "heading": place.heading or None,
    }
