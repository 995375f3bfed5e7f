"""Questions on snags: what counts as closed, which test closes a leak, and which day is still in time."""

import datetime as dt
from collections.abc import Callable
from typing import Any

import pytest

from witnessmark.checks.registry import CHECKS
from witnessmark.model.finding import Finding, Outcome
from witnessmark.pipeline import Outcome as Worked

Ask = Callable[..., list[Finding]]
HANDOVER = [check.rule.slug for check in CHECKS if ".checks.handover." in check.run.__module__]
LEAK: dict[str, Any] = {
    "snag_id": "SN-1", "snag_class": "A", "kind": "leak", "section_ids": ("S1",), "joint_ids": ("J1",),
    "raised_on": dt.date(2026, 3, 4), "due_on": dt.date(2026, 3, 11), "closed_on": dt.date(2026, 3, 5),
    "closed_by_role": "Commissioning engineer", "retest_required": True, "retest_test_id": "PT-2", "description": "Weep",
}  # fmt: skip
RETEST: dict[str, Any] = {
    "test_id": "PT-2", "attempt": 1, "stage": "strength", "section_ids": ("S1", "S2"), "date": dt.date(2026, 3, 5),
    "result": "pass",
}  # fmt: skip


@pytest.fixture
def ask(record: Any, make_outcome: Callable[..., Worked]) -> Ask:
    """Puts one question to a closed leak with its retest; ``snag`` and ``test`` change them."""

    def put(slug: str, snag: dict[str, Any] | None = None, test: dict[str, Any] | None = None) -> list[Finding]:
        outcome = make_outcome(
            sections=(record("sections", section_id="S1"), record("sections", section_id="S2")),
            joints=(record("joints", joint_id="J1", section_id="S1"), record("joints", joint_id="J2", section_id="S3")),
            tests=(record("tests", **{**RETEST, **(test or {})}),),
            snags=(record("snags", **{**LEAK, **(snag or {})}),),
        )
        check = next(check for check in CHECKS if check.rule.slug == slug)
        return list(check.run(outcome.project, outcome.workings).findings)

    return put


OPEN = {"closed_on": None, "closed_by_role": None}


@pytest.mark.parametrize("slug", HANDOVER)
def test_a_closed_leak_with_its_retest_gives_no_finding(slug: str, ask: Ask) -> None:
    assert ask(slug) == []


@pytest.mark.parametrize(
    ("slug", "snag", "test", "outcome", "words"),
    [
        ("open-snag-class-a", OPEN, {}, Outcome.FAIL, "Snag SN-1 of class A is open since 4 March 2026: Weep."),
        ("open-snag-class-a", {**OPEN, "snag_class": None}, {}, Outcome.CANNOT_TELL, "has no class"),
        (
            "snag-overdue", {**OPEN, "snag_class": "B", "due_on": dt.date(2026, 5, 14)}, {}, Outcome.FAIL,
            "by 14 May 2026 and is open at the issue of 15 May 2026, 1 day later",
        ),
        ("snag-overdue", {**OPEN, "snag_class": "B", "due_on": None}, {}, Outcome.CANNOT_TELL, "no day by which"),
        ("snag-without-retest", {"retest_test_id": "PT-9"}, {}, Outcome.FAIL, "not in the tests table"),
        ("snag-without-retest", {}, {"result": "fail"}, Outcome.FAIL, "not recorded as passed"),
        ("snag-without-retest", {}, {"section_ids": ("S2",)}, Outcome.FAIL, "does not cover section S1"),
        ("snag-without-retest", {"section_ids": ()}, {"section_ids": ("S2",)}, Outcome.FAIL, "does not cover section S1"),
        ("snag-without-retest", {}, {"date": dt.date(2026, 3, 3)}, Outcome.FAIL, "of 3 March 2026, before"),
        ("snag-without-retest", {}, {"date": None}, Outcome.CANNOT_TELL, "the day of test PT-2"),
        ("snag-without-retest", {"raised_on": None}, {}, Outcome.CANNOT_TELL, "the day on which it was raised"),
        ("snag-without-retest", {"retest_test_id": None}, {}, Outcome.CANNOT_TELL, "closed it; PT-2 of 5 March 2026 may be it"),
        (
            "snag-without-retest", {"retest_test_id": None}, {"date": dt.date(2026, 3, 3)}, Outcome.FAIL,
            "no passed test of section S1 since 4 March 2026",
        ),
        ("snag-without-retest", {"section_ids": (), "joint_ids": ()}, {}, Outcome.CANNOT_TELL, "no section or joint"),
        ("snag-without-retest", {"kind": "support", "retest_test_id": "PT-9"}, {}, Outcome.FAIL, "asks for a retest"),
        ("snag-closing-not-shown", {"closed_by_role": None}, {}, Outcome.CANNOT_TELL, "by which role"),
        ("snag-closing-not-shown", {"closed_on": None}, {}, Outcome.CANNOT_TELL, "does not say when"),
        ("snag-closing-not-shown", {"closed_on": dt.date(2026, 3, 3)}, {}, Outcome.FAIL, "before it was raised"),
        ("snag-closing-not-shown", {"closed_on": dt.date(2026, 5, 16)}, {}, Outcome.FAIL, "after the issue"),
    ],
)  # fmt: skip
def test_one_fault_is_found_and_told(
    slug: str, snag: dict[str, Any], test: dict[str, Any], outcome: Outcome, words: str, ask: Ask
) -> None:
    findings = ask(slug, snag, test)
    assert [(f.subject.id, f.outcome) for f in findings] == [("SN-1", outcome)]
    assert words in findings[0].message


@pytest.mark.parametrize(
    ("slug", "snag", "test"),
    [
        ("snag-overdue", {**OPEN, "snag_class": "B", "due_on": dt.date(2026, 5, 15)}, {}),
        ("snag-overdue", {"snag_class": "B", "due_on": dt.date(2026, 3, 1)}, {}),
        ("open-snag-class-a", {**OPEN, "snag_class": "B"}, {}),
        ("snag-without-retest", {}, {"date": dt.date(2026, 3, 4)}),
        ("snag-without-retest", {**OPEN, "retest_test_id": None}, {}),
        ("snag-without-retest", {"kind": "support", "retest_required": None, "retest_test_id": None}, {}),
    ],
    ids=["due today", "closed", "class B", "retest on the same day", "still open", "a support"],
)
def test_what_is_in_order_is_not_told(slug: str, snag: dict[str, Any], test: dict[str, Any], ask: Ask) -> None:
    assert ask(slug, snag, test) == []


def test_a_snags_table_without_a_row_is_no_pass(record: Any, make_outcome: Callable[..., Worked]) -> None:
    check = next(check for check in CHECKS if check.rule.slug == "open-snag-class-a")
    outcome = make_outcome(sections=(record("sections", section_id="S1"),))
    findings = check.run(outcome.project, outcome.workings).findings
    assert [f.outcome for f in findings] == [Outcome.CANNOT_TELL]
    assert "The snags table has no row" in findings[0].message


def test_what_a_role_cell_holds_is_not_repeated(ask: Ask) -> None:
    """Somebody may have written a name where a role belongs."""
    findings = ask("snag-closing-not-shown", {"closed_on": None, "closed_by_role": "Ada Press"})
    assert "Ada" not in findings[0].message
