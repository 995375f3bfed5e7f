"""CSV that spreadsheet programs open as data and never run."""

from __future__ import annotations

import csv
import io
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest
from frictionless import Resource, Schema, formats
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.pack.csv_writer import NumberWithoutValue, RaggedRow, guard_text, unguard_text, write_csv

# The characters that the OWASP page 'CSV Injection' lists as starting a formula (from memory).
FORMULA_STARTS = ["=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠"]


def text_of(header: list[str], *rows: list[object]) -> str:
    stream = io.StringIO(newline="")
    write_csv(stream, header, rows)  # type: ignore[arg-type]
    return stream.getvalue()


@pytest.mark.parametrize("start", FORMULA_STARTS)
def test_a_text_that_would_run_as_a_formula_gets_an_apostrophe(start: str) -> None:
    assert guard_text(f"{start}SUM(A1)") == f"'{start}SUM(A1)"


@pytest.mark.parametrize("text", ["-5", "+3.2", "-1,5", "-2e-3"])
def test_a_text_that_is_a_plain_number_stays_a_number(text: str) -> None:
    assert guard_text(text) == text


@pytest.mark.parametrize("text", ["-5+cmd|' /C calc'!A0", "+44 1632 960 123", "-5\n=1", "--5", "-"])
def test_a_text_that_only_begins_like_a_number_is_guarded(text: str) -> None:
    assert guard_text(text) == "'" + text


def test_numbers_stay_numbers() -> None:
    assert text_of(["a", "b", "c"], [-5, -0.25, Decimal("-1.50")]) == "a,b,c\r\n-5,-0.25,-1.50\r\n"


@given(st.text())
def test_the_guard_can_always_be_taken_off_again(text: str) -> None:
    assert unguard_text(guard_text(text)) == text


@given(st.text())
def test_no_written_text_begins_like_a_formula(text: str) -> None:
    written = guard_text(text)
    assert (
        not written.startswith(tuple(FORMULA_STARTS))
        or written.strip("+-")
        .replace(",", ".")
        .lower()
        .replace("e-", "")
        .replace("e+", "")
        .replace("e", "")
        .replace(".", "")
        .isdigit()
    )


def test_a_header_cell_is_guarded_too() -> None:
    assert text_of(["=A1"]) == "'=A1\r\n"


def test_dates_flags_and_gaps_are_written_as_a_table_schema_reads_them() -> None:
    assert text_of(["d", "f", "n"], [date(2025, 5, 9), True, None]) == "d,f,n\r\n2025-05-09,true,\r\n"


def test_quotes_commas_and_line_breaks_survive_the_round_trip() -> None:
    nasty = 'a "b", c;\r\nd\te'
    written = text_of(["x", "y"], [nasty, "z"])
    assert list(csv.reader(io.StringIO(written, newline=""))) == [["x", "y"], [nasty, "z"]]


def test_control_characters_and_lone_surrogates_become_visible_and_stop_nothing(tmp_path: Path) -> None:
    path = tmp_path / "a.csv"
    write_csv(path, ["x"], [["a\x00b\x1bc\ud800d"]])
    assert path.read_text(encoding="utf-8-sig") == "x\na␀b␛c\ufffdd\n"


def test_the_file_is_utf_8_and_ends_lines_with_cr_lf(tmp_path: Path) -> None:
    path = tmp_path / "a.csv"
    assert write_csv(path, ["t"], [["82 °C"]]) == 1
    assert path.read_bytes() == b"t\r\n82 \xc2\xb0C\r\n"


def test_a_file_for_people_to_fill_in_begins_with_a_byte_order_mark(tmp_path: Path) -> None:
    path = tmp_path / "a.csv"
    write_csv(path, ["t"], [["82 °C"]], byte_order_mark=True)
    assert path.read_bytes() == b"\xef\xbb\xbft\r\n82 \xc2\xb0C\r\n"


def test_frictionless_reads_the_file_as_written(tmp_path: Path) -> None:
    path = tmp_path / "a.csv"
    write_csv(path, ["name", "bar"], [["=riser", -0.5], ["b", 6]])
    schema = Schema.from_descriptor({"fields": [{"name": "name", "type": "string"}, {"name": "bar", "type": "number"}]})
    resource = Resource(
        path="a.csv", basepath=str(tmp_path), encoding="utf-8", schema=schema, control=formats.CsvControl()
    )
    assert resource.validate().valid
    assert [float(row["bar"]) for row in resource.read_rows()] == [-0.5, 6.0]


def test_a_row_of_the_wrong_length_is_refused_with_its_number() -> None:
    with pytest.raises(RaggedRow, match=r"Row 3 has 1 cells for 2 columns\."):
        text_of(["a", "b"], [1, 2], [3])


@pytest.mark.parametrize("value", [float("nan"), float("inf")])
def test_a_number_without_a_value_is_refused_with_its_column(value: float) -> None:
    with pytest.raises(NumberWithoutValue, match="column 'bar'"):
        text_of(["bar"], [value])
