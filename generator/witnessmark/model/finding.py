"""Findings: what the records do not show, where, and what would close it."""

import datetime
from dataclasses import dataclass, field
from enum import StrEnum

from witnessmark.model.source import SourceLocation


class Severity(StrEnum):
    """How bad a finding is: it breaks the evidence chain, weakens it, or is a matter of tidiness."""

    BREAKS = "breaks"
    WEAKENS = "weakens"
    TIDY = "tidy"

    @property
    def rank(self) -> int:
        """0 for the worst."""
        return _RANKS[self]


_RANKS = {Severity.BREAKS: 0, Severity.WEAKENS: 1, Severity.TIDY: 2}


class Outcome(StrEnum):
    """How a question ended. Only ``PASS`` is a pass."""

    PASS = "pass"
    FAIL = "fail"
    CANNOT_TELL = "cannot tell"
    WAIVED = "waived"


@dataclass(frozen=True, slots=True)
class Rule:
    """A question put to the records, with its documentation.

    ``slug`` names the fault and is for ever; ``closes`` says what would close a finding; ``whose`` whose job that is
    by default. ``what``, ``why`` and ``example`` make the reference page.
    """

    slug: str
    question: str
    severity: Severity
    closes: str
    whose: str
    what: str
    why: str
    example: str
    """Words of a finding, as an example that fails."""
    passes: str = ""
    """An example that passes."""
    thresholds: tuple[str, ...] = ()
    """Names of the thresholds on which it turns."""


@dataclass(frozen=True, slots=True)
class Subject:
    """What a finding is about: kind (table name in the singular, or 'project', 'file') and id as shown to people."""

    kind: str
    id: str


@dataclass(frozen=True, slots=True)
class Waiver:
    """An accepted departure: who accepted it by role, why, when, until when, and what it does to the guarantee."""

    concession_id: str
    approved_by_role: str
    approved_on: datetime.date
    expires_on: datetime.date | None
    reason: str
    guarantee_effect: str
    """'none', 'needs_consent' or 'excluded'."""
    location: SourceLocation


@dataclass(frozen=True, slots=True)
class Finding:
    """One answer other than pass."""

    rule: Rule
    outcome: Outcome
    message: str
    remedy: str
    subject: Subject
    location: SourceLocation | None = None
    related: tuple[SourceLocation, ...] = field(default=())
    whose: str = ""
    section_ids: tuple[str, ...] = ()
    """Sections on whose pages the finding is shown."""
    joint_ids: tuple[str, ...] = ()
    """Joints it concerns, where these are not all of its sections."""
    waiver: Waiver | None = None
    """Of a waived finding, the concession."""

    @property
    def breaks_chain(self) -> bool:
        """Whether it breaks the evidence chain: severity 'breaks', and neither waived nor unknown."""
        return self.rule.severity is Severity.BREAKS and self.outcome is Outcome.FAIL


def in_order(findings: list[Finding] | tuple[Finding, ...]) -> tuple[Finding, ...]:
    """Findings by what to do first: severity, then outcome, rule, place and subject."""
    outcomes = list(Outcome)
    return tuple(
        sorted(
            findings,
            key=lambda f: (
                f.rule.severity.rank,
                outcomes.index(f.outcome),
                f.rule.slug,
                f.location or SourceLocation(""),
                f.subject.kind,
                f.subject.id,
                f.message,
            ),
        )
    )
