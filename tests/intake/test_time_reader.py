"""Times of day and moments as sites write them."""

from __future__ import annotations

import datetime as dt
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.intake.cell import CellValue
from witnessmark.intake.readings import Fault, Read
from witnessmark.intake.time_reader import read_moment, read_time

COLUMN = "tests.started_at"
LONDON = ZoneInfo("Europe/London")


@pytest.mark.parametrize(
    ("value", "time"),
    [
        ("14:30", dt.time(14, 30)),
        ("14:30:15", dt.time(14, 30, 15)),
        ("14.30", dt.time(14, 30)),
        ("14h30", dt.time(14, 30)),
        ("1430 hrs", dt.time(14, 30)),
        ("2.30pm", dt.time(14, 30)),
        ("2 p.m.", dt.time(14, 0)),
        ("12am", dt.time(0, 0)),
        ("12:15 PM", dt.time(12, 15)),
        ("02:00", dt.time(2, 0)),
        ("7:15", dt.time(7, 15)),
        (dt.time(14, 30), dt.time(14, 30)),
        (dt.datetime(2026, 5, 12, 14, 30), dt.time(14, 30)),
        (0.5, dt.time(12, 0)),
    ],
)
def test_times_that_can_only_be_one(value: CellValue, time: dt.time) -> None:
    read = read_time(value, column=COLUMN)
    assert isinstance(read, Read)
    assert read.value == time


def test_two_oclock_without_a_leading_zero_could_be_two() -> None:
    fault = read_time("2:00", column=COLUMN)
    assert isinstance(fault, Fault)
    assert fault.kind == "time-could-be-two"
    assert fault.message == "'2:00' could be 02:00 or 14:00"
    settled = read_time("2:00", column=COLUMN, twelve_hour=False)
    assert isinstance(settled, Read)
    assert settled.value == dt.time(2, 0)


@pytest.mark.parametrize(
    ("value", "kind"),
    [
        ("24:00", "time-impossible"),
        ("12:60", "time-impossible"),
        ("13pm", "not-a-time"),
        ("noon", "not-a-time"),
        ("14", "not-a-time"),
        (14, "not-a-time"),
        (True, "not-a-time"),
        ("", "blank"),
    ],
)
def test_what_is_no_time_is_named_for_what_it_is(value: CellValue, kind: str) -> None:
    fault = read_time(value, column=COLUMN)
    assert isinstance(fault, Fault)
    assert fault.kind == kind


def test_a_moment_is_local_to_the_building_unless_it_says_its_offset() -> None:
    local = read_moment("2026-05-12 14:30", column=COLUMN, zone="Europe/London")
    assert isinstance(local, Read)
    assert local.value == dt.datetime(2026, 5, 12, 14, 30, tzinfo=LONDON)
    with_offset = read_moment("2026-05-12T13:30:00Z", column=COLUMN, zone="Europe/London")
    assert isinstance(with_offset, Read)
    assert with_offset.value == local.value
    typed = read_moment(dt.datetime(2026, 5, 12, 14, 30), column=COLUMN, zone="Europe/London")
    assert isinstance(typed, Read)
    assert typed.value == local.value


def test_the_hours_of_the_change_of_clocks_are_faults() -> None:
    """United Kingdom, 2024: forward on 31 March at 01:00, back on 27 October at 02:00 (public record)."""
    twice = read_moment("2024-10-27 01:30", column=COLUMN, zone="Europe/London")
    assert isinstance(twice, Fault)
    assert twice.kind == "time-could-be-two"
    assert "+01:00 or +00:00" in twice.remedy
    skipped = read_moment("2024-03-31 01:30", column=COLUMN, zone="Europe/London")
    assert isinstance(skipped, Fault)
    assert skipped.kind == "time-impossible"
    settled = read_moment("2024-10-27 01:30 +00:00", column=COLUMN, zone="Europe/London")
    assert isinstance(settled, Read)
    assert settled.value.utcoffset() == dt.timedelta(0)


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("13/04/2024", "time-missing"),
        ("03/04/2024 14:30", "date-could-be-two"),
        ("13/04/2024 2:30", "time-could-be-two"),
        ("2924-05-12 14:30", "date-far-off"),
        ("yesterday 14:30", "not-a-date"),
    ],
)
def test_a_moment_has_the_faults_of_its_date_and_of_its_time(text: str, kind: str) -> None:
    fault = read_moment(text, column=COLUMN, zone="Europe/London")
    assert isinstance(fault, Fault)
    assert fault.kind == kind


@given(st.text(max_size=24) | st.text(alphabet="0123456789/.- :TZ+apm", max_size=24))
def test_any_text_gives_a_time_or_a_fault(text: str) -> None:
    assert isinstance(read_time(text, column=COLUMN), Read | Fault)
    assert isinstance(read_moment(text, column=COLUMN, zone="Europe/London"), Read | Fault)


@pytest.mark.parametrize("value", [float("nan"), 10**400, -1, 1e300])
def test_numbers_that_count_no_days_are_faults(value: CellValue) -> None:
    assert isinstance(read_moment(value, column=COLUMN, serials="1900"), Fault)
