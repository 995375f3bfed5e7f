"""Patterns that ask for an explanation: what they take for one, and where they keep silent."""

import datetime as dt
from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import binom

from witnessmark.checks.anomalies import (
    more_presses_in_a_day_than_plausible,
    more_presses_in_an_hour_than_plausible,
    number_missing_in_run,
    one_gauge_in_two_places,
    one_operative_in_two_places,
    one_photo_for_two_joints,
    one_tester_in_two_tests_at_once,
    one_tool_in_two_hands,
    one_tool_in_two_places,
    one_witness_in_two_tests_at_once,
    readings_rounder_than_chance,
    same_readings_on_several_certificates,
)
from witnessmark.checks.anomalies.level_words import apart, levels
from witnessmark.checks.anomalies.round_chance import binomial_tail
from witnessmark.checks.judgement import Answer
from witnessmark.pipeline import Outcome

Make = Callable[..., Outcome]
Record = Callable[..., Any]
DAY = dt.date(2026, 3, 2)
EVERY = (
    one_tool_in_two_hands,
    more_presses_in_a_day_than_plausible,
    more_presses_in_an_hour_than_plausible,
    number_missing_in_run,
    one_gauge_in_two_places,
    one_operative_in_two_places,
    one_photo_for_two_joints,
    one_tester_in_two_tests_at_once,
    one_tool_in_two_places,
    one_witness_in_two_tests_at_once,
    readings_rounder_than_chance,
    same_readings_on_several_certificates,
)


def asked(check: Any, outcome: Outcome) -> Answer:
    answer: Answer = check.CHECK.run(outcome.project, outcome.workings)
    return answer


def at(minute: int) -> dt.time:
    return dt.time(minute // 60, minute % 60)


@pytest.mark.parametrize("check", EVERY)
def test_nothing_recorded_is_nothing_examined(check: Any, record: Record, make_outcome: Make) -> None:
    """Bare joints and tests give no ground for any question, and are counted as not looked at."""
    records = {
        "sections": (record("sections", section_id="S1"),),
        "joints": tuple(record("joints", joint_id=name, section_id="S1") for name in ("A", "B")),
        "tests": tuple(record("tests", test_id=f"T{n}", section_ids=("S1",)) for n in (1, 2)),
    }
    assert asked(check, make_outcome(**records)) == Answer(0, ())
    assert asked(check, make_outcome()) == Answer(0, ())


@pytest.mark.parametrize("check", EVERY)
def test_a_pattern_asks_and_does_not_accuse(check: Any) -> None:
    rule = check.RULE
    assert rule.severity.value == "weakens"
    assert rule.example.rstrip().endswith("?") or "Please say" in rule.example
    words = f"{rule.question} {rule.what} {rule.why} {rule.example} {rule.closes}".lower()
    assert not [word for word in ("fraud", "forged", "faked", "lied", "cheat", "false") if word in words]


# Levels


@pytest.mark.parametrize(
    ("text", "known"),
    [("3", {3}), ("L3", {3}), ("Level 3", {3}), ("1 to 3", {1, 2, 3}), ("3-1", {1, 2, 3}), ("-1 to 1", {-1, 0, 1}), ("1; 4", {1, 4})],
)  # fmt: skip
def test_levels_are_read_as_figures(text: str, known: set[int]) -> None:
    assert levels(text) == frozenset(known)


@pytest.mark.parametrize("text", [None, "", "roof", "ground", "2, roof", "3A"])
def test_a_level_that_is_no_figure_is_not_known_and_never_apart(text: str | None) -> None:
    assert levels(text) is None
    assert not apart(levels(text), levels("3"))


# Tests at the same time


def _tests(record: Record, *rows: dict[str, Any]) -> dict[str, Any]:
    sections = tuple(record("sections", section_id=f"S{n}", level=str(n)) for n in (1, 2, 3))
    base = {
        "date": DAY,
        "start_time": at(600),
        "end_time": at(660),
        "instrument_id": "G-01",
        "tester": "OP-09",
        "witness": "CW-1",
    }
    base["start_pressure_bar"] = 6.0
    tests = tuple(
        record("tests", **{"test_id": f"T{n}", "section_ids": (f"S{n}",), **base, **row})
        for n, row in enumerate(rows, 1)
    )
    return {"sections": sections, "tests": tests}


TOGETHER = (one_gauge_in_two_places, one_tester_in_two_tests_at_once, one_witness_in_two_tests_at_once)


@pytest.mark.parametrize("check", TOGETHER)
def test_three_tests_at_once_are_one_question(check: Any, record: Record, make_outcome: Make) -> None:
    answer = asked(check, make_outcome(**_tests(record, {}, {}, {})))
    (finding,) = answer.findings
    assert answer.examined == 3
    assert (
        "test T1 (10:00 to 11:00), test T2 (10:00 to 11:00) and test T3 (10:00 to 11:00) of 2 March 2026"
        in finding.message
    )
    assert finding.section_ids == ("S1", "S2", "S3")


@pytest.mark.parametrize("check", TOGETHER)
@pytest.mark.parametrize(
    "other",
    [
        {"start_time": at(660), "end_time": at(720)},
        {"date": DAY + dt.timedelta(days=1)},
        {"section_ids": ("S1",)},
        {"test_id": "T1"},
        {"start_time": None},
        {"end_time": None},
        {"date": None},
        {"section_ids": ()},
    ],
    ids=["touching", "another day", "the same section", "one test", "no start", "no end", "no day", "no section"],
)
def test_tests_that_can_both_have_been_are_not_asked_about(
    check: Any, other: dict[str, Any], record: Record, make_outcome: Make
) -> None:
    assert asked(check, make_outcome(**_tests(record, {}, other))).findings == ()


@pytest.mark.parametrize("check", [one_gauge_in_two_places, one_tester_in_two_tests_at_once])
def test_a_hold_over_midnight_meets_the_one_of_the_next_morning(check: Any, record: Record, make_outcome: Make) -> None:
    night = {"start_time": at(1380), "end_time": at(60)}
    morning = {"date": DAY + dt.timedelta(days=1), "start_time": at(30), "end_time": at(90)}
    (finding,) = asked(check, make_outcome(**_tests(record, night, morning))).findings
    assert "test T1 (23:00 to 01:00) and test T2 (00:30 to 01:30) of 2 March 2026" in finding.message


def test_a_witness_may_walk_from_one_hold_to_the_next(record: Record, make_outcome: Make) -> None:
    later = {"start_time": at(610), "end_time": at(670)}
    records = _tests(record, {}, later)
    assert asked(one_witness_in_two_tests_at_once, make_outcome(**records)).findings == ()
    assert len(asked(one_tester_in_two_tests_at_once, make_outcome(**records)).findings) == 1


def test_a_name_of_a_witness_is_in_no_message(record: Record, make_outcome: Make) -> None:
    named = {"witness": "Velquo Branorm"}
    (finding,) = asked(one_witness_in_two_tests_at_once, make_outcome(**_tests(record, named, named))).findings
    assert "Velquo" not in f"{finding.message} {finding.subject.id} {finding.remedy}"


def test_levels_that_meet_are_not_two_places(record: Record, make_outcome: Make) -> None:
    both = {"section_ids": ("S2", "S3")}
    assert (
        asked(
            one_tester_in_two_tests_at_once, make_outcome(**_tests(record, {"section_ids": ("S1", "S2")}, both))
        ).findings
        == ()
    )


# The same readings


def _certificates(record: Record, count: int, **differs: Any) -> tuple[Any, ...]:
    held = {
        "start_pressure_bar": 6.1, "end_pressure_bar": 6.1, "start_time": at(570), "end_time": at(630), "pipe_start_c": 12.0,
        "pipe_end_c": 12.2,
    }  # fmt: skip
    rows = [record("tests", **{"test_id": f"T{n}", "section_ids": (f"S{n}",), **held}) for n in range(1, count)]
    return (*rows, record("tests", **{"test_id": f"T{count}", "section_ids": (f"S{count}",), **held, **differs}))


def test_three_certificates_with_the_same_readings_are_asked_about(record: Record, make_outcome: Make) -> None:
    (finding,) = asked(same_readings_on_several_certificates, make_outcome(tests=_certificates(record, 3))).findings
    assert finding.message == (
        "Tests T1, T2 and T3 of different sections have the same pressures (6.1 and 6.1 bar), times (09:30 to 10:30) and "
        "temperatures. Please say how that came about."
    )
    assert finding.section_ids == ("S1", "S2", "S3")


@pytest.mark.parametrize(
    "differs",
    [
        {"pipe_end_c": 12.3},
        {"end_time": at(631)},
        {"start_pressure_bar": 6.2},
        {"test_id": "T1"},
        {"section_ids": ("S1",)},
    ],
)
def test_one_figure_that_differs_makes_a_certificate_its_own(
    differs: dict[str, Any], record: Record, make_outcome: Make
) -> None:
    tests = _certificates(record, 3, **differs)
    assert asked(same_readings_on_several_certificates, make_outcome(tests=tests)).findings == ()


def test_readings_without_temperatures_are_too_plain_to_compare(record: Record, make_outcome: Make) -> None:
    tests = tuple(
        record("tests", test_id=f"T{n}", section_ids=(f"S{n}",), start_pressure_bar=6.0, end_pressure_bar=6.0, start_time=at(540), end_time=at(600))
        for n in range(9)
    )  # fmt: skip
    assert asked(same_readings_on_several_certificates, make_outcome(tests=tests)) == Answer(0, ())


# Presses


def _pressed(record: Record, minutes: list[int], **values: Any) -> tuple[Any, ...]:
    base = {"operative_id": "OP-03", "tool_id": "PT-02", "press_date": DAY, "section_id": "S1", **values}
    return tuple(
        record("joints", **{"joint_id": f"J{n:04d}", "press_time": at(minute), **base})
        for n, minute in enumerate(minutes)
    )


def test_ninety_ends_an_hour_are_not_asked_about_and_one_more_is(record: Record, make_outcome: Make) -> None:
    """Common practice, no published source: pre-assembled ends pressed in one go come at well over one a minute."""
    spread = [600 + n * 59 // 89 for n in range(90)]
    most = make_outcome(joints=_pressed(record, spread))
    assert asked(more_presses_in_an_hour_than_plausible, most) == Answer(1, ())
    over = make_outcome(joints=_pressed(record, [*spread, 659, 700]))
    (finding,) = asked(more_presses_in_an_hour_than_plausible, over).findings
    assert finding.message.startswith(
        "Operative OP-03 is logged with 91 press ends between 10:00 and 11:00 on 2 March 2026"
    )
    assert len(finding.joint_ids) == 91


def test_an_hour_is_any_sixty_minutes(record: Record, make_outcome: Make) -> None:
    """46 ends before and 46 after the full hour are 92 within sixty minutes."""
    across = [650 + n % 10 for n in range(46)] + [660 + n % 10 for n in range(46)]
    assert (
        len(asked(more_presses_in_an_hour_than_plausible, make_outcome(joints=_pressed(record, across))).findings) == 1
    )
    apart_by_an_hour = [600 + n % 3 for n in range(46)] + [663 + n % 3 for n in range(46)]
    outcome = make_outcome(joints=_pressed(record, apart_by_an_hour))
    assert asked(more_presses_in_an_hour_than_plausible, outcome).findings == ()


def test_one_time_for_the_whole_shift_tells_no_rate(record: Record, make_outcome: Make) -> None:
    outcome = make_outcome(joints=_pressed(record, [480] * 100 + [780] * 100))
    assert asked(more_presses_in_an_hour_than_plausible, outcome) == Answer(0, ())


def test_four_hundred_ends_a_day_are_not_asked_about_and_one_more_is(record: Record, make_outcome: Make) -> None:
    """Common practice, no published source."""
    assert (
        asked(more_presses_in_a_day_than_plausible, make_outcome(joints=_pressed(record, [480] * 400))).findings == ()
    )
    (finding,) = asked(
        more_presses_in_a_day_than_plausible, make_outcome(joints=_pressed(record, [480] * 401))
    ).findings
    assert "401 press ends on 2 March 2026" in finding.message


def test_joints_that_are_not_pressed_or_not_there_count_for_nobody(record: Record, make_outcome: Make) -> None:
    for values in ({"status": "void"}, {"joint_type": "flange"}):
        outcome = make_outcome(joints=_pressed(record, [480] * 500, **values))
        assert asked(more_presses_in_a_day_than_plausible, outcome) == Answer(0, ())


def _two_places(record: Record, minute: int, level: str | None) -> tuple[Any, ...]:
    return (*_pressed(record, [minute], level="1"), *_pressed(record, [minute], level=level, joint_id="J9"))


@pytest.mark.parametrize("check", [one_operative_in_two_places, one_tool_in_two_places])
def test_the_same_minute_on_two_levels_is_asked_about(check: Any, record: Record, make_outcome: Make) -> None:
    (finding,) = asked(check, make_outcome(joints=_two_places(record, 640, "3"))).findings
    assert "at 10:40 on 2 March 2026 on level 1 (joint J0000) and on level 3 (joint J9)" in finding.message
    assert finding.joint_ids == ("J0000", "J9")


@pytest.mark.parametrize("check", [one_operative_in_two_places, one_tool_in_two_places])
@pytest.mark.parametrize(("minute", "level"), [(640, "1 to 3"), (640, "roof"), (640, None), (600, "3"), (630, "3")])
def test_levels_that_meet_and_times_without_minutes_are_not_asked_about(
    check: Any, minute: int, level: str | None, record: Record, make_outcome: Make
) -> None:
    assert asked(check, make_outcome(joints=_two_places(record, minute, level))).findings == ()


def test_a_joint_without_level_is_on_the_level_of_its_section(record: Record, make_outcome: Make) -> None:
    joints = (*_pressed(record, [640]), *_pressed(record, [640], section_id="S2", joint_id="J9"))
    sections = tuple(record("sections", section_id=f"S{n}", level=str(n)) for n in (1, 2))
    (finding,) = asked(one_tool_in_two_places, make_outcome(joints=joints, sections=sections)).findings
    assert finding.section_ids == ("S1", "S2")


def test_a_tool_that_two_hold_in_one_minute_is_asked_about(record: Record, make_outcome: Make) -> None:
    joints = (*_pressed(record, [640]), *_pressed(record, [640], joint_id="J9", operative_id="OP-05"))
    (finding,) = asked(one_tool_in_two_hands, make_outcome(joints=joints)).findings
    assert finding.message == (
        "Press tool PT-02 is logged at 10:40 on 2 March 2026 with operative OP-03 (joint J0000) and with operative OP-05 "
        "(joint J9). Can you say which entry is right?"
    )


def test_a_tool_handed_on_a_minute_later_is_not_asked_about(record: Record, make_outcome: Make) -> None:
    joints = (*_pressed(record, [640]), *_pressed(record, [641], joint_id="J9", operative_id="OP-05"))
    assert asked(one_tool_in_two_hands, make_outcome(joints=joints)) == Answer(2, ())


# Photos


def _photographed(record: Record, *pairs: tuple[str, str], kind: str | None = "elbow") -> tuple[Any, ...]:
    return tuple(record("joints", joint_id=j, photo=p, section_id="S1", fitting_kind=kind) for j, p in pairs)


def test_ends_of_one_fitting_may_share_a_photo(record: Record, make_outcome: Make) -> None:
    joints = _photographed(record, ("J1-A", "D1"), ("J1-B", "D1"))
    assert asked(one_photo_for_two_joints, make_outcome(joints=joints)) == Answer(2, ())


def test_neighbours_without_letters_may_be_the_ends_of_one_fitting(record: Record, make_outcome: Make) -> None:
    elbow = _photographed(record, ("J014", "D1"), ("J015", "D1"))
    assert asked(one_photo_for_two_joints, make_outcome(joints=elbow)).findings == ()
    for pairs in ((("J014", "D1"), ("J016", "D1")), (("J014", "D1"), ("J015", "D1"), ("J016", "D1"))):
        assert len(asked(one_photo_for_two_joints, make_outcome(joints=_photographed(record, *pairs))).findings) == 1


def test_two_documents_with_the_same_content_are_one_photo(record: Record, make_outcome: Make) -> None:
    documents = tuple(
        record("documents", document_id=d, file=f"photos/{d}.png", sha256="ab" * 32) for d in ("D1", "D2")
    )
    joints = _photographed(record, ("J1-A", "D1"), ("J2-A", "photos/D2.png"), ("J3-A", "D3"))
    (finding,) = asked(one_photo_for_two_joints, make_outcome(joints=joints, documents=documents)).findings
    assert finding.message == (
        "Joints J1-A and J2-A name photos that are the same file, D1 and photos/D2.png. Can you say which of them it shows?"
    )


def test_a_photo_along_a_whole_column_is_one_question(record: Record, make_outcome: Make) -> None:
    joints = _photographed(record, *((f"J{n}-A", "D1") for n in range(40)))
    (finding,) = asked(one_photo_for_two_joints, make_outcome(joints=joints)).findings
    assert len(finding.joint_ids) == 40
    assert "J0-A, J1-A and 38 more name the same photo, D1" in finding.message


# Round numbers


@given(st.integers(1, 60), st.floats(0.001, 0.999), st.data())
def test_the_chance_of_round_readings_is_the_tail_of_the_binomial_distribution(
    trials: int, chance: float, data: st.DataObject
) -> None:
    """Against scipy.stats.binom.sf, a library of its own."""
    hits = data.draw(st.integers(0, trials))
    assert binomial_tail(trials, hits, chance) == pytest.approx(
        float(binom.sf(hits - 1, trials, chance)), rel=1e-9, abs=1e-15
    )


def _readings(record: Record, starts: list[float], step: float = 0.1, required: float = 5.55) -> dict[str, Any]:
    tests = tuple(
        record("tests", test_id=f"T{n}", tester="OP-09", instrument_id="G-01", required_pressure_bar=required, start_pressure_bar=bar, end_pressure_bar=bar)
        for n, bar in enumerate(starts)
    )  # fmt: skip
    return {"tests": tests, "instruments": (record("instruments", instrument_id="G-01", resolution_bar=step),)}


def test_eight_whole_bars_from_a_gauge_of_tenths_are_asked_about(record: Record, make_outcome: Make) -> None:
    answer = asked(readings_rounder_than_chance, make_outcome(**_readings(record, [6.0, 7.0] * 4)))
    (finding,) = answer.findings
    assert answer.examined == 1
    assert finding.message.startswith("All 8 readings of tester OP-09 that could have been anything are whole bar")
    assert "less likely than 1 in 1" in finding.message


@pytest.mark.parametrize(
    ("starts", "step", "required"),
    [
        ([6.0] * 7, 0.1, 5.55),
        ([6.0] * 40, 0.1, 6.0),
        ([6.0] * 12, 1.0, 5.55),
        ([6.0] * 12, 0.5, 5.55),
        ([6.1, 6.2, 6.3, 6.0, 6.4, 6.5, 6.0, 6.7], 0.1, 5.55),
    ],
    ids=["too few", "pumped to what was required", "a gauge of whole bars", "a gauge of halves", "now and then"],
)
def test_round_readings_that_chance_or_the_procedure_would_give_are_not_asked_about(
    starts: list[float], step: float, required: float, record: Record, make_outcome: Make
) -> None:
    outcome = make_outcome(**_readings(record, starts, step, required))
    assert asked(readings_rounder_than_chance, outcome).findings == ()


# Numbering


def _numbered(record: Record, ids: list[str], section: str = "S1", **values: Any) -> tuple[Any, ...]:
    return tuple(record("joints", joint_id=name, section_id=section, **values) for name in ids)


def test_a_number_that_is_in_no_row_is_asked_about_as_it_would_be_written(record: Record, make_outcome: Make) -> None:
    joints = _numbered(record, [f"J{n:03d}-{end}" for n in (1, 2, 4, 5, 6) for end in "AB"])
    (finding,) = asked(number_missing_in_run, make_outcome(joints=joints)).findings
    assert finding.message == "Section S1 runs from J001 to J006, and J003 is in no row. Please say what became of it."
    assert finding.subject.id == "S1"


@pytest.mark.parametrize(
    "ids",
    [
        ["J001", "J002", "J004", "J005"],
        [f"J{n:03d}" for n in range(10, 100, 10)],
        [f"J{n:03d}" for n in range(1, 40, 2)],
        [f"J{n}" for level in (1, 2, 3) for n in range(level * 100 + 1, level * 100 + 9)],
        [f"J{n}" for n in range(11, 30) if n % 10],
        ["J001", "J002", "J004", "J005", "J006", "J007", "tie-in", "blank", "left", "right"],
        [f"{letter}{n}" for letter in "ABCDEFG" for n in (1, 3)],
    ],
    ids=["too few", "tens", "odd numbers", "by level", "no full tens", "mixed", "many short runs"],
)
def test_another_way_of_numbering_is_not_asked_about(ids: list[str], record: Record, make_outcome: Make) -> None:
    assert asked(number_missing_in_run, make_outcome(joints=_numbered(record, ids))).findings == ()


GAP = [f"J{n:03d}" for n in (1, 2, 4, 5, 6, 7)]


def test_a_number_that_another_row_accounts_for_is_not_asked_about(record: Record, make_outcome: Make) -> None:
    joints = _numbered(record, GAP)
    alteration = record(
        "alterations", alteration_id="AL-1", section_ids=("S1",), joint_ids=(), raw={"joint_ids": "J003-A; J003-B"}
    )
    explained: list[dict[str, Any]] = [
        {"joints": (*joints, *_numbered(record, ["J003"], status="void"))},
        {"joints": (*joints, *_numbered(record, ["J003"], section="S2"))},
        {"joints": (*joints, *_numbered(record, ["J008"], replaces_joint="J003"))},
        {"joints": joints, "alterations": (alteration,)},
    ]
    for records in explained:
        assert asked(number_missing_in_run, make_outcome(**records)).findings == ()
    assert len(asked(number_missing_in_run, make_outcome(joints=joints)).findings) == 1
