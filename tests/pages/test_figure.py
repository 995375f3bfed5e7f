"""Figures on pages: rounded by their quantity, never to nothing, and never in the exports."""

import math

import pytest

from witnessmark.model.contract import Edition
from witnessmark.pages.context import Context
from witnessmark.pages.figure import display_figure, rounded, telling_places
from witnessmark.pages.table import RowReader
from witnessmark.pipeline import Outcome


@pytest.mark.parametrize(
    ("value", "unit", "words"),
    [
        (1.50305709, "bar", "1.5 bar"),
        (2.70273678, "bar", "2.7 bar"),
        (9.0456, "bar", "9.05 bar"),
        (15.9987, "bar", "16 bar"),
        (16.04, "bar", "16 bar"),
        (0.0205, "bar", "0.0205 bar"),
        (0.00415, "bar", "0.00415 bar"),
        (21.48, "degC", "21.5 °C"),
        (1.25, "mm", "1.25 mm"),
        (76.1, "mm", "76.1 mm"),
        (12.345, "m", "12.3 m"),
        (61.27, "L", "61.3 L"),
        (0.0, "bar", "0 bar"),
        (-0.98765, "bar", "-0.99 bar"),
        (1.6, "%", "1.6 %"),
    ],
)
def test_a_recorded_figure_is_shown_with_the_places_that_mean_something(value: float, unit: str, words: str) -> None:
    assert display_figure(value, unit).replace("\u00a0", " ") == words


@pytest.mark.parametrize("value", [math.inf, math.nan, 1e308, 5e-324])
def test_odd_numbers_stay_what_they_are(value: float) -> None:
    shown = rounded(value, "bar")
    assert shown == value or math.isnan(value)


def test_a_converted_figure_is_rounded_with_the_text_as_written_beside_it_for_the_auditor(
    small_outcome: Outcome, record: object
) -> None:
    stage = record("tests", raw={"start_pressure_bar": "39.2 psi"}, test_id="PT-9", start_pressure_bar=2.7027448)  # type: ignore[operator]  # a factory
    for edition, raw in ((Edition.AUDIT, "39.2 psi"), (Edition.FACILITIES, "")):
        reader = RowReader(Context(small_outcome, edition), "tests", ("start_pressure_bar",))
        (cell,) = reader.cells(stage)
        assert cell.text.replace("\u00a0", " ") == "2.7 bar"
        assert cell.raw == raw


@pytest.mark.parametrize(
    ("value", "places", "shown"),
    [(0.00063, 2, 5), (0.063, 2, 2), (0.003, 2, 4), (0.0, 2, 2), (12.5, 0, 0), (0.4, 0, 2)],
)
def test_a_worked_figure_is_never_rounded_to_nothing(value: float, places: int, shown: int) -> None:
    assert telling_places(value, places) == shown
