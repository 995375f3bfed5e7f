"""Changes reopen the sections they touch until a later test, or a watched closure joint, closes them."""

import datetime
from collections.abc import Callable
from typing import Any

import pytest

from witnessmark.checks.judgement import Answer
from witnessmark.checks.rework import (
    alteration_names_wrong_test,
    altered_after_the_last_test,
    cut_out_not_recorded,
    void_without_reason,
)
from witnessmark.checks.rework.openings import DONE
from witnessmark.checks.testing import boundary_joint_not_tested, pressed_after_the_last_test
from witnessmark.model.finding import Outcome as Result
from witnessmark.model.threshold import thresholds
from witnessmark.pipeline import Outcome

Make = Callable[..., Outcome]
Record = Callable[..., Any]


def day(number: int) -> datetime.date:
    return datetime.date(2026, 5, number)


@pytest.fixture
def site(record: Record, make_outcome: Make) -> Callable[..., Outcome]:
    """Two sections that meet at a valve, both tested on 9 May, with the alterations and further rows given."""

    def make(alterations: list[dict[str, Any]], **tables: list[dict[str, Any]]) -> Outcome:
        rows: dict[str, Any] = {
            "sections": [
                {"section_id": "S1", "from_node": "V1", "to_node": "V2", "status": "tested"},
                {"section_id": "S2", "from_node": "V2", "to_node": "V3", "status": "tested"},
            ],
            "joints": [{"joint_id": "J014", "section_id": "S1", "status": "tested", "press_date": day(8)}],
            "tests": [test("PT-014", 9, "S1", "S2")],
        }
        rows |= tables | {"alterations": [{"alteration_id": "AL-1", "date": day(12), **row} for row in alterations]}
        return make_outcome(**{name: tuple(record(name, **row) for row in listed) for name, listed in rows.items()})

    return make


def test(name: str, number: int, *sections: str, **values: Any) -> dict[str, Any]:
    usual = {"attempt": 1, "stage": "strength", "result": "pass", "date": day(number)}
    return {"test_id": name, "section_ids": sections, **usual, **values}


test.__test__ = False  # type: ignore[attr-defined]  # a row of the tests table, not a test of ours


def asked(check: Any, outcome: Outcome) -> Answer:
    answer: Answer = check.CHECK.run(outcome.project, outcome.workings)
    return answer


def told(check: Any, outcome: Outcome) -> list[tuple[Result, tuple[str, ...]]]:
    return [(finding.outcome, finding.section_ids) for finding in asked(check, outcome).findings]


def test_a_valve_changed_after_the_test_reopens_every_section_at_it(site: Make) -> None:
    outcome = site([{"kind": "valve_changed", "node_id": "V2"}])
    (finding,) = asked(altered_after_the_last_test, outcome).findings
    assert finding.message == (
        "A valve was changed on 12 May 2026 (alteration AL-1) in sections S1, S2; the last strength test there, PT-014, "
        "was on 9 May 2026. No later test is recorded."
    )
    assert finding.section_ids == ("S1", "S2")
    retested = site([{"kind": "valve_changed", "node_id": "V2"}], tests=[test("A", 9, "S1", "S2"), test("B", 13, "S1")])
    assert told(altered_after_the_last_test, retested) == [(Result.FAIL, ("S2",))]


@pytest.mark.parametrize("kind", sorted(DONE))
def test_every_kind_of_change_that_opens_the_pipe_asks_for_a_later_test(site: Make, kind: str) -> None:
    change = {"kind": kind, "section_ids": ("S1",)}
    (found,) = told(altered_after_the_last_test, site([change]))
    # A closure joint may have been watched instead; whether it was is not recorded.
    assert found[0] is (Result.CANNOT_TELL if kind == "closure_joint" else Result.FAIL)
    later = [test("PT-014", 9, "S1"), test("PT-021", 13, "S1")]
    assert told(altered_after_the_last_test, site([change], tests=later)) == []


@pytest.mark.parametrize("kind", ["other", "void", "insulation_opened"])
def test_what_does_not_open_the_pipe_asks_for_no_test(site: Make, kind: str) -> None:
    assert asked(altered_after_the_last_test, site([{"kind": kind, "section_ids": ("S1",)}])) == Answer(0, ())


def test_a_failed_or_broken_off_test_closes_nothing(site: Make) -> None:
    tests = [test("A", 9, "S1"), test("B", 13, "S1", result="fail"), test("C", 14, "S1", result="abandoned")]
    outcome = site([{"kind": "cut_out", "section_ids": ("S1",)}], tests=tests)
    assert told(altered_after_the_last_test, outcome) == [(Result.FAIL, ("S1",))]


@pytest.mark.parametrize(
    ("done", "began", "expected"),
    [(9, 10, None), (11, 10, Result.FAIL), (None, 10, Result.CANNOT_TELL), (9, None, Result.CANNOT_TELL)],
)
def test_on_one_day_the_times_decide(site: Make, done: int | None, began: int | None, expected: Result | None) -> None:
    change = {"kind": "replaced", "section_ids": ("S1",), "time": done and datetime.time(done)}
    tests = [test("A", 12, "S1", start_time=began and datetime.time(began))]
    found = told(altered_after_the_last_test, site([change], tests=tests))
    assert [result for result, _ in found] == ([] if expected is None else [expected])


def test_a_change_without_a_day_cannot_be_told(site: Make) -> None:
    (finding,) = asked(
        altered_after_the_last_test, site([{"kind": "replaced", "section_ids": ("S1",), "date": None}])
    ).findings
    assert finding.outcome is Result.CANNOT_TELL
    assert "the day of the work" in finding.message


@pytest.mark.parametrize(
    ("watch", "expected"),
    [
        ({"watched_bar": 3.0, "watched_min": 30.0, "seen_dry": True}, None),
        ({"watched_bar": 3.0, "watched_min": 29.0, "seen_dry": True}, Result.FAIL),
        ({"watched_bar": 0.0, "watched_min": 60.0, "seen_dry": True}, Result.FAIL),
        ({"watched_bar": 3.0, "watched_min": 60.0, "seen_dry": False}, Result.FAIL),
        ({"watched_bar": 3.0, "watched_min": 60.0}, Result.CANNOT_TELL),
    ],
)
def test_a_closure_joint_is_closed_by_watching_it_long_enough_under_pressure(
    site: Make, watch: dict[str, Any], expected: Result | None
) -> None:
    # Thirty minutes: common practice, no published source.
    assert thresholds()["closure-watched-min"].default == 30
    change = {"kind": "closure_joint", "section_ids": ("S1",), "joint_ids": ("J014",), **watch}
    found = told(altered_after_the_last_test, site([change]))
    assert [result for result, _ in found] == ([] if expected is None else [expected])


def test_a_late_joint_that_a_change_names_is_told_once(site: Make) -> None:
    late = [{"joint_id": "J014R", "section_id": "S1", "status": "tested", "press_date": day(12)}]
    change = {"kind": "replaced", "section_ids": ("S1",), "joint_ids": ("J014R",)}
    outcome = site([change], joints=late)
    assert told(altered_after_the_last_test, outcome) == [(Result.FAIL, ("S1",))]
    assert told(pressed_after_the_last_test, outcome) == []
    assert told(pressed_after_the_last_test, site([], joints=late)) == [(Result.FAIL, ("S1",))]


def test_a_joint_pressed_after_the_test_that_closed_its_change_is_still_told(site: Make) -> None:
    late = [{"joint_id": "J014R", "section_id": "S1", "status": "tested", "press_date": day(20)}]
    change = {"kind": "replaced", "section_ids": ("S1",), "joint_ids": ("J014R",)}
    outcome = site([change], joints=late, tests=[test("A", 9, "S1"), test("B", 13, "S1")])
    assert told(pressed_after_the_last_test, outcome) == [(Result.FAIL, ("S1",))]


def test_a_closure_joint_that_every_test_left_out_is_told_by_its_record(site: Make) -> None:
    change = {"kind": "closure_joint", "joint_ids": ("J014",), "date": day(8)}
    tests = [test("A", 9, "S1", joints_left_out=("J014",))]
    outcome = site([change], tests=tests)
    assert told(altered_after_the_last_test, outcome) == [(Result.CANNOT_TELL, ("S1",))]
    assert told(boundary_joint_not_tested, outcome) == []


def test_a_split_reopens_the_sections_that_came_of_it(site: Make) -> None:
    change = {"kind": "section_split", "section_ids": ("S1",), "into_section_ids": ("S2",)}
    assert told(altered_after_the_last_test, site([change])) == [(Result.FAIL, ("S1", "S2"))]


def test_a_section_without_any_passed_test_is_left_to_the_question_on_stages(site: Make) -> None:
    outcome = site([{"kind": "replaced", "section_ids": ("S1", "S2")}], tests=[test("A", 9, "S1")])
    assert told(altered_after_the_last_test, outcome) == [(Result.FAIL, ("S1",))]


def test_a_change_of_nothing_in_the_records_cannot_be_told(site: Make) -> None:
    assert told(altered_after_the_last_test, site([{"kind": "valve_changed"}])) == [(Result.CANNOT_TELL, ())]


@pytest.mark.parametrize(
    ("named", "words"),
    [
        ("PT-099", "which is not in the tests table"),
        ("PT-F", "which is not recorded as passed"),
        ("PT-S2", "which does not cover section S1"),
        ("PT-014", "which was on 9 May 2026"),
    ],
)
def test_the_test_that_a_change_names_must_be_the_one_that_closed_it(site: Make, named: str, words: str) -> None:
    tests = [test("PT-014", 9, "S1"), test("PT-F", 13, "S1", result="fail"), test("PT-S2", 13, "S2")]
    tests.append(test("PT-021", 14, "S1"))
    change = {"kind": "replaced", "section_ids": ("S1",), "test_id": named}
    (finding,) = asked(alteration_names_wrong_test, site([change], tests=tests)).findings
    assert finding.message == f"Alteration AL-1 of 12 May 2026 names test {named}, {words}."
    assert asked(alteration_names_wrong_test, site([change | {"test_id": "PT-021"}], tests=tests)) == Answer(1, ())


def test_a_joint_cut_out_needs_a_record_or_a_joint_in_its_place(site: Make) -> None:
    gone = {"joint_id": "J1", "section_id": "S1", "status": "cut_out"}
    itself = gone | {"replaces_joint": "J1"}
    assert told(cut_out_not_recorded, site([], joints=[itself])) == [(Result.CANNOT_TELL, ("S1",))]
    replaced = [gone, {"joint_id": "J2", "section_id": "S1", "replaces_joint": "J1"}]
    assert told(cut_out_not_recorded, site([], joints=replaced)) == []
    assert told(cut_out_not_recorded, site([{"kind": "cut_out", "joint_ids": ("J1",)}], joints=[gone])) == []


def test_voids_of_a_section_without_a_reason_are_one_finding(site: Make) -> None:
    void = [{"joint_id": name, "section_id": "S1", "status": "void"} for name in ("J3", "J1", "J2")]
    (finding,) = asked(void_without_reason, site([], joints=void)).findings
    assert (
        finding.message
        == "3 joints, the first of them J1, of section S1 are void, and no remark and no alteration says why."
    )
    assert finding.outcome is Result.CANNOT_TELL
    explained = [row | {"remarks": "Number not used"} for row in void]
    assert asked(void_without_reason, site([], joints=explained)) == Answer(3, ())
    reason = {"kind": "void", "joint_ids": ("J1", "J2", "J3"), "reason": "Numbers not used"}
    assert told(void_without_reason, site([reason], joints=void)) == []
    assert told(void_without_reason, site([{"kind": "void", "section_ids": ("S1",)}])) == [
        (Result.CANNOT_TELL, ("S1",))
    ]


def test_the_order_of_rows_changes_no_answer(site: Make) -> None:
    changes = [
        {"alteration_id": f"AL-{n}", "kind": "replaced", "section_ids": ("S1", "S2")[:: 1 - 2 * (n % 2)]}
        for n in range(4)
    ]
    tests = [test(f"T{n}", 5 + n, "S1", "S2") for n in range(4)]
    ways = [site(changes, tests=tests), site(changes[::-1], tests=tests[::-1])]
    answers = [
        sorted((f.subject.id, f.message) for f in asked(altered_after_the_last_test, way).findings) for way in ways
    ]
    assert answers[0] == answers[1]
    assert len(answers[0]) == 4
