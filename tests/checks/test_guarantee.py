"""Questions on the registration of guarantees: the last day, the day after it, and what shows it."""

import dataclasses
import datetime as dt
from collections.abc import Callable
from typing import Any

import pytest

from witnessmark.checks.registry import CHECKS
from witnessmark.model.finding import Finding, Outcome
from witnessmark.model.settings import GuaranteeTerms, Issue, ProjectSettings
from witnessmark.pipeline import Outcome as Worked

Ask = Callable[..., list[Finding]]
START = dt.date(2026, 3, 2)


@pytest.fixture
def ask(record: Any, settings: ProjectSettings, make_outcome: Callable[..., Worked]) -> Ask:
    """Puts one question to two sections of copper installed on 2 March 2026, to be registered within 30 days."""

    def put(
        slug: str, sections: dict[str, Any] | None = None, issue: dt.date | None = None, **terms: Any
    ) -> list[Finding]:
        given: dict[str, Any] = {
            "register_within_days": 30,
            "registered_on": dt.date(2026, 4, 1),
            "registration": "D-1",
            **terms,
        }
        kind = given.pop("kind", "registration")
        row = {"system_id": "H", "installed_on": START, **(sections or {})}
        outcome = make_outcome(
            settings=dataclasses.replace(
                settings,
                issue=Issue("P03", issue or settings.issue.date),
                guarantee={"copper": GuaranteeTerms("copper", 30, "installation", **given)},
            ),
            systems=(record("systems", system_id="H", medium="treated_water"),),
            sections=tuple(record("sections", section_id=name, **row) for name in ("S2", "S1")),
            tubes=tuple(record("tubes", section_id=name, material="copper", od_mm=22.0) for name in ("S1", "S2")),
            documents=(record("documents", document_id="D-1", kind=kind),),
        )
        check = next(check for check in CHECKS if check.rule.slug == slug)
        return list(check.run(outcome.project, outcome.workings).findings)

    return put


GUARANTEE = [check.rule.slug for check in CHECKS if ".checks.guarantee." in check.run.__module__]


@pytest.mark.parametrize("slug", GUARANTEE)
def test_a_guarantee_registered_on_its_last_day_gives_no_finding(slug: str, ask: Ask) -> None:
    """Day 30 of 30: 1 April is 30 days after 2 March, counted by hand."""
    assert ask(slug) == []


def test_day_31_of_30_is_late(ask: Ask) -> None:
    findings = ask("guarantee-registered-late", registered_on=dt.date(2026, 4, 2))
    assert [(f.subject.id, f.outcome) for f in findings] == [("copper", Outcome.FAIL)]
    assert "was to be registered by 1 April 2026; it was registered on 2 April 2026, 1 day late" in findings[0].message
    assert findings[0].section_ids == ("S1", "S2")


def test_a_registration_that_the_terms_do_not_ask_for_is_not_late(ask: Ask) -> None:
    assert ask("guarantee-registered-late", registered_on=dt.date(2026, 4, 2), needs=("tested",)) == []
    assert ask("guarantee-registered-late", registered_on=dt.date(2026, 4, 2), register_within_days=None) == []
    assert ask("guarantee-not-registered", registered_on=None, register_within_days=None) == []


@pytest.mark.parametrize(
    ("issue", "outcome", "words"),
    [
        (dt.date(2026, 4, 2), Outcome.FAIL, "was to be registered by 1 April 2026"),
        (dt.date(2026, 4, 1), Outcome.CANNOT_TELL, "due on 1 April 2026, 0 days after the issue"),
        (dt.date(2026, 3, 31), Outcome.CANNOT_TELL, "due on 1 April 2026, 1 day after the issue"),
    ],
)
def test_a_guarantee_that_is_not_registered_is_due_until_its_last_day(
    issue: dt.date, outcome: Outcome, words: str, ask: Ask
) -> None:
    findings = ask("guarantee-not-registered", issue=issue, registered_on=None)
    assert [f.outcome for f in findings] == [outcome]
    assert words in findings[0].message


def test_a_start_that_nobody_knows_is_another_question(ask: Ask) -> None:
    for slug in ("guarantee-not-registered", "guarantee-registered-late"):
        assert ask(slug, {"installed_on": None}, registered_on=None) == []


@pytest.mark.parametrize(
    ("terms", "outcome", "words"),
    [
        ({"registration": ""}, Outcome.CANNOT_TELL, "names no document"),
        ({"registration": "D-9"}, Outcome.CANNOT_TELL, "not in the documents table"),
        ({"kind": "photo"}, Outcome.FAIL, "of the kind 'photo'"),
        ({"kind": None}, Outcome.CANNOT_TELL, "has no kind"),
    ],
)
def test_a_registration_without_its_paper_is_told(
    terms: dict[str, Any], outcome: Outcome, words: str, ask: Ask
) -> None:
    findings = ask("guarantee-registration-not-shown", **terms)
    assert [f.outcome for f in findings] == [outcome]
    assert words in findings[0].message


def test_days_that_run_backwards_are_one_finding_for_all_sections_alike(ask: Ask) -> None:
    findings = ask("guarantee-start-contradicted", {"commissioned_on": dt.date(2026, 3, 1)})
    assert [(f.subject.id, f.section_ids) for f in findings] == [("S1", ("S1", "S2"))]
    assert "commissioned on 1 March 2026, before they were installed on 2 March 2026" in findings[0].message
    assert ask("guarantee-start-contradicted", {"commissioned_on": START, "delivered_on": START}) == []
