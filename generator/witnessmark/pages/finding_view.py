"""Findings as pages show them: in full for the auditor, as counted questions for facilities staff."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import NamedTuple

from witnessmark.model.finding import Finding, Outcome, Severity, Waiver
from witnessmark.pages.frame import Link
from witnessmark.pages.words import clean, counted, date_words

SEVERITY_WORDS = {
    Severity.BREAKS: "breaks the evidence",
    Severity.WEAKENS: "weakens the evidence",
    Severity.TIDY: "tidiness",
}
OUTCOME_KEYS = {Outcome.PASS: "pass", Outcome.FAIL: "fail", Outcome.CANNOT_TELL: "unknown", Outcome.WAIVED: "waived"}


MOST_SECTIONS = 12
WIDE = 8
"""Findings about more sections than these are named in one line on the pages of sections."""
MOST_JOINTS = 30
_EFFECTS = {
    "none": "It is stated to leave the guarantee as it is.",
    "needs_consent": "The guarantor's consent is recorded.",
    "excluded": "What it covers is stated to be out of the guarantee.",
}


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
    sections: tuple[Link, ...]
    joints: str
    accepted: str


class WideFinding(NamedTuple):
    """A finding about many sections, as the page of one of them names it: the whole stands on the page of findings."""

    state: State
    severity: str
    question: str
    rule: Link
    extent: str


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


def finding_view(finding: Finding, addresses: Mapping[str, str]) -> FindingView:
    """A finding with everything that is known of it; for the audit edition. ``addresses`` are those of the sections."""
    # A finding may concern every section there is and stand on the pages of all: only the first are looked at.
    sections = [s for s in finding.section_ids[: MOST_SECTIONS + 1] if s in addresses and s != finding.subject.id][
        :MOST_SECTIONS
    ]
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
        sections=tuple(Link(clean(s), addresses[s]) for s in sections),
        joints=joints_words(finding),
        accepted=accepted_words(finding.waiver) if finding.waiver else "",
    )


def wide_finding(finding: Finding) -> WideFinding:
    """A finding about many sections in one line."""
    rule = finding.rule
    return WideFinding(
        state_of(finding.outcome),
        SEVERITY_WORDS[rule.severity],
        clean(rule.question),
        rule_link(rule.slug),
        counted(len(finding.section_ids), "section"),
    )


def joints_words(finding: Finding) -> str:
    """'Joints: J1, J2 and 210 more'; '' where the finding names none, or only its own subject."""
    joints = finding.joint_ids
    if not joints or joints == (finding.subject.id,):
        return ""
    more = f" and {len(joints) - MOST_JOINTS:,} more" if len(joints) > MOST_JOINTS else ""
    return clean(", ".join(joints[:MOST_JOINTS])) + more


def accepted_words(waiver: Waiver) -> str:
    """Who accepted a departure, when, until when, why, and what it does to the guarantee."""
    until = f" until {date_words(waiver.expires_on)}" if waiver.expires_on else ", with no end"
    why = f" Reason: {waiver.reason.rstrip('.')}." if waiver.reason else ""
    return clean(
        f"Concession {waiver.concession_id}, accepted by {waiver.approved_by_role} on {date_words(waiver.approved_on)}"
        f"{until}.{why} {_EFFECTS.get(waiver.guarantee_effect, 'What it does to the guarantee is not stated.')}"
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
