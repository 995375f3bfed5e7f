"""Cells and sheets."""

from __future__ import annotations

import datetime as dt

import pytest
from hypothesis import given
from hypothesis import strategies as st
from openpyxl.utils import get_column_letter

from witnessmark.intake.cell import CellError, CellValue, cell_text, is_blank
from witnessmark.intake.grid import Grid, column_index, column_letter


@given(st.integers(0, 16_383))
def test_column_letters_agree_with_openpyxl(index: int) -> None:
    """openpyxl counts columns from 1."""
    assert column_letter(index) == get_column_letter(index + 1)
    assert column_index(column_letter(index)) == index


def test_what_is_no_column_is_refused() -> None:
    with pytest.raises(ValueError, match="column -1 does not exist"):
        column_letter(-1)
    for text in ("", "1", "A1", "Ä"):
        with pytest.raises(ValueError, match="column"):
            column_index(text)


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (None, ""),
        (" as it stood ", " as it stood "),
        (22, "22"),
        (22.0, "22"),
        (0.9, "0.9"),
        (1e300, "1e+300"),
        (True, "TRUE"),
        (dt.datetime(2026, 5, 12), "2026-05-12"),
        (dt.datetime(2026, 5, 12, 14, 30), "2026-05-12 14:30:00"),
        (dt.date(2026, 5, 12), "2026-05-12"),
        (dt.time(14, 30), "14:30:00"),
        (dt.timedelta(hours=26, minutes=5), "26:05:00"),
        (dt.timedelta(minutes=-90), "-1:30:00"),
        (CellError("#REF!"), "#REF!"),
    ],
)
def test_the_raw_text_of_a_cell(value: CellValue, text: str) -> None:
    assert cell_text(value) == text


def test_a_cell_with_spaces_only_is_blank_and_an_error_is_not() -> None:
    assert all(is_blank(value) for value in (None, "", "  \u00a0\t\n"))
    assert not any(is_blank(value) for value in (0, False, "x", CellError("#N/A")))


def test_cells_beyond_a_short_row_are_empty() -> None:
    grid = Grid(file="f", sheet=None, rows=[("a", "b"), ("c",)])
    assert grid.value(1, 1) == "b"
    assert [grid.value(2, 1), grid.value(3, 0), grid.value(0, 0), grid.value(1, -1)] == [None] * 4
