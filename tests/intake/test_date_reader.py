"""Dates as sites write them."""

from __future__ import annotations

import datetime as dt

import pytest
from hypothesis import given
from hypothesis import strategies as st
from openpyxl.utils.datetime import CALENDAR_MAC_1904, CALENDAR_WINDOWS_1900, from_excel

from witnessmark.intake.cell import CellValue
from witnessmark.intake.date_reader import DateOrder, SerialBase, from_serial, read_date
from witnessmark.intake.readings import Fault, Read

COLUMN = "joints.pressed_on"
DAYS = st.dates(min_value=dt.date(1990, 1, 1), max_value=dt.date(2089, 12, 31))


@pytest.mark.parametrize(
    ("value", "day"),
    [
        ("2026-05-12", dt.date(2026, 5, 12)),
        ("2026-05-12T14:30:00Z", dt.date(2026, 5, 12)),
        ("2026/05/12", dt.date(2026, 5, 12)),
        ("20260512", dt.date(2026, 5, 12)),
        ("13/04/24", dt.date(2024, 4, 13)),
        ("04/13/2024", dt.date(2024, 4, 13)),
        ("13.4.24", dt.date(2024, 4, 13)),
        ("13-04-2024", dt.date(2024, 4, 13)),
        ("13\u201104\u20112024", dt.date(2024, 4, 13)),
        ("05/05/24", dt.date(2024, 5, 5)),
        ("12 May 2026", dt.date(2026, 5, 12)),
        ("12-May-26", dt.date(2026, 5, 12)),
        ("12th of May, 2026", dt.date(2026, 5, 12)),
        ("May 12, 2026", dt.date(2026, 5, 12)),
        ("Tue 12 May 2026", dt.date(2026, 5, 12)),
        ("1 Sept 2025", dt.date(2025, 9, 1)),
        ("13/04/2024 14:30", dt.date(2024, 4, 13)),
        (" 2026-05-12\u00a0", dt.date(2026, 5, 12)),
        (dt.datetime(2026, 5, 12), dt.date(2026, 5, 12)),
        (dt.datetime(2026, 5, 12, 14, 30), dt.date(2026, 5, 12)),
        (dt.date(2026, 5, 12), dt.date(2026, 5, 12)),
    ],
)
def test_dates_that_can_only_be_one_day(value: CellValue, day: dt.date) -> None:
    read = read_date(value, column=COLUMN)
    assert isinstance(read, Read)
    assert read.value == day


def test_iso_and_typed_dates_need_no_repair_and_all_others_are_told() -> None:
    assert read_date("2026-05-12", column=COLUMN) == Read(dt.date(2026, 5, 12))
    assert read_date("13/04/24", column=COLUMN) == Read(dt.date(2024, 4, 13), "read '13/04/24' as 2024-04-13")


@pytest.mark.parametrize("text", ["03/04/24", "3.4.2024", "03-04-24", "3 4 2024", "03042024"])
def test_a_date_that_could_be_two_is_read_only_with_an_answer(text: str) -> None:
    fault = read_date(text, column=COLUMN)
    assert isinstance(fault, Fault)
    assert fault.kind == "date-could-be-two"
    assert fault.message == f"'{text}' could be 4 March 2024 or 3 April 2024"
    assert fault.remedy == (
        "under 'answers:' in project.yml write 'joints.pressed_on: {date_order: dmy}' (or mdy, ymd)"
    )
    settled = [read_date(text, column=COLUMN, order=order) for order in ("dmy", "mdy")]
    assert [read.value for read in settled if isinstance(read, Read)] == [dt.date(2024, 4, 3), dt.date(2024, 3, 4)]


def test_a_year_in_first_place_with_two_figures_is_read_only_with_an_answer() -> None:
    read = read_date("24/03/12", column=COLUMN, order="ymd")
    assert isinstance(read, Read)
    assert read.value == dt.date(2024, 3, 12)


def test_a_date_impossible_in_the_order_of_its_column_is_not_turned_round() -> None:
    fault = read_date("04/13/2024", column=COLUMN, order="dmy")
    assert isinstance(fault, Fault)
    assert fault.kind == "date-impossible"
    assert "in the order dmy" in fault.message


@pytest.mark.parametrize(
    ("value", "kind"),
    [
        ("31/02/2024", "date-impossible"),
        ("2024-13-04", "date-impossible"),
        ("2023-02-29", "date-impossible"),
        ("30 Feb 2024", "date-impossible"),
        ("0000-00-00", "date-impossible"),
        ("Mon 12 May 2026", "date-weekday-differs"),
        ("12 May", "date-incomplete"),
        ("May 2026", "date-incomplete"),
        ("05/2026", "date-incomplete"),
        ("1.1.1899", "date-far-off"),
        ("2924-05-12", "date-far-off"),
        ("tbc", "not-a-date"),
        ("last week", "not-a-date"),
        ("1/2/3", "not-a-date"),
        (True, "not-a-date"),
        (dt.time(14, 30), "not-a-date"),
        ("#VALUE!", "formula-error"),
    ],
)
def test_what_is_no_date_is_named_for_what_it_is(value: CellValue, kind: str) -> None:
    fault = read_date(value, column=COLUMN)
    assert isinstance(fault, Fault)
    assert fault.kind == kind


def test_the_bounds_of_the_project_are_kept() -> None:
    fault = read_date("2027-07-17", column=COLUMN, earliest=dt.date(2020, 1, 1), latest=dt.date(2026, 12, 31))
    assert fault == Fault(
        "date-far-off",
        "'2027-07-17' is 17 July 2027, outside 1 January 2020 to 31 December 2026",
        "correct the year, or the bounds of the project's dates in project.yml",
    )


@pytest.mark.parametrize("value", ["45123", 45123, 45123.5, "45123.5"])
def test_a_bare_day_number_is_read_only_with_its_base(value: CellValue) -> None:
    fault = read_date(value, column=COLUMN)
    assert isinstance(fault, Fault)
    assert fault.kind == "date-is-serial"
    assert "2023-07-16 counted from 1900 or 2027-07-17 counted from 1904" in fault.message
    settled = read_date(value, column=COLUMN, serials="1900")
    assert isinstance(settled, Read)
    assert settled.value == dt.date(2023, 7, 16)


@given(st.integers(61, 90_000))
def test_day_numbers_agree_with_openpyxl(number: int) -> None:
    """openpyxl's own conversion is the outside check."""
    assert from_serial(number, "1900") == from_excel(number, CALENDAR_WINDOWS_1900)
    assert from_serial(number, "1904") == from_excel(number, CALENDAR_MAC_1904)


def test_the_day_that_never_was_is_refused() -> None:
    """Spreadsheets count a 29 February 1900 as day 60; 1 January 1900 is day 1."""
    assert from_serial(60, "1900") is None
    assert from_serial(1, "1900") == dt.datetime(1900, 1, 1)
    assert from_serial(61, "1900") == dt.datetime(1900, 3, 1)


@given(DAYS)
def test_any_date_written_in_iso_form_reads_as_itself(day: dt.date) -> None:
    assert read_date(day.isoformat(), column=COLUMN) == Read(day)


@given(DAYS, st.sampled_from("/.-"), st.booleans(), st.booleans())
def test_a_date_in_figures_is_read_without_an_answer_only_when_it_can_be_one_day(
    day: dt.date, mark: str, day_first: bool, short: bool
) -> None:
    parts = [day.day, day.month] if day_first else [day.month, day.day]
    year = f"{day.year % 100:02d}" if short and day.year >= 2000 else str(day.year)
    text = mark.join([*(f"{part:02d}" for part in parts), year])
    read = read_date(text, column=COLUMN)
    if day.day <= 12 and day.day != day.month:
        assert isinstance(read, Fault)
        assert read.kind == "date-could-be-two"
    else:
        assert isinstance(read, Read)
        assert read.value == day
    order: DateOrder = "dmy" if day_first else "mdy"
    settled = read_date(text, column=COLUMN, order=order)
    assert isinstance(settled, Read)
    assert settled.value == day


@given(st.text(max_size=24), st.sampled_from([None, "dmy", "mdy", "ymd"]), st.sampled_from([None, "1900", "1904"]))
def test_any_text_gives_a_date_or_a_fault(text: str, order: DateOrder | None, serials: SerialBase | None) -> None:
    assert isinstance(read_date(text, column=COLUMN, order=order, serials=serials), Read | Fault)


@given(st.text(alphabet="0123456789/.- :TMayJnZ", max_size=16))
def test_any_text_of_date_characters_gives_a_date_or_a_fault(text: str) -> None:
    assert isinstance(read_date(text, column=COLUMN), Read | Fault)
