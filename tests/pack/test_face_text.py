"""What a text becomes before it is measured and printed."""

from __future__ import annotations

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.pack.face_text import BOX, printable


def any_glyph(_: str) -> bool:
    return True


@given(st.text())
def test_nothing_unseen_is_left_in_a_printed_text(text: str) -> None:
    assert not any(unicodedata.category(each).startswith("C") for each in printable(text, any_glyph))


@pytest.mark.parametrize("mark", ["\u202e", "\u200f", "\u2067", "\x07", "\x1b", "\ud800", "\uffff"])
def test_control_and_direction_marks_show_as_a_box(mark: str) -> None:
    assert printable(f"6{mark}0 bar", any_glyph) == f"6{BOX}0 bar"


@pytest.mark.parametrize("inkless", ["\u00ad", "\u200b", "\ufeff", "\ufe0f"])
def test_characters_that_print_nothing_leave_nothing(inkless: str) -> None:
    assert printable(f"ri{inkless}ser", any_glyph) == "riser"


def test_line_breaks_tabs_and_hard_spaces_become_one_space() -> None:
    assert printable("  a \n\t b\u00a0c ", any_glyph) == "a b c"


def test_a_character_without_a_glyph_shows_as_a_box() -> None:
    assert printable("冷 6 °C", str.isascii) == f"{BOX} 6 {BOX}C"


def test_separate_accents_are_joined_to_their_letters() -> None:
    assert printable("Ku\u0308hlung", any_glyph) == "K\u00fchlung"
