"""What the records show of a guarantee; never that it holds."""

import dataclasses
import re
from collections.abc import Callable, Iterator
from typing import Any

import pytest

from witnessmark.evidence.guarantee_evidence import ConditionState
from witnessmark.model.contract import Edition
from witnessmark.model.finding import Finding, Waiver
from witnessmark.model.records import Record
from witnessmark.pages.context import Context
from witnessmark.pages.finding_view import State
from witnessmark.pages.guarantee_page import KEYS, ConditionView, MaterialView, guarantees_page
from witnessmark.pipeline import Outcome
from witnessmark.site.environment import render

MakeOutcome = Callable[..., Outcome]
MakeFinding = Callable[..., Finding]
EDITIONS = [Edition.FACILITIES, Edition.AUDIT]


def _copper(outcome: Outcome, edition: Edition = Edition.AUDIT) -> MaterialView:
    (copper,) = guarantees_page(Context(outcome, edition)).materials
    return copper


def _condition(outcome: Outcome, anchor: str, edition: Edition = Edition.AUDIT) -> ConditionView:
    (condition,) = [each for each in _copper(outcome, edition).conditions if each.anchor == anchor]
    return condition


@pytest.mark.parametrize("edition", EDITIONS)
def test_the_page_never_says_that_a_guarantee_is_valid(all_states: Outcome, edition: Edition) -> None:
    words = re.sub(r"<[^>]*>", " ", render(guarantees_page(Context(all_states, edition))))
    assert "the records show" in words
    assert "whether a claim is met is for the guarantor" in words
    assert not re.search(r"\b(in)?valid|\bcovered\b|\bholds\b|\bguaranteed\b", words, re.IGNORECASE)


def test_only_what_the_records_show_has_the_shape_of_a_pass() -> None:
    assert [state for state, key in KEYS.items() if key == "pass"] == [ConditionState.SHOWN]
    assert set(KEYS) == set(ConditionState)


@pytest.mark.parametrize("outcome", ["fail", "cannot tell", "waived"])
def test_a_finding_behind_a_condition_is_told_with_joints_sections_and_what_follows(
    record: Callable[..., Record],
    pipework: MakeOutcome,
    make_finding: MakeFinding,
    make_waiver: Callable[..., Waiver],
    outcome: str,
) -> None:
    waiver = make_waiver() if outcome == "waived" else None
    finding = make_finding("operative-not-trained", outcome, sections=("S1",), joints=("J1",), waiver=waiver)
    judged = pipework(finding, trainings=(record("trainings", operative_id="OP-03", system_family="FAM-A"),))
    words, key = {
        "fail": ("the records do not show", "fail"),
        "cannot tell": ("cannot tell", "unknown"),
        "waived": ("accepted departure", "waived"),
    }[outcome]
    trained = _condition(judged, "copper-trained-operatives")
    assert trained.state == State(words, key)
    assert trained.extent == "1 joint in 1 section"
    assert trained.joints == "J1"
    assert [link.text for link in trained.sections] == ["S1"]
    assert trained.effect.startswith("The terms of GUAR-1 ask for it")
    assert len(trained.findings) == 1


def test_facilities_staff_see_the_state_but_no_joint_and_no_finding(all_states: Outcome) -> None:
    for condition in _copper(all_states, Edition.FACILITIES).conditions:
        assert (condition.joints, condition.findings, condition.more_findings) == ("", (), "")
    audit = _copper(all_states).conditions
    assert [c.state for c in _copper(all_states, Edition.FACILITIES).conditions] == [c.state for c in audit]
    assert any(condition.findings for condition in audit)


def test_a_condition_whose_question_was_not_asked_cannot_be_told(pipework: MakeOutcome) -> None:
    tested = _condition(pipework(unasked=("required-stage-not-passed",)), "copper-tested")
    assert tested.state == State("cannot tell", "unknown")
    assert tested.unasked == "1 question behind it could not be asked."
    assert tested.extent == "all 3 joints in 2 sections"


def test_no_record_is_no_good_sign(record: Callable[..., Record], pipework: MakeOutcome) -> None:
    """No training and no service record, no finding either: still nothing is shown."""
    joints = (record("joints", joint_id="J1", section_id="S1", material_tube="copper"),)
    judged = pipework(joints=joints, operatives=(), tools=(), batches=(), tests=())
    states = {each.anchor: each.state.key for each in _copper(judged).conditions}
    assert states
    assert set(states.values()) == {"unknown"}


def test_what_only_the_guarantor_can_judge_stands_apart(pipework: MakeOutcome) -> None:
    assert _copper(pipework()).untestable == ("Only parts of one family.",)


def test_long_lists_say_how_many_more_there_are(
    record: Callable[..., Record], pipework: MakeOutcome, make_finding: MakeFinding
) -> None:
    sections = tuple(record("sections", section_id=f"S{n}", system_id="HTG") for n in range(20))
    joints = tuple(
        record("joints", joint_id=f"J{n}", section_id=f"S{n % 20}", material_tube="copper") for n in range(100)
    )
    ids = [f"J{n}" for n in range(60)]
    findings = [make_finding("operative-not-trained", joints=(each,), subject=("joint", each)) for each in ids]
    trained = _condition(pipework(*findings, sections=sections, joints=joints), "copper-trained-operatives")
    assert trained.extent == "60 joints in 20 sections"
    assert trained.joints.endswith(" and 30 more")
    assert (len(trained.sections), trained.more_sections) == (12, "and 8 more")
    assert (len(trained.findings), trained.more_findings) == (20, "40 more on the page of findings.")


def test_without_terms_nothing_is_held_against_the_records(pipework: MakeOutcome) -> None:
    judged = pipework()
    bare = dataclasses.replace(judged.project.settings, guarantee={})
    project = dataclasses.replace(judged.project, settings=bare)
    copper = _copper(Outcome(project, judged.workings, judged.judgement))
    assert copper.conditions == ()
    assert "no guarantee terms" in copper.sentence


@pytest.mark.parametrize("edition", EDITIONS)
def test_every_link_of_the_page_leads_to_a_page(
    all_states: Outcome,
    pages_of: Callable[[Outcome, Edition], dict[str, Any]],
    values_of: Callable[[Any], Iterator[Any]],
    edition: Edition,
) -> None:
    pages = pages_of(all_states, edition)
    links = {v.address for v in values_of(pages["guarantees.html"]) if hasattr(v, "address") and hasattr(v, "text")}
    registered = {address for address in links if not address.startswith("checks/invented")}
    assert {address for address in registered if address.startswith("T/")}
    assert registered <= set(pages)
