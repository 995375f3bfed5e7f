"""Where things stand on a tag: nothing overflows, nothing enters the quiet zone, the module stays large enough."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise
from typing import Any

import pytest

from witnessmark.pack.font_metrics import width_em
from witnessmark.pack.tag_face import Band, TagFace
from witnessmark.pack.tag_layout import LabelTooSmall, Rect, Symbol, TagDrawing, Text, draw_tag, form_for

FORMS = ["plate", "flag"]


def extent(text: Text) -> tuple[float, float]:
    length = width_em(text.text, text.weight) * text.size
    left = {"start": text.x, "middle": text.x - length / 2, "end": text.x - length}[text.anchor]
    return left, left + length


def words(drawing: TagDrawing) -> list[str]:
    return [mark.text for mark in drawing.marks if isinstance(mark, Text)]


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("size", [(90.0, 50.0), (70.0, 40.0), (120.0, 60.0)])
def test_hostile_texts_stay_on_the_label_and_out_of_the_quiet_zone(
    hostile_face: Callable[..., TagFace], hostile_text: str, form: Any, size: tuple[float, float]
) -> None:
    drawing = draw_tag(hostile_face(hostile_text), form, *size)
    (symbol,) = [mark for mark in drawing.marks if isinstance(mark, Symbol)]
    quiet = 4 * symbol.module
    zone_right = symbol.x + symbol.symbol.size * symbol.module + quiet
    zone_bottom = symbol.y + symbol.symbol.size * symbol.module + quiet
    assert symbol.module >= 0.75
    assert symbol.x - quiet >= -1e-9
    assert symbol.y - quiet >= -1e-9
    for mark in drawing.marks:
        if isinstance(mark, Text):
            left, right = extent(mark)
            assert left >= 0
            assert right <= drawing.width + 1e-9
            assert mark.y <= drawing.height
            assert left >= zone_right - 1e-9 or mark.y - mark.size * 0.76 >= zone_bottom - 1e-9
        elif isinstance(mark, Rect):
            assert mark.x >= zone_right - 1e-9 or mark.y >= zone_bottom - 1e-9


@pytest.mark.parametrize("form", FORMS)
def test_lines_of_text_do_not_run_into_each_other(make_face: Callable[..., TagFace], form: Any) -> None:
    """Base lines of one column are at least a size apart, so that no descender meets a capital below it."""
    drawing = draw_tag(make_face(), form)
    column = sorted(
        (mark for mark in drawing.marks if isinstance(mark, Text) and mark.anchor == "start"), key=lambda text: text.y
    )
    assert len(column) == 8
    for above, below in pairwise(column):
        assert below.y - above.y >= below.size * 0.76 + above.size * 0.24 - 0.2


@pytest.mark.parametrize("form", FORMS)
def test_the_face_says_everything_without_a_phone(make_face: Callable[..., TagFace], form: Any) -> None:
    shown = words(draw_tag(make_face(), form))
    for part in ["KM7-4XR2", "HF-R2-L3-014", "Heating flow", "to level 4 plant corridor", "green", "crimson"]:
        assert part in shown
    assert "6 bar · 82 °C" in shown
    assert "Call 01632 960 123" in shown


def test_the_typed_code_is_the_largest_text(make_face: Callable[..., TagFace]) -> None:
    texts = [mark for mark in draw_tag(make_face(), "plate").marks if isinstance(mark, Text)]
    assert max(texts, key=lambda text: text.size).text == "KM7-4XR2"


def test_the_back_of_a_flag_repeats_the_code(make_face: Callable[..., TagFace]) -> None:
    assert words(draw_tag(make_face(), "flag")).count("KM7-4XR2") == 2


@pytest.mark.parametrize(
    ("field", "shown"),
    [
        ("section_id", "section: no data"),
        ("service", "service: no data"),
        ("flow_words", "flow: no data"),
        ("limits", "limits: no data"),
        ("duty", "call: no data"),
    ],
)
@pytest.mark.parametrize("gap", ["", "  ", "\u00a0"])
def test_what_is_not_recorded_says_so(make_face: Callable[..., TagFace], field: str, shown: str, gap: str) -> None:
    assert shown in words(draw_tag(make_face(**{field: gap})))


@pytest.mark.parametrize("band", [(), (Band("", "#6A6C3C"),)])
def test_a_band_without_a_name_or_colour_says_so(make_face: Callable[..., TagFace], band: tuple[Band, ...]) -> None:
    assert "colour: no data" in words(draw_tag(make_face(band=band)))


@pytest.mark.parametrize(
    ("od_mm", "form"), [(15.0, "flag"), (53.9, "flag"), (54.0, "plate"), (108.0, "plate"), (None, "flag")]
)
def test_a_pipe_below_54_mm_or_of_unknown_size_gets_a_flag(od_mm: float | None, form: str) -> None:
    assert form_for(od_mm) == form


@pytest.mark.parametrize("form", FORMS)
def test_a_label_too_small_for_a_readable_module_is_refused(make_face: Callable[..., TagFace], form: Any) -> None:
    with pytest.raises(LabelTooSmall, match=r"of 50 x 30 mm leaves 0\.\d\d mm .* less than 0\.75 mm"):
        draw_tag(make_face(), form, 50.0, 30.0)


def test_a_long_host_gets_a_larger_symbol_and_still_fits(make_face: Callable[..., TagFace]) -> None:
    drawing = draw_tag(make_face(address="HTTPS://" + "H" * 40 + ".EXAMPLE/T/KM74XR2/"))
    assert drawing.symbol.version > 3
    assert drawing.module >= 0.75


@pytest.mark.parametrize(("srgb", "ink"), [("#FFFFFF", "#000000"), ("#000000", "#FFFFFF"), ("#8A1538", "#FFFFFF")])
def test_the_name_of_a_colour_is_legible_on_it(make_face: Callable[..., TagFace], srgb: str, ink: str) -> None:
    (name,) = [
        mark
        for mark in draw_tag(make_face(band=(Band("the colour", srgb),)), "plate").marks
        if isinstance(mark, Text) and mark.text == "the colour"
    ]
    assert name.fill == ink


@pytest.mark.parametrize("form", FORMS)
def test_a_colour_name_of_two_words_is_broken_rather_than_cut(make_face: Callable[..., TagFace], form: Any) -> None:
    """BS 1710:2014 names 'auxiliary blue' and 'yellow ochre'; water from the public supply shows green, blue, green."""
    band = tuple(Band(name, "#6A6C3C") for name in ("green", "auxiliary blue", "yellow ochre", "silver-grey", "green"))
    shown = " ".join(words(draw_tag(make_face(band=band), form))).replace("- ", "-")
    for name in ("auxiliary blue", "yellow ochre", "silver-grey"):
        assert name in shown
