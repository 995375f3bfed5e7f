"""Findings for programs: the list that ``check --json`` prints and ``OUT/findings.json`` holds."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

from witnessmark.model.finding import Finding
from witnessmark.model.source import SourceLocation

if TYPE_CHECKING:
    from witnessmark.pipeline import Outcome

FINDINGS_FILE = "findings.json"


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
    }


def _location(place: SourceLocation) -> dict[str, Any]:
    return {
        "file": place.file or None,
        "sheet": place.sheet or None,
        "row": place.row or None,
        "column": place.column or None,
        "heading": place.heading or None,
    }
