"""What a section may carry: the same figures in words, drawing and table, and only where the records give them."""

import re
from collections.abc import Callable
from dataclasses import replace

import pytest

from witnessmark.model.contract import Edition
from witnessmark.pages.context import Context
from witnessmark.pages.rating_chart import runs
from witnessmark.pages.rating_view import RatingReader, RatingView
from witnessmark.pipeline import Outcome

Make = Callable[..., Outcome]


def _view(outcome: Outcome, edition: Edition = Edition.AUDIT) -> RatingView:
    view = RatingReader(Context(outcome, edition)).view("R1")
    assert view is not None
    return view


def _points(path: str) -> list[tuple[float, float]]:
    return [(float(x), float(y)) for x, y in re.findall(r"([\d.-]+) ([\d.-]+)", path)]


def test_the_weakest_component_is_named_with_rating_pressure_and_margin(riser_outcome: Make) -> None:
    """At 60 °C the seal carries 16 - 80/130 * 4 = 13.54 bar by straight line; 6 bar leave 56 %."""
    view = _view(riser_outcome())
    assert view.answer.state.words == "pass"
    assert "seal EPDM" in view.answer.words
    assert view.table is not None
    weakest = next(row for row in view.table.rows if row.cells[1].text == "Weakest of them")
    assert weakest.cells[2].text.replace("\u00a0", " ") == "13.5 bar"
    margin = next(figure for figure in view.figures if figure.name == "Margin, operating")
    assert margin.figure is not None
    assert margin.figure.value == pytest.approx(100 * (1 - 6 / (16 - 4 * 80 / 130)))


def test_the_drawing_stands_where_its_scale_says(riser_outcome: Make) -> None:
    """Corners of the envelope, read back through the ticks, are the figures of the declared tables."""
    chart = _view(riser_outcome()).chart
    assert chart is not None
    x = [(float(t.place), float(t.words.replace("\u2212", "-"))) for t in chart.x_ticks]
    y = [(float(t.place), float(t.words)) for t in chart.y_ticks]

    def read(ticks: list[tuple[float, float]], place: float) -> float:
        (a, low), (b, high) = ticks[0], ticks[-1]
        return low + (place - a) / (b - a) * (high - low)

    corners = [(read(x, px), read(y, py)) for px, py in _points(chart.envelope)]
    assert corners[-1] == pytest.approx((110, 10), abs=0.5)
    assert corners[0][0] == pytest.approx(-10, abs=0.5)
    operating = next(mark for mark in chart.marks if mark.shape == "circle")
    assert (read(x, float(operating.x)), read(y, float(operating.y))) == pytest.approx((60, 6), abs=0.5)


def test_every_kind_of_point_has_a_shape_of_its_own_and_words(riser_outcome: Make) -> None:
    chart = _view(riser_outcome()).chart
    assert chart is not None
    assert {mark.shape for mark in chart.marks} == {"circle", "triangle", "diamond", "square"}
    words = " ".join(label.words for label in chart.labels)
    for each in ("operating", "upset", "coldest", "strength test", "weakest component", "valve", "seal", "fitting"):
        assert each in words


def _boxes(view: RatingView) -> list[tuple[float, float, float, float]]:
    assert view.chart is not None
    boxes = []
    for label in view.chart.labels:
        width = 6.0 * len(label.words)
        left = float(label.x) - {"start": 0.0, "middle": width / 2, "end": width}[label.anchor]
        boxes.append((left, float(label.y) - 10, left + width, float(label.y) + 2))
    return boxes


@pytest.mark.parametrize("parts", [1, 4, 12])
def test_no_label_lies_on_another_and_none_leaves_the_drawing(riser_outcome: Make, parts: int) -> None:
    tubes = [
        {"section_id": "R1", "material": "copper", "od_mm": 15.0 + n, "wall_mm": 1.0, "length_m": 3.0}
        for n in range(parts)
    ]
    joints = [{"joint_id": f"J{n}", "section_id": "R1", "system_family": f"FAM-{n}"} for n in range(parts)]
    ratings = [
        *(("fitting", f"FAM-{n}", ((-20.0, 16.0 + n % 3), (110.0, 9.0 + n / 2))) for n in range(parts)),
        ("fitting", "FAM-S", ((-20.0, 16.0), (95.0, 16.0), (110.0, 10.0))),
        ("seal", "EPDM", ((-20.0, 16.0), (110.0, 12.0))),
        ("valve", None, ((-10.0, 16.0), (110.0, 14.0))),
    ]
    records = riser_outcome(ratings=ratings, tubes=tubes, joints=joints)
    assert records.workings.ratings["R1"].complete
    view = _view(records)
    boxes = _boxes(view)
    assert boxes
    for n, (left, top, right, bottom) in enumerate(boxes):
        assert left >= 30
        assert right <= 360
        assert top >= 0
        assert bottom <= 280
        for a, b, c, d in boxes[n + 1 :]:
            assert right <= a or c <= left or bottom <= b or d <= top


def test_without_a_declared_rating_one_sentence_says_what_is_missing_and_nothing_is_drawn(riser_outcome: Make) -> None:
    view = _view(riser_outcome(ratings=()))
    assert view.answer.state.words == "cannot tell"
    assert "a declared rating of fitting FAM-S" in view.answer.words
    assert view.chart is None
    assert view.table is None


def test_a_pressure_above_the_rating_is_told(riser_outcome: Make) -> None:
    view = _view(riser_outcome(systems={"max_operating_pressure_bar": 15.0}))
    assert view.answer.state.words == "fail"


def test_the_tag_edition_gets_one_sentence_that_names_no_component(riser_outcome: Make) -> None:
    view = _view(riser_outcome(), Edition.TAG)
    assert view.chart is None
    assert view.table is None
    assert not view.figures
    assert "13.5" in view.answer.words
    assert "FAM-S" not in view.answer.words
    assert "EPDM" not in view.answer.words


def test_the_facilities_edition_marks_no_test_because_its_temperature_is_for_the_audit(riser_outcome: Make) -> None:
    view = _view(riser_outcome(), Edition.FACILITIES)
    assert view.chart is not None
    assert "square" not in {mark.shape for mark in view.chart.marks}
    assert "audit edition" in view.note


def test_the_facilities_edition_names_no_file(riser_outcome: Make) -> None:
    for change in ({"elevation_low_m": None}, {"system_family": None, "seal": None}):
        view = _view(riser_outcome(sections=change), Edition.FACILITIES)
        assert "records/" not in repr(view)
    assert "records/" in repr(_view(riser_outcome()))


def test_water_boils_below_a_line_of_its_own_and_gas_has_none(riser_outcome: Make) -> None:
    wet = _view(riser_outcome()).chart
    assert wet is not None
    assert wet.boiling
    dry = _view(riser_outcome(systems={"medium": "compressed_air"})).chart
    assert dry is None or not dry.boiling


def test_numbers_of_the_table_are_written_as_runs() -> None:
    assert runs([4, 2, 3, 7]) == "2–4, 7"
    assert runs([5]) == "5"


def test_a_section_without_workings_has_no_view(riser_outcome: Make) -> None:
    outcome = riser_outcome()
    bare = replace(outcome, workings=replace(outcome.workings, ratings={}))
    assert RatingReader(Context(bare, Edition.AUDIT)).view("R1") is None
