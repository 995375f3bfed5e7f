"""Text is fitted with the widths that the fonts really have."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import ImageFont

from witnessmark.model.bundled import shared_path
from witnessmark.pack.font_metrics import ELLIPSIS, fit, fit_lines, width_em


@pytest.mark.parametrize(("weight", "file"), [("regular", "DejaVuSans"), ("bold", "DejaVuSans-Bold")])
@pytest.mark.parametrize("text", ["KM7-4XR2", "6 bar · 82 °C", "Heating flow riser 2", "Ä□…"])
def test_widths_are_those_that_freetype_measures_without_kerning(weight: str, file: str, text: str) -> None:
    font = ImageFont.truetype(str(shared_path(f"fonts/{file}.ttf")), 1000, layout_engine=ImageFont.Layout.BASIC)
    expected = sum(font.getlength(each) for each in text) / 1000
    assert width_em(text, weight) == pytest.approx(expected, rel=0.002)  # type: ignore[arg-type]


@settings(deadline=None)
@given(text=st.text(max_size=400), room=st.floats(5, 100))
def test_no_text_is_wider_than_its_room(text: str, room: float) -> None:
    shown, size, width = fit(text, "bold", 5.0, 3.0, room)
    assert width <= room + 1e-9
    assert width_em(shown, "bold") * size <= room + 1e-9
    assert 3.0 <= size <= 5.0


@settings(deadline=None)
@given(text=st.text(max_size=400), room=st.floats(5, 100))
def test_broken_lines_stay_in_their_room_and_number(text: str, room: float) -> None:
    lines = fit_lines(text, "regular", 3.0, room, 2)
    assert len(lines) <= 2
    assert all(width_em(shown, "regular") * size <= room + 1e-9 for shown, size, _ in lines)


def test_text_shrinks_before_it_is_cut() -> None:
    assert fit("Heating flow", "bold", 5.0, 3.0, 28.0)[0] == "Heating flow"
    assert fit("Heating flow", "bold", 5.0, 3.0, 28.0)[1] < 5.0


def test_a_cut_text_ends_in_an_ellipsis() -> None:
    shown, size, _ = fit("Heating flow to the far end of the building", "bold", 5.0, 3.0, 28.0)
    assert shown.startswith("Heating")
    assert shown.endswith(ELLIPSIS)
    assert size == 3.0


def test_a_long_name_is_broken_between_words() -> None:
    lines = [shown for shown, _, _ in fit_lines("Heating flow riser 2, level 3 to level 4", "regular", 3.0, 40.0, 2)]
    assert " ".join(lines) == "Heating flow riser 2, level 3 to level 4"
    assert len(lines) == 2
