"""The label grid says in one sentence what does not fit, and by how much."""

from __future__ import annotations

from typing import Any

import pytest

from witnessmark.pack.sheet_layout import SheetLayout, UnusableSheet


def test_the_usual_layout_holds_ten_labels() -> None:
    layout = SheetLayout()
    assert layout.labels_a_sheet == 10
    assert layout.bottom_mm <= layout.height_mm
    assert layout.right_mm <= layout.width_mm


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        (
            {"columns": 3},
            "3 columns of labels 90 mm wide with 8 mm gaps and 11 mm margin need 297 mm, 87 mm more than the 210",
        ),
        (
            {"rows": 6},
            "6 rows of labels 50 mm high with 4 mm gaps and 12 mm margin need 332 mm, 35 mm more than the 297",
        ),
        ({"orientation": "landscape"}, "68 mm more than the 210 mm of A4 landscape"),
        ({"page": "A7"}, "use one of A3, A4, A5, Letter"),
        ({"orientation": "upright"}, "neither portrait nor landscape"),
        ({"columns": 0}, "columns is 0; it must be 1 or more"),
        ({"label_width_mm": 0.0}, "label_width_mm is 0; it must be more than 0"),
        ({"label_height_mm": float("nan")}, "label_height_mm is nan"),
        ({"gap_y_mm": -1.0}, "gap_y_mm is -1; it must be 0 or more"),
    ],
)
def test_a_layout_that_cannot_be_printed_is_refused_in_one_sentence(change: dict[str, Any], sentence: str) -> None:
    with pytest.raises(UnusableSheet) as refused:
        SheetLayout(**change)
    assert sentence in str(refused.value)
    assert "\n" not in str(refused.value)


def test_labels_that_fill_the_page_to_the_edge_fit() -> None:
    layout = SheetLayout(
        columns=3,
        rows=9,
        label_width_mm=70,
        label_height_mm=33,
        margin_left_mm=0,
        margin_top_mm=0,
        gap_x_mm=0,
        gap_y_mm=0,
    )
    assert layout.labels_a_sheet == 27
    assert layout.cut_lines() == []


def test_labels_run_along_rows_then_down_then_to_the_next_sheet() -> None:
    layout = SheetLayout()
    assert [tuple(layout.place(index)) for index in (0, 1, 2, 9, 10)] == [
        (1, 1, 1),
        (1, 1, 2),
        (1, 2, 1),
        (1, 5, 2),
        (2, 1, 1),
    ]


@pytest.mark.parametrize("gaps", [(8.0, 4.0), (0.0, 0.0), (0.6, 2.0)])
def test_no_cut_mark_touches_a_label(gaps: tuple[float, float]) -> None:
    layout = SheetLayout(gap_x_mm=gaps[0], gap_y_mm=gaps[1])
    corners = [layout.corner(layout.place(index)) for index in range(layout.labels_a_sheet)]
    assert layout.cut_lines()
    for x1, y1, x2, y2 in layout.cut_lines():
        assert 0 <= x1 <= x2 <= layout.width_mm
        assert 0 <= y1 <= y2 <= layout.height_mm
        for left, top in corners:
            apart = x2 < left or x1 > left + layout.label_width_mm or y2 < top or y1 > top + layout.label_height_mm
            on_an_edge_line = x1 == x2 and (y2 < top or y1 > top + layout.label_height_mm)
            assert apart or on_an_edge_line
