"""What a concession waives: the whole of a finding or nothing, in force on the day of the issue, and never against a refusal."""

import dataclasses
import datetime
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from witnessmark.checks.concession_book import ConcessionBook
from witnessmark.model.finding import Finding, Outcome, Rule, Subject
from witnessmark.model.project import Project, Records
from witnessmark.model.settings import ProjectSettings

DAY = datetime.date
ISSUE = DAY(2026, 5, 15)
ACCEPTED: dict[str, Any] = {
    "concession_id": "CN-001",
    "check": "test-before-last-joint",
    "section_ids": ("S1", "S2"),
    "joint_ids": (),
    "reason": "Watched at service pressure",
    "decision": "accepted",
    "approved_by_role": "Client's engineer",
    "approved_on": DAY(2026, 3, 12),
    "guarantee_effect": "none",
}
Waive = Callable[..., Finding]


@pytest.fixture
def waive(record: Any, settings: ProjectSettings, finding_rule: Rule) -> Waive:
    """Applies concessions, given as changes of an accepted one, to a finding on sections S1 and S2."""

    def apply(
        *concessions: dict[str, Any], approvers: tuple[str, ...] = ("Client's engineer",), **finding: Any
    ) -> Finding:
        rows = tuple(record("concessions", **{**ACCEPTED, **change}) for change in concessions)
        chosen = dataclasses.replace(settings, concession_approvers=approvers)
        assert chosen.issue.date == ISSUE
        values: dict[str, Any] = {"subject": Subject("test", "PT-1"), "section_ids": ("S1", "S2"), **finding}
        asked = Finding(finding_rule, values.pop("outcome", Outcome.FAIL), "It was.", "Do it.", **values)
        answer = ConcessionBook(Project(Path(), chosen, Records(concessions=rows))).applied(asked)
        assert answer is asked or (answer.waiver is not None and answer.message == asked.message)
        return answer

    return apply


def test_an_accepted_departure_is_waived_and_says_by_whom_and_until_when(waive: Waive) -> None:
    waived = waive({"expires_on": DAY(2027, 3, 12)})
    assert waived.outcome is Outcome.WAIVED
    assert waived.waiver is not None
    assert (waived.waiver.concession_id, waived.waiver.approved_by_role) == ("CN-001", "Client's engineer")
    assert (waived.waiver.approved_on, waived.waiver.expires_on) == (DAY(2026, 3, 12), DAY(2027, 3, 12))
    assert (waived.waiver.reason, waived.waiver.guarantee_effect) == ("Watched at service pressure", "none")
    assert waived.waiver.location.file == "records/concessions.csv"


def test_what_cannot_be_told_may_be_accepted_too(waive: Waive) -> None:
    assert waive({}, outcome=Outcome.CANNOT_TELL).outcome is Outcome.WAIVED


@pytest.mark.parametrize(
    "change",
    [
        {"check": "gauge-unfit"},
        {"check": None},
        {"decision": "asked"},
        {"decision": "refused"},
        {"decision": None},
        {"approved_by_role": None},
        {"approved_by_role": ""},
        {"approved_by_role": "Site manager"},
        {"approved_on": None},
        {"approved_on": DAY(2026, 5, 16)},
        {"expires_on": DAY(2026, 5, 14)},
        {"guarantee_effect": "needs_consent"},
        {"guarantee_effect": "needs_consent", "guarantor_consent": False},
        {"section_ids": ("S1",)},
        {"section_ids": ()},
        {"section_ids": (), "joint_ids": ("J1",)},
        {"section_ids": (), "subject": "PT-2"},
    ],
    ids=str,
)
def test_a_concession_that_is_not_in_force_or_speaks_of_less_waives_nothing(
    change: dict[str, Any], waive: Waive
) -> None:
    answer = waive(change)
    assert (answer.outcome, answer.waiver) == (Outcome.FAIL, None)


@pytest.mark.parametrize(
    "change",
    [
        {"approved_on": ISSUE},
        {"expires_on": ISSUE},
        {"guarantee_effect": "needs_consent", "guarantor_consent": True},
        {"guarantee_effect": "excluded"},
        {"section_ids": ("S1", "S2", "S3")},
        {"section_ids": (), "subject": "PT-1"},
        {"subject": "PT-1"},
        {"approved_by_role": "client’s  Engineer"},
    ],
    ids=str,
)
def test_a_concession_in_force_that_speaks_of_all_of_it_waives(change: dict[str, Any], waive: Waive) -> None:
    assert waive(change).outcome is Outcome.WAIVED


def test_any_role_may_accept_where_the_project_lists_none(waive: Waive) -> None:
    """That nobody knows who may is told by a question of its own."""
    assert waive({"approved_by_role": "Site manager"}, approvers=()).outcome is Outcome.WAIVED


def test_two_concessions_that_each_cover_a_part_waive_nothing(waive: Waive) -> None:
    parts = {"section_ids": ("S1",)}, {"concession_id": "CN-002", "section_ids": ("S2",)}
    assert waive(*parts).outcome is Outcome.FAIL


@pytest.mark.parametrize("order", [1, -1])
@pytest.mark.parametrize("part", [("S1", "S2"), ("S2",), ("S2", "S9")])
def test_a_refusal_of_any_part_beats_an_acceptance_of_the_whole(
    part: tuple[str, ...], order: int, waive: Waive
) -> None:
    rows = [{}, {"concession_id": "CN-002", "decision": "refused", "section_ids": part}]
    assert waive(*rows[::order]).outcome is Outcome.FAIL


def test_a_refusal_on_another_matter_beats_nothing(waive: Waive) -> None:
    elsewhere = {"concession_id": "CN-002", "decision": "refused", "section_ids": ("S9",)}
    another = {"concession_id": "CN-003", "decision": "refused", "check": "gauge-unfit"}
    assert waive({}, elsewhere, another).outcome is Outcome.WAIVED


def test_a_departure_that_was_only_asked_for_beats_nothing(waive: Waive) -> None:
    assert waive({}, {"concession_id": "CN-002", "decision": "asked"}).outcome is Outcome.WAIVED


def test_joints_are_waived_joint_by_joint(waive: Waive) -> None:
    joints: dict[str, Any] = {"section_ids": (), "joint_ids": ("J1", "J2")}
    assert waive(joints, joint_ids=("J1",)).outcome is Outcome.WAIVED
    assert waive(joints, joint_ids=("J1", "J2")).outcome is Outcome.WAIVED
    assert waive(joints, joint_ids=("J1", "J3")).outcome is Outcome.FAIL
    assert waive(joints, subject=Subject("joint", "J1")).outcome is Outcome.WAIVED
    assert waive(joints).outcome is Outcome.FAIL, "a finding about whole sections is more than two joints of them"


def test_a_whole_section_waives_a_finding_about_some_of_its_joints(waive: Waive) -> None:
    assert waive({}, joint_ids=("J1",)).outcome is Outcome.WAIVED


def test_a_subject_with_sections_waives_no_other_sections(waive: Waive) -> None:
    assert waive({"subject": "PT-1", "section_ids": ("S1",)}).outcome is Outcome.FAIL


def test_an_id_that_the_records_do_not_know_never_widens_a_concession(
    record: Any, settings: ProjectSettings, finding_rule: Rule
) -> None:
    """The cell named one joint, which is not in the log: the concession is not one for the whole section."""
    row = record("concessions", raw={"joint_ids": "J99"}, **ACCEPTED)
    project = Project(Path(), settings, Records(concessions=(row,)))
    asked = Finding(finding_rule, Outcome.FAIL, "It was.", "Do it.", Subject("section", "S1"), section_ids=("S1",))
    assert ConcessionBook(project).applied(asked) is asked


def test_of_two_that_cover_it_the_first_id_is_named_in_either_order(waive: Waive) -> None:
    rows = [{}, {"concession_id": "CN-002"}]
    named = {waive(*rows[::order]).waiver for order in (1, -1)}
    assert {waiver.concession_id for waiver in named if waiver} == {"CN-001"}


def test_a_finding_that_is_waived_already_stays_as_it_is(waive: Waive) -> None:
    waived = waive({}, outcome=Outcome.WAIVED)
    assert (waived.outcome, waived.waiver) == (Outcome.WAIVED, None)
