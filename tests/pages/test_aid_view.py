"""Working aids: right without scripts for the recorded case, and fields that hold what was recorded."""

from collections.abc import Callable

import pytest

from witnessmark.model.contract import Edition
from witnessmark.pages.aid_view import AidReader, AidsView
from witnessmark.pages.context import Context
from witnessmark.pipeline import Outcome

Make = Callable[..., Outcome]


def _aids(outcome: Outcome, edition: Edition = Edition.AUDIT) -> AidsView:
    view = AidReader(Context(outcome, edition)).view("R1")
    assert view is not None
    return view


def test_each_aid_shows_the_recorded_case(riser_outcome: Make) -> None:
    """54 x 1.5 stainless, 20 m: 40.9 L; 13.75 mm from 5 to 60 °C would be 12.5 * 20 * 55: here α is 16.0 to 16.5."""
    aids = _aids(riser_outcome())
    figures = {f.name: f.figure.value for block in aids.blocks for f in block.figures if f.figure is not None}
    assert figures["Flow to flush at 2 m/s"] == pytest.approx(4.09, abs=0.01)
    assert 16.0e-3 * 20 * 55 <= figures["Expansion between the lowest and the highest temperature"] <= 16.6e-3 * 20 * 55
    assert figures["Filled mass per metre"] == pytest.approx(4.0, abs=0.1)


def test_fields_hold_the_recorded_values_in_the_order_of_the_formula(riser_outcome: Make) -> None:
    forms = {form.formula: form for block in _aids(riser_outcome()).blocks for form in block.forms}
    assert forms["drain-time"].inputs.split(";")[0] == "Bore|mm|51"
    assert [field.split("|")[2] for field in forms["drain-time"].inputs.split(";")] == ["51", "20", "0", "13", "0.6"]
    assert [field.split("|")[2] for field in forms["may-run"].inputs.split(";")] == ["6", "60"]


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({}, "The records allow"),
        ({"max_operating_pressure_bar": 15.9}, "The records do not allow"),
        ({"max_temperature_c": None}, ""),
    ],
)
def test_whether_it_may_run_is_answered_from_the_envelope(
    riser_outcome: Make, change: dict[str, float | None], words: str
) -> None:
    blocks = _aids(riser_outcome(systems=change)).blocks
    assert blocks[0].title.startswith("May it run")
    assert blocks[0].words.startswith(words or "The records do not say")
    assert "safe" not in repr(blocks).lower()


def test_without_ratings_nothing_is_said_about_running(riser_outcome: Make) -> None:
    assert all(not block.title.startswith("May it run") for block in _aids(riser_outcome(ratings=())).blocks)


def test_an_aid_that_lacks_an_input_has_no_figure_and_no_fields(riser_outcome: Make) -> None:
    blocks = _aids(riser_outcome(sections={"elevation_high_m": None})).blocks
    assert "drain-time" not in {form.formula for block in blocks for form in block.forms}


def test_the_tag_edition_holds_volume_and_drain_in_words_alone(riser_outcome: Make) -> None:
    aids = _aids(riser_outcome(), Edition.TAG)
    assert not aids.blocks
    assert aids.sizes is None
    assert "40.9\u00a0L" in aids.words
    assert "at least" in aids.words


def test_supports_are_looked_up_for_the_size_and_never_borrowed(riser_outcome: Make) -> None:
    """54 mm stainless, horizontal: 2.7 m in UK practice; no row for 50 mm."""
    sizes = _aids(riser_outcome()).sizes
    assert sizes is not None
    assert sizes.rows[0].cells[5].text.replace("\u00a0", " ") == "2.7 m"
    odd = _aids(riser_outcome(tubes={"od_mm": 50.0})).sizes
    assert odd is not None
    assert odd.rows[0].cells[5].text == "not in the records"
