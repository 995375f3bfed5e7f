"""A chain shows its state as a word and a shape, and only what is shown may look good."""

from collections.abc import Callable, Iterator
from typing import Any

import pytest

from witnessmark.evidence.chain import ChainState
from witnessmark.model.contract import Edition
from witnessmark.model.finding import Finding
from witnessmark.pages.chain_view import KEYS, SHAPES, chain_state, chain_view
from witnessmark.pages.context import Context
from witnessmark.pages.finding_view import State
from witnessmark.pages.frame import PageView
from witnessmark.pipeline import Outcome
from witnessmark.site.environment import environment

MakeOutcome = Callable[..., Outcome]
Pages = Callable[[Outcome, Edition], dict[str, PageView]]
Values = Callable[[Any], Iterator[Any]]

GOOD = {"pass", "recorded", "complete", "the records show", "present"}
"""Words that may stand beside the shape of a pass; all others may not."""


@pytest.mark.parametrize("state", list(ChainState))
def test_only_a_complete_chain_has_the_shape_of_a_pass(state: ChainState) -> None:
    good = state is ChainState.COMPLETE
    assert (KEYS[state] == "pass") == good
    assert (SHAPES[state] == "●") == good
    assert (chain_state(state).words == "complete") == good


def test_every_state_has_a_shape_of_its_own_and_tables_show_the_same_as_elsewhere() -> None:
    assert len(set(SHAPES.values())) == len(ChainState)
    macro = environment().get_template("state/state.html").module.state  # type: ignore[attr-defined]  # of the template
    for state, shape in SHAPES.items():
        assert f">{shape}<" in macro(state.value, KEYS[state])


@pytest.mark.parametrize("edition", list(Edition))
def test_nothing_but_what_is_shown_looks_like_a_pass_on_any_page(
    all_states: Outcome, pages_of: Pages, values_of: Values, edition: Edition
) -> None:
    states: set[State] = set()
    marked: set[str] = set()
    for page in pages_of(all_states, edition).values():
        for value in values_of(page):
            if isinstance(value, State):
                states.add(value)
            elif isinstance(value, str) and value.startswith("●") and len(value) > 1:
                marked.add(value.removeprefix("●").strip())
    assert {state.words for state in states if state.key == "pass"} <= GOOD
    assert {state.key for state in states if state.words in GOOD} <= {"pass"}
    assert marked <= GOOD
    if edition is not Edition.TAG:
        # What the records hold: else nothing was looked at above.
        assert {"broken", "unproven"} <= {state.words for state in states}
        assert "present" in marked
    if edition is Edition.AUDIT:
        assert {"cannot tell", "fail", "waived", "recorded"} <= {state.words for state in states}


@pytest.mark.parametrize(
    ("outcome", "answer"),
    [
        ("fail", "The records show otherwise."),
        ("cannot tell", "It cannot be told from the records."),
        ("waived", "A departure was accepted."),
    ],
)
def test_facilities_staff_read_the_question_and_the_auditor_the_finding(
    pipework: MakeOutcome, make_finding: Callable[..., Finding], outcome: str, answer: str
) -> None:
    judged = pipework(make_finding("pressed-dry", outcome, sections=("S1",)))
    chain = judged.evidence.chain.section("S1")
    facilities = chain_view(Context(judged, Edition.FACILITIES), chain)
    audit = chain_view(Context(judged, Edition.AUDIT), chain)
    assert facilities.sentence == f"Is pressed-dry shown? {answer}"
    assert facilities.rule is None
    assert audit.sentence.startswith("WORDS-OF-THE-FINDING")
    assert audit.rule is not None
    assert audit.rule.address == "checks/pressed-dry.html"


def test_questions_that_were_not_asked_are_told_beside_a_complete_chain(pipework: MakeOutcome) -> None:
    judged = pipework(unasked=("batch-without-certificate", "pressed-after-the-last-test"))
    view = chain_view(Context(judged, Edition.AUDIT), judged.evidence.chain.section("S1"))
    assert view.state == State("complete", "pass")
    assert view.counts == "2 questions were not asked"
    assert "2 questions were not asked" in view.sentence


def test_a_section_without_a_joint_is_unproven_and_says_why(pipework: MakeOutcome) -> None:
    judged = pipework()
    view = chain_view(Context(judged, Edition.FACILITIES), judged.evidence.chain.section("S3"))
    assert view.state == State("unproven", "unknown")
    assert view.sentence == "No joint of section S3 is recorded as made."


@pytest.mark.parametrize("edition", [Edition.FACILITIES, Edition.TAG])
def test_no_words_of_a_finding_no_file_and_no_name_leave_the_audit_edition(
    all_states: Outcome, pages_of: Pages, values_of: Values, edition: Edition
) -> None:
    looked_at = 0
    for address, page in pages_of(all_states, edition).items():
        for value in values_of(page):
            if isinstance(value, str):
                looked_at += 1
                for text in ("WORDS-OF-THE-FINDING", ".csv", ".yml", "Ada Press"):
                    assert text not in value, address
    assert looked_at > 100


def test_the_tag_edition_has_no_chain_and_none_of_the_pages_on_evidence(all_states: Outcome, pages_of: Pages) -> None:
    audit, facilities, tag = (pages_of(all_states, each) for each in (Edition.AUDIT, Edition.FACILITIES, Edition.TAG))
    own = {"completeness.html", "guarantees.html", "findings.html", "trace.html", "sample.html", "checks.html"}
    assert own <= set(audit)
    assert own & set(facilities) == {"completeness.html", "guarantees.html"}
    assert not own & set(tag)
    assert not [address for address in (*facilities, *tag) if address.startswith("trace/")]
    for address, page in tag.items():
        if address.startswith("T/"):
            assert (page.chain, page.trace, page.completeness) == (None, None, None)  # type: ignore[attr-defined]
