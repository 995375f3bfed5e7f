"""Numbers with units, and durations."""

from __future__ import annotations

import datetime as dt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.intake.cell import CellValue
from witnessmark.intake.quantity_reader import read_quantity, split_number_and_unit
from witnessmark.intake.readings import Fault, Read

COLUMN = "tests.applied_pressure"


def test_a_number_whose_unit_stands_nowhere_is_a_fault_that_says_where_to_write_it() -> None:
    assert read_quantity("6", column=COLUMN, unit="bar") == Fault(
        "unit-not-stated",
        "'6' has no unit, and neither has the heading",
        "write the unit in the heading, as '(bar g)', or under 'answers:' in project.yml write "
        "'tests.applied_pressure: {unit: bar g}'",
    )
    assert read_quantity("6", column=COLUMN, unit="bar", unit_required=False) == Read(6.0)


def test_the_unit_of_the_heading_or_the_answer_is_used() -> None:
    """NIST SP 811: 1 psi = 6.894757 kPa."""
    by_heading = read_quantity(87, column=COLUMN, unit="bar", heading_unit="psi")
    assert isinstance(by_heading, Read)
    assert by_heading.value == pytest.approx(87 * 0.06894757, rel=1e-6)
    assert by_heading.repair == "converted '87' from psi g to bar g"
    by_answer = read_quantity(600, column=COLUMN, unit="bar", heading_unit="psi", answered_unit="kPa")
    assert isinstance(by_answer, Read)
    assert by_answer.value == 6.0


@pytest.mark.parametrize("text", ["6 bar", "6bar", "6.0\u00a0barg", "600 kPa", "0.6 MPa", "6,0 bar g"])
def test_the_unit_in_the_cell_wins_over_the_heading(text: str) -> None:
    read = read_quantity(text, column=COLUMN, unit="bar", heading_unit="psi")
    assert isinstance(read, Read)
    assert read.value == pytest.approx(6.0, abs=1e-12)
    assert read.repair is not None
    assert "from the cell, not 'psi'" in read.repair


@pytest.mark.parametrize(
    ("text", "kind"),
    [("5 gal", "unit-could-be-two"), ("6 m", "unit-of-other-kind"), ("6 bananas", "not-a-number")],
)
def test_a_unit_that_does_not_fit_is_named(text: str, kind: str) -> None:
    fault = read_quantity(text, column="systems.volume", unit="L")
    assert isinstance(fault, Fault)
    assert fault.kind == kind


def test_absolute_pressure_is_not_turned_into_gauge_pressure() -> None:
    fault = read_quantity("7 bara", column=COLUMN, unit="bar")
    assert isinstance(fault, Fault)
    assert fault.kind == "pressure-is-absolute"


def test_limits_are_judged_in_the_unit_of_the_contract() -> None:
    assert isinstance(read_quantity("2000 mm", column="sections.length", unit="m", maximum=10), Read)
    fault = read_quantity("20000 mm", column="sections.length", unit="m", maximum=10)
    assert isinstance(fault, Fault)
    assert fault.message == "20 m is above the most allowed, 10 m"


def test_a_temperature_difference_has_no_offset() -> None:
    read = read_quantity("9 °F", column="tests.change", unit="degC", difference=True)
    assert isinstance(read, Read)
    assert read.value == pytest.approx(5.0)


@pytest.mark.parametrize(
    ("value", "heading", "minutes"),
    [
        ("90", "min", 90.0),
        ("1.5", "h", 90.0),
        ("1h30", None, 90.0),
        ("1 h 30 min", None, 90.0),
        ("2 hrs", None, 120.0),
        ("1:30", "hh:mm", 90.0),
        ("1:30", "h", 90.0),
        ("0:30:00", None, 30.0),
        (dt.time(2, 0), None, 120.0),
        (dt.timedelta(hours=24), None, 1440.0),
    ],
)
def test_durations(value: CellValue, heading: str | None, minutes: float) -> None:
    read = read_quantity(value, column="tests.hold", unit="min", heading_unit=heading)
    assert isinstance(read, Read)
    assert read.value == minutes


@pytest.mark.parametrize("heading", [None, "min"])
def test_a_clock_that_could_be_hours_or_minutes_is_a_fault(heading: str | None) -> None:
    fault = read_quantity("2:00", column="tests.hold", unit="min", heading_unit=heading)
    assert isinstance(fault, Fault)
    assert fault.kind == "duration-could-be-two"
    assert "2 h 0 min or 2 min 0 s" in fault.message
    settled = read_quantity("2:00", column="tests.hold", unit="min", heading_unit=heading, answered_unit="hh:mm")
    assert isinstance(settled, Read)
    assert settled.value == 120.0


def test_a_bare_number_in_a_clock_column_and_a_negative_clock_are_faults() -> None:
    bare = read_quantity("2", column="tests.hold", unit="min", heading_unit="hh:mm")
    assert isinstance(bare, Fault)
    assert bare.kind == "duration-not-a-clock"
    negative = read_quantity("-0:30", column="tests.hold", unit="min", heading_unit="hh:mm")
    assert isinstance(negative, Fault)
    assert negative.kind == "below-minimum"


def test_number_and_unit_are_split_only_where_a_unit_follows() -> None:
    assert split_number_and_unit("6,5 bar") == ("6,5", "bar")
    assert split_number_and_unit("22 Nov") == ("22 Nov", None)
    assert split_number_and_unit("1.5e1 bar") == ("1.5e1", "bar")


@given(st.text(max_size=20), st.sampled_from(["bar", "min", "degC", "m", "%"]))
def test_any_text_gives_a_quantity_or_a_fault(text: str, unit: str) -> None:
    assert isinstance(read_quantity(text, column=COLUMN, unit=unit, heading_unit=unit), Read | Fault)
