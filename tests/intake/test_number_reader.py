"""Numbers as sites write them."""

from __future__ import annotations

import datetime as dt
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.intake.cell import CellError, CellValue
from witnessmark.intake.number_reader import Decimal, decimal_in, read_number
from witnessmark.intake.readings import Fault, Read

COLUMN = "tests.applied_pressure"


@pytest.mark.parametrize(
    ("value", "number", "repaired"),
    [
        (6, 6.0, False),
        (6.5, 6.5, False),
        ("6.5", 6.5, False),
        (" 6.5\u00a0", 6.5, False),
        ("-3", -3.0, False),
        (".5", 0.5, False),
        ("1.5E1", 15.0, False),
        ("6,5", 6.5, True),
        ("0,500", 0.5, True),
        ("12,3456", 12.3456, True),
        ("1,234.5", 1234.5, True),
        ("1.234,5", 1234.5, True),
        ("1,234,567", 1234567.0, True),
        ("1 234", 1234.0, True),
        ("1\u00a0234", 1234.0, True),
        ("1'234", 1234.0, True),
        ("\u22125", -5.0, True),
        ("１２", 12.0, True),
    ],
)
def test_spellings_that_can_only_be_one_number(value: CellValue, number: float, repaired: bool) -> None:
    read = read_number(value, column=COLUMN)
    assert isinstance(read, Read)
    assert read.value == number
    assert (read.repair is not None) == repaired


@pytest.mark.parametrize(("decimal", "number"), [("point", 1234.0), ("comma", 1.234)])
def test_a_number_that_could_be_two_is_read_only_with_an_answer(decimal: Decimal, number: float) -> None:
    fault = read_number("1,234", column=COLUMN)
    assert fault == Fault(
        "number-could-be-two",
        "'1,234' could be 1.234 or 1234",
        "under 'answers:' in project.yml write 'tests.applied_pressure: {decimal: comma}' (or point)",
    )
    read = read_number("1,234", column=COLUMN, decimal=decimal)
    assert isinstance(read, Read)
    assert read.value == number


def test_a_point_before_three_digits_is_a_thousands_mark_only_where_the_comma_is_decimal() -> None:
    plain = read_number("1.234", column=COLUMN)
    settled = read_number("1.234", column=COLUMN, decimal="comma")
    assert isinstance(plain, Read)
    assert isinstance(settled, Read)
    assert (plain.value, settled.value) == (1.234, 1234.0)


@pytest.mark.parametrize(
    ("value", "kind"),
    [
        ("1O", "letter-for-digit"),
        ("l5", "letter-for-digit"),
        ("NaN", "not-a-number"),
        ("inf", "not-a-number"),
        ("-Infinity", "not-a-number"),
        (math.inf, "not-a-number"),
        (math.nan, "not-a-number"),
        ("1e308", "number-far-off"),
        ("1e999", "not-a-number"),
        ("9" * 400, "text-too-long"),
        (10**400, "not-a-number"),
        ("6-8", "number-is-range"),
        ("6 to 8", "number-is-range"),
        ("approx. 6", "number-is-rough"),
        (">6", "number-is-rough"),
        ("10²", "not-a-number"),
        ("six", "not-a-number"),
        ("1 23", "not-a-number"),
        ("1,23,456", "not-a-number"),
        (True, "not-a-number"),
        (dt.datetime(2024, 4, 3), "number-is-date"),
        (CellError("#REF!"), "formula-error"),
        ("#DIV/0!", "formula-error"),
        ("  ", "blank"),
        (None, "blank"),
    ],
)
def test_what_is_no_number_is_named_for_what_it_is(value: CellValue, kind: str) -> None:
    fault = read_number(value, column=COLUMN)
    assert isinstance(fault, Fault)
    assert fault.kind == kind
    assert fault.message
    assert fault.remedy


def test_limits_state_the_value_and_the_limit() -> None:
    low = read_number("-1", column=COLUMN, minimum=0, unit="bar g")
    assert isinstance(low, Fault)
    assert (low.kind, low.message) == ("below-minimum", "-1 bar g is below the least allowed, 0 bar g")
    high = read_number("200", column=COLUMN, maximum=100)
    assert isinstance(high, Fault)
    assert high.kind == "above-maximum"
    half = read_number("1.5", column=COLUMN, whole=True)
    assert isinstance(half, Fault)
    assert half.kind == "not-a-whole-number"
    zero = read_number("0", column=COLUMN, above=0)
    assert isinstance(zero, Fault)
    assert isinstance(read_number("0", column=COLUMN, minimum=0), Read)


def test_a_column_proves_its_decimal_mark_only_when_nothing_speaks_against_it() -> None:
    assert decimal_in(["1,234", "6,5"]) == "comma"
    assert decimal_in(["1,234", "6.5"]) == "point"
    assert decimal_in(["6,5", "6.5"]) is None
    assert decimal_in(["1,234", "12"]) is None


@given(st.text(max_size=20))
def test_any_text_gives_a_number_or_a_fault(text: str) -> None:
    read = read_number(text, column=COLUMN)
    assert isinstance(read, Read | Fault)
    if isinstance(read, Read):
        assert math.isfinite(read.value)
        assert any(c.isdecimal() for c in text)


@given(st.floats(min_value=-1e11, max_value=1e11, allow_nan=False))
def test_a_number_written_plainly_reads_as_itself(number: float) -> None:
    read = read_number(f"{number:.6f}", column=COLUMN)
    assert isinstance(read, Read)
    assert read.value == float(f"{number:.6f}")


def test_a_page_of_digits_in_a_number_cell_is_refused_at_once() -> None:
    fault = read_number("1" * 100_000, column=COLUMN)
    assert isinstance(fault, Fault)
    assert fault.kind == "text-too-long"
