"""Questions on concessions themselves: who accepted them, until when, for what, and whether two agree."""

import dataclasses
import datetime as dt
from collections.abc import Callable
from typing import Any

import pytest

from witnessmark.checks.registry import CHECKS
from witnessmark.model.finding import Finding, Outcome
from witnessmark.model.settings import ProjectSettings
from witnessmark.pipeline import Outcome as Worked

Ask = Callable[..., list[Finding]]
CONCESSIONS = [check.rule.slug for check in CHECKS if ".checks.concessions." in check.run.__module__]
SOUND: dict[str, Any] = {
    "concession_id": "CN-1", "check": "gauge-unfit", "section_ids": ("S1",), "joint_ids": (), "decision": "accepted",
    "approved_by_role": "Client's engineer", "approved_on": dt.date(2026, 3, 12), "guarantee_effect": "none",
}  # fmt: skip


@pytest.fixture
def ask(record: Any, settings: ProjectSettings, make_outcome: Callable[..., Worked]) -> Ask:
    """Puts one question to concessions, each given as changes of a sound one."""

    def put(slug: str, *rows: dict[str, Any], approvers: tuple[str, ...] = ("Client's engineer",)) -> list[Finding]:
        outcome = make_outcome(
            settings=dataclasses.replace(settings, concession_approvers=approvers),
            sections=(record("sections", section_id="S1"),),
            tubes=(record("tubes", section_id="S1", material="copper"),),
            concessions=tuple(record("concessions", **{**SOUND, **row}) for row in rows),
        )
        check = next(check for check in CHECKS if check.rule.slug == slug)
        return list(check.run(outcome.project, outcome.workings).findings)

    return put


@pytest.mark.parametrize("slug", CONCESSIONS)
def test_a_sound_concession_gives_no_finding(slug: str, ask: Ask) -> None:
    assert ask(slug, {}) == []
    assert ask(slug) == []


@pytest.mark.parametrize(
    ("slug", "row", "outcome", "words"),
    [
        ("concession-not-approved", {"decision": None}, Outcome.CANNOT_TELL, "asked for, accepted or refused"),
        ("concession-not-approved", {"approved_by_role": None}, Outcome.CANNOT_TELL, "by which role"),
        ("concession-not-approved", {"approved_by_role": "Ada Press"}, Outcome.FAIL, "lists Client's engineer"),
        ("concession-not-approved", {"approved_on": None}, Outcome.CANNOT_TELL, "on which day"),
        ("concession-not-approved", {"approved_on": dt.date(2026, 5, 16)}, Outcome.FAIL, "after the issue"),
        ("concession-expired", {"expires_on": dt.date(2026, 5, 14)}, Outcome.FAIL, "ended on 14 May 2026"),
        ("concession-expired", {"expires_on": dt.date(2026, 3, 11)}, Outcome.FAIL, "before it was accepted"),
        ("guarantor-consent-missing", {"guarantee_effect": None}, Outcome.CANNOT_TELL, "what it does to the guarantee"),
        ("guarantor-consent-missing", {"guarantee_effect": "needs_consent"}, Outcome.CANNOT_TELL, "whether it was given"),
        (
            "guarantor-consent-missing", {"guarantee_effect": "needs_consent", "guarantor_consent": False}, Outcome.FAIL,
            "there is none",
        ),
        (
            "guarantor-consent-missing", {"guarantee_effect": "needs_consent", "guarantor_consent": True},
            Outcome.CANNOT_TELL, "no letter",
        ),
        ("concession-for-unknown-check", {"check": "gauge-unfitt"}, Outcome.FAIL, "did it mean 'gauge-unfit'?"),
        ("concession-for-unknown-check", {"check": "zzz"}, Outcome.FAIL, "'zzz', which there is not."),
        ("concession-for-unknown-check", {"check": None}, Outcome.CANNOT_TELL, "names no check"),
        ("concession-for-unknown-check", {"check": "unknown-reference"}, Outcome.FAIL, "cannot be accepted"),
        ("concession-applies-to-nothing", {"section_ids": ()}, Outcome.CANNOT_TELL, "no section, no joint and no subject"),
        ("concession-applies-to-nothing", {"subject": "PT-9"}, Outcome.FAIL, "no id of the records"),
    ],
)  # fmt: skip
def test_one_fault_is_found_and_told(slug: str, row: dict[str, Any], outcome: Outcome, words: str, ask: Ask) -> None:
    findings = ask(slug, row)
    assert [(f.subject.id, f.outcome) for f in findings] == [("CN-1", outcome)]
    assert words in findings[0].message
    assert "Ada" not in findings[0].message, "somebody may have written a name where a role belongs"


@pytest.mark.parametrize(
    ("slug", "row"),
    [
        ("concession-not-approved", {"decision": "asked", "approved_by_role": None}),
        ("concession-not-approved", {"decision": "refused", "approved_on": None}),
        ("concession-not-approved", {"approved_by_role": "CLIENT’S engineer", "approved_on": dt.date(2026, 5, 15)}),
        ("concession-expired", {"expires_on": dt.date(2026, 5, 15)}),
        ("concession-expired", {"decision": "refused", "expires_on": dt.date(2026, 5, 1)}),
        ("concession-applies-to-nothing", {"section_ids": (), "subject": "copper"}),
        ("concession-applies-to-nothing", {"section_ids": (), "subject": "quayside"}),
        ("guarantor-consent-missing", {"guarantee_effect": "excluded"}),
    ],
)
def test_what_is_in_order_is_not_told(slug: str, row: dict[str, Any], ask: Ask) -> None:
    assert ask(slug, row) == []


def test_a_project_that_lists_no_roles_is_told_once(ask: Ask) -> None:
    findings = ask("concession-not-approved", {}, {"concession_id": "CN-2"}, approvers=())
    assert [(f.subject.kind, f.outcome) for f in findings] == [("project", Outcome.CANNOT_TELL)]
    assert ask("concession-not-approved", {"decision": "refused"}, approvers=()) == []


@pytest.mark.parametrize("order", [1, -1])
@pytest.mark.parametrize(
    ("other", "words"),
    [
        ({"decision": "refused"}, "CN-1 accepts 'gauge-unfit' for section S1, and concession CN-2 refuses it"),
        ({"guarantee_effect": "excluded"}, "by the first the guarantee stays as it is"),
    ],
)
def test_two_that_disagree_are_one_finding_at_the_later(
    other: dict[str, Any], words: str, order: int, ask: Ask
) -> None:
    rows = [{}, {"concession_id": "CN-2", **other}]
    findings = ask("concessions-disagree", *rows[::order])
    assert [(f.subject.id, f.outcome) for f in findings] == [("CN-2", Outcome.FAIL)]
    assert words in findings[0].message


@pytest.mark.parametrize(
    "other",
    [
        {"decision": "asked"},
        {"decision": "refused", "check": "hold-too-short"},
        {"decision": "refused", "section_ids": ("S2",)},
        {"decision": "refused", "subject": "PT-1"},
        {"expires_on": dt.date(2027, 3, 12)},
        {"guarantee_effect": None},
    ],
    ids=str,
)
def test_two_on_different_matters_or_alike_do_not_disagree(other: dict[str, Any], ask: Ask) -> None:
    assert ask("concessions-disagree", {}, {"concession_id": "CN-2", **other}) == []
