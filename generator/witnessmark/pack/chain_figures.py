"""States of the evidence chains as columns of the export: what is not shown never reads as good."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from witnessmark.evidence.chain_state import ChainState
from witnessmark.pack.data_table import DataColumn, figure

if TYPE_CHECKING:
    from witnessmark.pipeline import Outcome

_STATES = [state.value for state in ChainState]


def system_chains(outcome: Outcome) -> tuple[DataColumn, ...]:
    """State and first link of every system."""
    chain = outcome.evidence.chain
    return (
        _state(lambda system: chain.system_states[system.system_id].value),
        _first(lambda system: chain.system(system.system_id).sentence),
    )


def section_chains(outcome: Outcome) -> tuple[DataColumn, ...]:
    """State and first link of every section."""
    chain = outcome.evidence.chain
    return (
        _state(lambda section: chain.section_states[section.section_id].value),
        _first(lambda section: chain.section(section.section_id).sentence),
    )


def joint_chains(outcome: Outcome) -> tuple[DataColumn, ...]:
    """State of every joint; its section's row says which link is the first."""
    states = outcome.evidence.chain.joint_states
    return (_state(lambda joint: states[joint.joint_id].value),)


def _state(get: Callable[[Any], str]) -> DataColumn:
    words = "From the worst: " + ", ".join(_STATES) + ". Never better than its worst link; only 'complete' is good."
    return figure("chain_state", "string", "State of the evidence chain", words, get, enum=_STATES)


def _first(get: Callable[[Any], str]) -> DataColumn:
    words = "The first link that is not shown, in one sentence; of a complete chain, how far the records carry."
    return figure("chain_sentence", "string", "First link not shown", words, get)
