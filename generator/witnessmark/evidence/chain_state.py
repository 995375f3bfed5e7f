"""States of a chain, what a finding makes of one, and a chain as pages show it."""

from dataclasses import dataclass
from enum import StrEnum

from witnessmark.model.finding import Finding, Outcome, Severity


class ChainState(StrEnum):
    """How far the records carry, from the worst to the best. Only ``COMPLETE`` may be shown as good."""

    BROKEN = "broken"
    UNPROVEN = "unproven"
    WEAK = "weak"
    CONCEDED = "complete with concessions"
    COMPLETE = "complete"

    @property
    def rank(self) -> int:
        """0 for the worst."""
        return _RANKS[self]


_RANKS = {state: rank for rank, state in enumerate(ChainState)}


@dataclass(frozen=True, slots=True)
class Chain:
    """One chain: its state, the first link that makes the state, and how many findings there are of each sort.

    ``first`` is ``None`` where the chain is complete, or unproven because nothing at all is recorded.
    """

    state: ChainState
    first: Finding | None
    sentence: str
    broken: int
    """Findings that break it."""
    unproven: int
    """Questions that would break it and cannot be answered."""
    weak: int
    """Findings, and questions without an answer, that weaken it."""
    conceded: int
    """Departures that somebody accepted."""
    tidy: int
    """Findings of tidiness; they never change a state."""
    unasked: int
    """Questions that were not put to these records."""
    joints: int
    """Joints in the pipework that it covers; void, planned and cut-out ones are not among them."""

    @property
    def open(self) -> int:
        """Findings that have to be closed before it is complete."""
        return self.broken + self.unproven + self.weak


def link_state(finding: Finding) -> ChainState | None:
    """What a finding makes of the chains it concerns; ``None`` where it changes none (tidiness, a pass)."""
    if finding.rule.severity is Severity.TIDY or finding.outcome is Outcome.PASS:
        return None
    if finding.outcome is Outcome.WAIVED:
        return ChainState.CONCEDED
    if finding.rule.severity is Severity.WEAKENS:
        return ChainState.WEAK
    return ChainState.BROKEN if finding.outcome is Outcome.FAIL else ChainState.UNPROVEN
