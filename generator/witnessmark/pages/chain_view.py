"""The state of an evidence chain as pages show it: a word, a shape, and the first link that is not shown."""

from typing import NamedTuple

from witnessmark.evidence.chain import Chain, ChainState
from witnessmark.model.finding import Outcome
from witnessmark.pages.context import Context
from witnessmark.pages.finding_view import State, rule_link
from witnessmark.pages.frame import Link
from witnessmark.pages.words import clean, counted

KEYS = {
    ChainState.BROKEN: "fail",
    ChainState.UNPROVEN: "unknown",
    ChainState.WEAK: "weak",
    ChainState.CONCEDED: "waived",
    ChainState.COMPLETE: "pass",
}


SHAPES = {
    ChainState.BROKEN: "■",
    ChainState.UNPROVEN: "▲",
    ChainState.WEAK: "◆",
    ChainState.CONCEDED: "○",
    ChainState.COMPLETE: "●",
}
"""The shapes of the states in tables, the same as beside their words elsewhere."""


class ChainView(NamedTuple):
    """A chain: its state, the first broken link in one sentence, what is behind it, and the check that says so."""

    state: State
    sentence: str
    counts: str
    rule: Link | None


def chain_state(state: ChainState) -> State:
    """A state of a chain as word and shape."""
    return State(state.value, KEYS[state])


def chain_view(context: Context, chain: Chain) -> ChainView:
    """A chain in this edition: only the audit edition repeats words of the records."""
    first = chain.first
    if context.audit or first is None:
        sentence = context.words(chain.sentence)
    else:
        answer = {Outcome.FAIL: "The records show otherwise", Outcome.WAIVED: "A departure was accepted"}
        sentence = f"{clean(first.rule.question)} {answer.get(first.outcome, 'It cannot be told from the records')}."
    parts = [
        (chain.broken, "link broken", "links broken"),
        (chain.unproven, "cannot be told", "cannot be told"),
        (chain.weak, "weak", "weak"),
        (chain.conceded, "accepted by concession", "accepted by concession"),
    ]
    counts = ", ".join(counted(number, one, many) for number, one, many in parts if number)
    if chain.unasked:
        asked = counted(chain.unasked, "question was", "questions were")
        counts = f"{counts}; {asked} not asked" if counts else f"{asked} not asked"
    return ChainView(
        chain_state(chain.state), sentence, counts, rule_link(first.rule.slug) if first and context.audit else None
    )
