"""Checks of tests at their corners: same days, missing cells, empty tables, wrong order."""

import dataclasses
import datetime
from collections.abc import Callable
from typing import Any

import pytest

from witnessmark.checks.judgement import Answer
from witnessmark.checks.testing import (
    boundary_joint_not_tested,
    failed_attempt_not_kept,
    gas_test_without_precautions,
    leak_without_rework,
    left_full_untreated,
    made_safe_late,
    made_safe_not_recorded,
    passed_with_a_leak,
    pressed_after_the_last_test,
    required_stage_not_passed,
    test_not_witnessed,
    test_stages_out_of_order,
    tested_after_closing_in,
    witness_of_another_organisation,
    witness_signed_another_day,
)
from witnessmark.checks.testing.leaks import leaked
from witnessmark.model.finding import Outcome as Result
from witnessmark.model.procedure import ProcedureStage, TestProcedure
from witnessmark.model.settings import ProjectSettings, WitnessSettings
from witnessmark.model.threshold import thresholds
from witnessmark.pipeline import Outcome

Make = Callable[..., Outcome]
Record = Callable[..., Any]
EVERY = (
    boundary_joint_not_tested, failed_attempt_not_kept, gas_test_without_precautions, leak_without_rework,
    left_full_untreated, made_safe_late, made_safe_not_recorded, passed_with_a_leak, pressed_after_the_last_test,
    required_stage_not_passed, test_not_witnessed, test_stages_out_of_order, tested_after_closing_in,
    witness_of_another_organisation, witness_signed_another_day,
)  # fmt: skip


def day(number: int) -> datetime.date:
    return datetime.date(2026, 5, number)


@pytest.fixture
def asks(settings: ProjectSettings) -> ProjectSettings:
    """Settings that ask heating for a look, a leak test and a strength test, the last before the client's witness."""
    stages = tuple(ProcedureStage(stage=name) for name in ("visual", "leak", "strength"))
    wet = TestProcedure("wet", "Water test", "Invented specification", stages)
    return dataclasses.replace(
        settings,
        testing={"heating_flow": "wet"},
        procedures={"wet": wet},
        witness=WitnessSettings(("strength",), ("Client, clerk of works",)),
    )


@pytest.fixture
def site(record: Record, make_outcome: Make, asks: ProjectSettings) -> Callable[..., Outcome]:
    """One section of heating with the tables given."""

    def make(settings: ProjectSettings | None = None, potable: bool = False, **tables: list[dict[str, Any]]) -> Outcome:
        rows: dict[str, Any] = {
            "systems": [
                {"system_id": "LTHW", "service": "heating_flow", "medium": "treated_water", "potable": potable}
            ],
            "sections": [{"section_id": "S1", "system_id": "LTHW", "status": "tested"}],
        }
        rows |= tables
        made = {name: tuple(record(name, **row) for row in listed) for name, listed in rows.items()}
        return make_outcome(settings=settings or asks, **made)

    return make


def joint(name: str = "J014", **values: Any) -> dict[str, Any]:
    return {"joint_id": name, "section_id": "S1", "status": "tested", "joint_type": "press", **values}


def stage(name: str = "strength", number: int = 9, **values: Any) -> dict[str, Any]:
    usual = {"test_id": "PT-014", "attempt": 1, "section_ids": ("S1",), "date": day(number), "result": "pass"}
    return {"stage": name, "medium": "none" if name == "visual" else "water", **usual, **values}


def asked(check: Any, outcome: Outcome) -> Answer:
    answer: Answer = check.CHECK.run(outcome.project, outcome.workings)
    return answer


def told(check: Any, outcome: Outcome) -> list[tuple[Result, str]]:
    return [(finding.outcome, finding.message) for finding in asked(check, outcome).findings]


LATE = "the only strength test of section S1 was on 9 May 2026."


def test_a_joint_pressed_after_the_only_test_is_told_in_one_sentence(site: Make) -> None:
    outcome = site(joints=[joint(press_date=day(12)), joint("J013", press_date=day(8))], tests=[stage()])
    (finding,) = asked(pressed_after_the_last_test, outcome).findings
    assert finding.message == f"Joint J014 was pressed on 12 May 2026; {LATE}"
    assert (finding.subject.id, finding.joint_ids, finding.section_ids) == ("S1", ("J014",), ("S1",))
    assert finding.location is not None
    assert finding.location.file == "records/joints.csv"
    assert "PT-014" in finding.remedy


def test_several_late_joints_are_one_finding_that_names_the_first_pressed(site: Make) -> None:
    late = [joint("J016", press_date=day(13)), joint("J015", press_date=day(12)), joint("J017", press_date=day(14))]
    expected = f"Joint J015 was pressed on 12 May 2026, and 2 others up to 14 May 2026; {LATE}"
    assert told(pressed_after_the_last_test, site(joints=late, tests=[stage()])) == [(Result.FAIL, expected)]
    one_day = [joint("J015", press_date=day(12)), joint("J016", press_date=day(12))]
    expected = f"Joint J015 and 1 other were pressed on 12 May 2026; {LATE}"
    assert told(pressed_after_the_last_test, site(joints=one_day, tests=[stage()])) == [(Result.FAIL, expected)]


def test_the_last_of_several_tests_counts_and_a_failed_one_never(site: Make) -> None:
    tests = [stage(), stage(number=11, test_id="PT-020"), stage(number=14, test_id="PT-021", result="fail")]
    tests += [stage(number=15, test_id="PT-022", result="abandoned"), stage("leak", 16, test_id="PT-023")]
    (only,) = told(pressed_after_the_last_test, site(joints=[joint(press_date=day(12))], tests=tests))
    assert only[1].endswith("the last strength test of section S1 was on 11 May 2026.")


@pytest.mark.parametrize(
    ("pressed", "began", "expected"),
    [
        (datetime.time(9, 0), datetime.time(10, 0), None),
        (datetime.time(11, 0), datetime.time(10, 0), Result.FAIL),
        (datetime.time(10, 0), datetime.time(10, 0), Result.FAIL),
        (None, datetime.time(10, 0), Result.CANNOT_TELL),
        (datetime.time(9, 0), None, Result.CANNOT_TELL),
    ],
)
def test_on_the_day_of_the_test_the_times_decide_where_both_are_recorded(
    site: Make, pressed: datetime.time | None, began: datetime.time | None, expected: Result | None
) -> None:
    outcome = site(joints=[joint(press_date=day(9), press_time=pressed)], tests=[stage(start_time=began)])
    found = told(pressed_after_the_last_test, outcome)
    assert [result for result, _ in found] == ([] if expected is None else [expected])


def test_a_same_day_finding_gives_both_times(site: Make) -> None:
    late = joint(press_date=day(9), press_time=datetime.time(14, 5))
    outcome = site(joints=[late], tests=[stage(start_time=datetime.time(10, 0))])
    expected = "Joint J014 was pressed on 9 May 2026 at 14:05; the only strength test of section S1 was on the same day at 10:00."
    assert told(pressed_after_the_last_test, outcome) == [(Result.FAIL, expected)]


def test_joints_without_a_press_date_are_one_gap_and_cut_out_ones_are_not_asked(site: Make) -> None:
    joints = [joint("J1"), joint("J2"), joint("J3", status="cut_out", press_date=day(20)), joint("J4", status="void")]
    answer = asked(pressed_after_the_last_test, site(joints=joints, tests=[stage()]))
    assert [finding.outcome for finding in answer.findings] == [Result.CANNOT_TELL]
    assert "the day on which a joint was pressed" in answer.findings[0].message
    assert answer.examined == 2


def test_a_test_without_a_day_may_have_been_later(site: Make) -> None:
    outcome = site(joints=[joint(press_date=day(12))], tests=[stage(date=None)])
    ((result, message),) = told(pressed_after_the_last_test, outcome)
    assert (result, "the day of a strength test" in message) == (Result.CANNOT_TELL, True)


def test_where_the_procedure_has_no_strength_stage_its_strictest_stage_counts(
    site: Make, asks: ProjectSettings
) -> None:
    tight = TestProcedure("gas", "Gas", "Invented", (ProcedureStage(stage="tightness"),))
    gas = dataclasses.replace(asks, testing={"heating_flow": "gas"}, procedures={"gas": tight})
    outcome = site(gas, joints=[joint(press_date=day(12))], tests=[stage("tightness")])
    ((_, message),) = told(pressed_after_the_last_test, outcome)
    assert message.endswith("the only tightness test of section S1 was on 9 May 2026.")


def test_a_left_out_joint_needs_another_test_or_a_closure_joint(site: Make) -> None:
    left = [stage(joints_left_out=("J014",))]
    joints = [joint(press_date=day(8), boundary=True)]
    ((result, message),) = told(boundary_joint_not_tested, site(joints=joints, tests=left))
    assert result is Result.FAIL
    assert message.startswith("Joint J014 of section S1 was left out of PT-014, the only strength test")
    taken_in = [*left, stage(number=11, test_id="PT-015")]
    assert told(boundary_joint_not_tested, site(joints=joints, tests=taken_in)) == []
    closure = {"alteration_id": "AL-1", "kind": "closure_joint", "joint_ids": ("J014",), "date": day(10)}
    assert told(boundary_joint_not_tested, site(joints=joints, tests=left, alterations=[closure])) == []


def test_a_section_in_no_test_cannot_be_told_and_one_that_only_failed_is_a_fail(site: Make) -> None:
    ((result, message),) = told(required_stage_not_passed, site())
    assert (result, "a row in the tests table that names it" in message) == (Result.CANNOT_TELL, True)
    tests = [stage("visual"), stage("leak"), stage(result="fail"), stage(result="fail", attempt=2, number=10)]
    ((result, message),) = told(required_stage_not_passed, site(tests=tests))
    assert result is Result.FAIL
    assert message.startswith("Test PT-014, attempt 2, strength stage, failed on 10 May 2026; no passed strength stage")


def test_a_stage_without_a_row_or_a_result_cannot_be_told(site: Make) -> None:
    ((result, message),) = told(required_stage_not_passed, site(tests=[stage("visual"), stage(result=None)]))
    assert result is Result.CANNOT_TELL
    assert "a leak stage in the tests table" in message
    assert "the result of Test PT-014, attempt 1, strength stage" in message


def test_planned_and_removed_sections_need_no_test(site: Make) -> None:
    sections = [{"section_id": name, "system_id": "LTHW", "status": name} for name in ("planned", "removed")]
    assert asked(required_stage_not_passed, site(sections=sections)) == Answer(0, ())


def test_a_leak_stage_after_the_strength_stage_is_out_of_order_and_a_retest_is_not(site: Make) -> None:
    tests = [stage("visual", 8), stage("leak", 10), stage(number=9)]
    ((_, message),) = told(test_stages_out_of_order, site(tests=tests))
    assert message == (
        "Test PT-014, attempt 1, strength stage, of section S1 was on 9 May 2026; the first passed leak stage there was on "
        "10 May 2026."
    )
    in_order = [stage("visual", 8), stage("leak", 9), stage(number=9), stage("leak", 12, test_id="PT-2")]
    assert told(test_stages_out_of_order, site(tests=in_order)) == []


def test_a_gas_test_out_of_order_carries_the_caution(site: Make) -> None:
    tests = [stage("visual", 8), stage("leak", 10, medium="air"), stage(number=9, medium="air")]
    ((_, message),) = told(test_stages_out_of_order, site(tests=tests))
    assert "to protect people" in message


@pytest.mark.parametrize("text", [None, "", "none", "None.", "no", "-", "0", "nil", "No leaks"])
def test_words_for_no_leak_mean_none(record: Record, text: str | None) -> None:
    assert not leaked(record("tests", **stage(leaks_found=text)))


def test_a_leak_is_found_by_the_id_of_the_joint_whole_and_not_by_a_part_of_it(site: Make) -> None:
    joints = [joint("J01", press_date=day(1)), joint("J014", press_date=day(1))]
    tests = [stage("leak", result="fail", leaks_found="drip at J014, flange side")]
    (finding,) = asked(leak_without_rework, site(joints=joints, tests=tests)).findings
    assert (finding.outcome, finding.joint_ids) == (Result.FAIL, ("J014",))


def test_a_leak_at_no_known_joint_cannot_be_told(site: Make) -> None:
    tests = [stage("leak", result="fail", leaks_found="at the riser")]
    ((result, message),) = told(leak_without_rework, site(joints=[joint()], tests=tests))
    assert (result, "'at the riser'" in message) == (Result.CANNOT_TELL, True)


def test_a_leak_put_right_needs_a_test_after_it(site: Make) -> None:
    joints = [joint(status="cut_out"), joint("J014R", replaces_joint="J014", press_date=day(7))]
    failed = stage("leak", 10, test_id="PT-2", result="fail", leaks_found="J014")
    ((result, message),) = told(leak_without_rework, site(joints=joints, tests=[stage(), failed]))
    assert (result, "no later passed strength test of section S1" in message) == (Result.FAIL, True)
    assert told(leak_without_rework, site(joints=joints, tests=[failed, stage(number=11)])) == []


def test_a_pass_with_a_leak_contradicts_itself(site: Make) -> None:
    ((result, _),) = told(passed_with_a_leak, site(joints=[joint()], tests=[stage(leaks_found="J014")]))
    assert result is Result.FAIL


def test_attempts_are_numbered_without_a_gap_and_have_one_result_each(site: Make) -> None:
    ((_, message),) = told(failed_attempt_not_kept, site(tests=[stage(attempt=4), stage(attempt=2)]))
    assert message == "Test PT-014 has a record of attempt 4 and none of attempts 1, 3."
    ((_, message),) = told(failed_attempt_not_kept, site(tests=[stage(), stage(result="fail")]))
    assert message == "Test PT-014 records the strength stage of attempt 1 as 'fail' and as 'pass'."


def test_a_gas_test_is_asked_for_both_precautions_even_where_it_failed(site: Make) -> None:
    gas = stage(medium="nitrogen", result="fail", energy_assessed=True, exclusion_zone=False)
    ((result, message),) = told(gas_test_without_precautions, site(tests=[gas]))
    assert (result, "no zone was kept clear" in message) == (Result.FAIL, True)
    ((result, message),) = told(gas_test_without_precautions, site(tests=[stage(medium="air")]))
    assert result is Result.CANNOT_TELL
    assert "whether the stored energy was assessed" in message
    assert asked(gas_test_without_precautions, site(tests=[stage(), stage("visual", medium="air")])) == Answer(0, ())


def test_insulation_on_the_day_of_the_test_is_in_order_and_the_day_before_is_not(site: Make) -> None:
    def insulated(on: datetime.date | None) -> list[dict[str, Any]]:
        return [{"insulation_id": "IN-1", "section_ids": ("S1",), "applied_on": on}]

    tests = [stage(), stage(number=20, test_id="PT-2")]
    assert told(tested_after_closing_in, site(tests=tests, insulations=insulated(day(9)))) == []
    ((result, _),) = told(tested_after_closing_in, site(tests=tests, insulations=insulated(day(8))))
    assert result is Result.FAIL
    ((result, message),) = told(tested_after_closing_in, site(tests=tests, insulations=insulated(None)))
    assert (result, "the first day of its insulation" in message) == (Result.CANNOT_TELL, True)


def test_nothing_is_asked_about_witnesses_that_the_project_does_not_ask_for(site: Make, asks: ProjectSettings) -> None:
    silent = dataclasses.replace(asks, witness=WitnessSettings())
    for check in (test_not_witnessed, witness_signed_another_day, witness_of_another_organisation):
        assert asked(check, site(silent, tests=[stage()])) == Answer(0, ())


def test_a_witness_is_asked_for_name_day_and_organisation(site: Make) -> None:
    assert [r for r, _ in told(test_not_witnessed, site(tests=[stage()]))] == [Result.CANNOT_TELL]
    signed = stage(witness="CW-1", witness_date=day(10), witness_organisation="client, Clerk of Works ")
    assert [r for r, _ in told(witness_signed_another_day, site(tests=[signed]))] == [Result.FAIL]
    assert told(witness_of_another_organisation, site(tests=[signed])) == []
    bare = stage(witness="CW-1")
    assert [r for r, _ in told(witness_signed_another_day, site(tests=[bare]))] == [Result.CANNOT_TELL]
    assert [r for r, _ in told(witness_of_another_organisation, site(tests=[bare]))] == [Result.CANNOT_TELL]


def test_drinking_water_stands_two_days_at_most_and_other_water_seven(site: Make) -> None:
    # 48 hours for drinking water: from memory, a rule of hygiene; seven days: common practice, no published source.
    figures = thresholds()
    assert figures["made-safe-potable-days"].default == 2
    assert figures["made-safe-potable-days"].standing == "from memory"
    assert figures["made-safe-days"].default == 7

    def drained(on: int) -> list[dict[str, Any]]:
        return [stage(made_safe="drained_dried", made_safe_date=day(on))]

    for potable, in_order, late in ((True, 11, 12), (False, 16, 17)):
        assert told(made_safe_late, site(potable=potable, tests=drained(in_order))) == []
        assert [r for r, _ in told(made_safe_late, site(potable=potable, tests=drained(late)))] == [Result.FAIL]
    ((_, message),) = told(made_safe_late, site(tests=drained(8)))
    assert message.endswith("before the test.")


def test_how_a_section_was_left_may_stand_in_any_stage_of_the_attempt(site: Make) -> None:
    left: dict[str, Any] = {"made_safe": "drained_dried", "made_safe_date": day(9)}
    assert told(made_safe_not_recorded, site(tests=[stage("leak", **left), stage()])) == []
    assert [r for r, _ in told(made_safe_not_recorded, site(tests=[stage()]))] == [Result.CANNOT_TELL]


def test_water_left_untreated_is_told_unless_a_dose_came_in_time(site: Make) -> None:
    tests = [stage(made_safe="left_full_untreated")]
    ((result, _),) = told(left_full_untreated, site(tests=tests))
    assert result is Result.FAIL
    for on, expected in ((16, []), (17, [Result.FAIL])):
        dose = {"treatment_id": "TR-1", "kind": "dose", "system_id": "LTHW", "date": day(on)}
        assert [r for r, _ in told(left_full_untreated, site(tests=tests, treatments=[dose]))] == expected


@pytest.mark.parametrize("check", EVERY, ids=lambda check: check.RULE.slug)
def test_rows_with_nothing_but_an_id_and_empty_tables_break_no_check(
    site: Make, make_outcome: Make, check: Any
) -> None:
    bare = {"test_id": "PT-1", "section_ids": ("S1",)}
    outcome = site(
        sections=[{"section_id": "S1"}],
        joints=[{"joint_id": "J1"}, {"joint_id": "J1", "section_id": "S1"}, {"joint_id": "J2", "section_id": "S9"}],
        tests=[bare, bare, {"test_id": "PT-2"}, {**bare, "stage": "strength", "result": "pass"}],
        alterations=[{"alteration_id": "AL-1", "kind": "closure_joint", "joint_ids": ("J1",)}],
        insulations=[{"insulation_id": "IN-1", "section_ids": ("S1",)}],
    )
    assert all(finding.outcome is not Result.PASS for finding in asked(check, outcome).findings)
    assert asked(check, make_outcome()) == Answer(0, ())
