"""Findings as pages show them: in full for the auditor, as counted questions for facilities staff."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import NamedTuple

from witnessmark.model.finding import Finding, Outcome, Severity
from witnessmark.pages.frame import Link
from witnessmark.pages.words import clean, counted

SEVERITY_WORDS = {
    Severity.BREAKS: "breaks the evidence",
    Severity.WEAKENS: "weakens the evidence",
    Severity.TIDY: "tidiness",
}
OUTCOME_KEYS = {Outcome.PASS: "pass", Outcome.FAIL: "fail", Outcome.CANNOT_TELL: "unknown", Outcome.WAIVED: "waived"}


class State(NamedTuple):
    """A state: its words, and the key that decides its shape."""

    words: str
    key: str


class FindingView(NamedTuple):
    """One finding in full."""

    state: State
    severity: str
    message: str
    remedy: str
    whose: str
    subject: str
    place: str
    related: tuple[str, ...]
    rule: Link


@dataclass(frozen=True, slots=True)
class OpenQuestion:
    """A question that the records leave open, without the records' own words: those may name people."""

    state: State
    severity: str
    question: str
    extent: str


def state_of(outcome: Outcome) -> State:
    """An outcome as a state."""
    return State(outcome.value, OUTCOME_KEYS[outcome])


def rule_link(slug: str) -> Link:
    """Link to the reference page of a check."""
    return Link(slug, f"checks/{slug}.html")


def finding_view(finding: Finding) -> FindingView:
    """A finding with everything that is known of it; for the audit edition."""
    return FindingView(
        state=state_of(finding.outcome),
        severity=SEVERITY_WORDS[finding.rule.severity],
        message=clean(finding.message),
        remedy=clean(finding.remedy),
        whose=clean(finding.whose or finding.rule.whose),
        subject=clean(f"{finding.subject.kind.replace('_', ' ')} {finding.subject.id}".strip()),
        place=clean(finding.location.words) if finding.location else "",
        related=tuple(clean(place.words) for place in finding.related),
        rule=rule_link(finding.rule.slug),
    )


def open_questions(findings: Iterable[Finding]) -> tuple[OpenQuestion, ...]:
    """Questions left open, worst first, one line per question and outcome. Tidiness is the contractor's business."""
    counts: dict[tuple[str, Outcome], list[Finding]] = {}
    for finding in findings:
        if finding.rule.severity is not Severity.TIDY:
            counts.setdefault((finding.rule.slug, finding.outcome), []).append(finding)
    return tuple(
        OpenQuestion(
            state_of(outcome),
            SEVERITY_WORDS[group[0].rule.severity],
            clean(group[0].rule.question),
            counted(len(group), "answer") + " of this kind",
        )
        for (_, outcome), group in counts.items()
    )
