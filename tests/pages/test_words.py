"""Text, dates and numbers as people read them."""

import datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.pages.figure import Figure, as_recorded, figure_text
from witnessmark.pages.words import clean, counted, date_words, joined, missing_words


@given(st.text(alphabet=st.characters()))
def test_any_text_can_be_written_as_utf_8_without_control_characters(text: str) -> None:
    cleaned = clean(text)
    cleaned.encode("utf-8")
    assert not any(ord(c) < 32 or 0x7F <= ord(c) < 0xA0 for c in cleaned)
    assert not any(ord(c) & 0xFFFE == 0xFFFE for c in cleaned)


def test_what_cannot_be_printed_is_shown_as_a_mark_and_never_dropped() -> None:
    assert clean("a\x00b\ud800c\u202ed") == "a\ufffdb\ufffdc\ufffdd"
    assert clean("one\ttwo\r\nthree") == "one two three"
    assert clean("Riser 2, left – 22 mm Ø 🚿") == "Riser 2, left – 22 mm Ø 🚿"


@pytest.mark.parametrize(
    ("figure", "text"),
    [
        (Figure(34.249, "L", 1), "34.2\u00a0L"),
        (Figure(1250, "m", 0), "1,250\u00a0m"),
        (Figure(80, "degC", 0), "80\u00a0°C"),
        (Figure(-0.01, "°C", 0), "0\u00a0°C"),
        (Figure(-10.2, "°C", 0), "-10\u00a0°C"),
        (Figure(3), "3"),
    ],
)
def test_a_figure_has_its_places_and_its_unit(figure: Figure, text: str) -> None:
    assert figure_text(figure) == text


def test_a_recorded_number_keeps_the_digits_it_was_recorded_with() -> None:
    assert as_recorded(76.1, "mm") == "76.1\u00a0mm"
    assert as_recorded(54.0) == "54"
    assert as_recorded(12345.25) == "12,345.25"


def test_words_around_numbers_and_dates() -> None:
    assert date_words(datetime.date(2026, 5, 12)) == "12 May 2026"
    assert counted(1, "joint") == "1 joint"
    assert counted(2134, "joint") == "2,134 joints"
    assert missing_words(("the wall", "the length")) == "not in the records: the wall; the length"
    assert joined(["a", "b", "c"]) == "a, b and c"
