"""Headings as sites write them."""

from __future__ import annotations

import pytest

from witnessmark.intake.heading import heading_keys, is_units_row, normalise_heading, split_unit, unit_of


@pytest.mark.parametrize(
    ("text", "key", "unit"),
    [
        ("Test\nPressure [bar g]", "test pressure", "bar g"),
        ("  JOINT\u00a0No. ", "joint no", None),
        ("joint_id", "joint id", None),
        ("Length (m)", "length", "m"),
        ("Test pressure (strength)", "test pressure strength", None),
        ("Pressure (bar) start", "pressure start", "bar"),
        ("Test pressure bar(g)", "test pressure", "bar g"),
        ("Test pressure (bar(g))", "test pressure", "bar g"),
        ("Joint #", "joint no", None),
        ("Größe", "grösse", None),
        ("<b>Size</b>", "b size b", None),
        ("???", "", None),
    ],
)
def test_case_spaces_punctuation_and_the_unit_do_not_matter(text: str, key: str, unit: str | None) -> None:
    assert normalise_heading(text) == key
    assert split_unit(text)[1] == unit


@pytest.mark.parametrize("text", ["Length (m)", "Length, m", "Length / m", "Length in m", "Length m"])
def test_a_unit_is_found_in_brackets_and_at_the_end(text: str) -> None:
    assert ("length", "m") in heading_keys(text)


def test_the_whole_heading_is_tried_before_it_without_its_brackets() -> None:
    assert [key for key, _ in heading_keys("Pressure (at gauge)")] == ["pressure at gauge", "pressure"]


def test_a_row_is_a_units_row_only_when_every_filled_cell_is_one() -> None:
    assert is_units_row(["", "mm", "(bar)", "[°C]", "text", "yyyy-mm-dd"])
    assert not is_units_row(["J1", "mm", "bar"])
    assert not is_units_row(["text", "date", ""])
    assert not is_units_row(["", ""])
    assert [unit_of(text) for text in ("(bar)", "text", "", "-")] == ["bar", None, None, None]
