"""Free text and ids."""

from __future__ import annotations

import datetime as dt
import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.intake.cell import CellValue
from witnessmark.intake.readings import Fault, Read
from witnessmark.intake.text_reader import read_id, read_ids, read_text

COLUMN = "joints.joint_id"


@pytest.mark.parametrize(
    ("value", "text", "repair"),
    [
        ("J-014", "J-014", None),
        (" J-014 ", "J-014", "trimmed"),
        ("J\u00a0014", "J 014", "non-breaking"),
        ("J–014", "J-014", "dashes as hyphens"),
        ("J\u2011014", "J-014", "dashes as hyphens"),
        ("\u202eJ-014\u202c", "J-014", "writing direction"),
        ("J\x07-014", "J-014", "control characters"),
        ("J\u200b-014", "J-014", "invisible"),
        ("Ru\u0308ckl", "Rückl", "composed"),
        ("J\n014", "J 014", "one space"),
        (14, "14", None),
        (14.0, "14", None),
        ("007", "007", None),
        ("<b>&'\"", "<b>&'\"", None),
        ("😀", "😀", None),
    ],
)
def test_ids_are_cleaned_of_what_cannot_be_seen_and_say_so(value: CellValue, text: str, repair: str | None) -> None:
    read = read_id(value, column=COLUMN)
    assert isinstance(read, Read)
    assert read.value == text
    if repair is None:
        assert read.repair is None
    else:
        assert read.repair is not None
        assert repair in read.repair


def test_case_is_kept_so_that_ids_differing_in_case_stay_two() -> None:
    assert read_id("j1", column=COLUMN) == Read("j1")
    assert read_id("J1", column=COLUMN) == Read("J1")


@pytest.mark.parametrize("text", ["../../x", "CON", "a/b", "a\\b", "nul.txt", "=1+1", "+1", "@x"])
def test_awkward_ids_are_legal_and_noted(text: str) -> None:
    read = read_id(text, column=COLUMN)
    assert isinstance(read, Read)
    assert read.value == text
    assert read.note is not None
    assert read.note.kind == "awkward-id"


@pytest.mark.parametrize(
    ("value", "kind"),
    [
        (dt.datetime(2024, 4, 3), "id-is-date"),
        (dt.time(3, 4), "id-is-date"),
        ("03/04/2024", "id-is-date"),
        ("2024-04-03 00:00:00", "id-is-date"),
        ("3-Apr", "id-is-date"),
        ("Apr-03", "id-is-date"),
        ("1.2E+05", "id-is-power-of-ten"),
        ("x" * 300, "id-too-long"),
        (True, "not-an-id"),
        ("\u202e", "blank"),
        ("#N/A", "formula-error"),
        ("", "blank"),
    ],
)
def test_what_can_be_no_id_is_named_for_what_it_is(value: CellValue, kind: str) -> None:
    fault = read_id(value, column=COLUMN)
    assert isinstance(fault, Fault)
    assert fault.kind == kind


def test_ids_that_only_resemble_dates_are_ids() -> None:
    for text in ("3-4", "1/2", "L03-J014", "MAY-A", "2E5"):
        read = read_id(text, column=COLUMN)
        assert isinstance(read, Read)
        assert read.value == text


def test_several_ids_in_a_cell() -> None:
    assert read_ids("S1; S2,S3\nS1", column=COLUMN) == Read(("S1", "S2", "S3"), "counted 'S1' once")
    assert read_ids(12, column=COLUMN) == Read(("12",))
    fault = read_ids(" ; ", column=COLUMN)
    assert isinstance(fault, Fault)
    fault = read_ids("S1; 03/04/2024", column=COLUMN)
    assert isinstance(fault, Fault)
    assert fault.kind == "id-is-date"


def test_free_text_keeps_its_line_breaks_and_its_markup() -> None:
    assert read_text("first\r\nsecond <b>") == Read("first\nsecond <b>")
    fault = read_text("x" * 50, longest=49)
    assert isinstance(fault, Fault)
    assert fault.kind == "text-too-long"


@given(st.text(max_size=40))
def test_any_text_gives_clean_text_or_a_fault(text: str) -> None:
    assert isinstance(read_text(text), Read | Fault)
    assert isinstance(read_ids(text, column=COLUMN), Read | Fault)
    read = read_id(text, column=COLUMN)
    assert isinstance(read, Read | Fault)
    if isinstance(read, Read):
        assert read.value == read.value.strip()
        assert read.value
        assert unicodedata.is_normalized("NFC", read.value)
        assert not any(unicodedata.category(c) in {"Cc", "Cs"} or c in "\u202e\u2066\u200f" for c in read.value)
        again = read_id(read.value, column=COLUMN)
        assert isinstance(again, Fault) or again.value == read.value


def test_a_long_list_of_repairs_is_told_shortly() -> None:
    read = read_ids("S1," * 20_000, column=COLUMN)
    assert read == Read(("S1",), "counted 'S1' once")


@pytest.mark.parametrize(
    ("cell", "text"), [("'=HEAT-1", "=HEAT-1"), ("'@R2", "@R2"), ("'J1", "'J1"), ("=HEAT-1", "=HEAT-1")]
)
def test_a_text_guarded_for_spreadsheets_is_read_as_it_was_meant(cell: str, text: str) -> None:
    read = read_id(cell, column=COLUMN)
    assert isinstance(read, Read)
    assert read.value == text
    assert bool(read.repair) is (cell != text)
