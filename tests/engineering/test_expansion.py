"""Expansion of pipe against published worked examples."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.engineering.errors import BelowAbsoluteZeroError, NegativeError
from witnessmark.engineering.expansion import change_of_length, leg_length


@pytest.mark.parametrize(
    ("metres", "alpha", "rise", "millimetres", "tolerance", "source"),
    [
        (10, 17, 40, 6.8, 0.001, "published worked example, copper; the page's own table lists 16.6"),
        (1, 16.4, 60, 0.98, 0.005, "published table, copper, mm per metre"),
        (1, 16.4, 100, 1.64, 0.005, "published table, copper, mm per metre"),
        (1, 12.2, 60, 0.73, 0.005, "published table, carbon steel, mm per metre"),
        (1, 12.2, 100, 1.22, 0.005, "published table, carbon steel, mm per metre"),
        (1, 16.3, 60, 0.98, 0.005, "published table, austenitic stainless, mm per metre"),
        (1, 16.3, 100, 1.63, 0.005, "published table, austenitic stainless, mm per metre"),
        (1, 16.6, 60, 0.996, 0.0005, "rule of one millimetre per metre and 60 K; computed"),
        (10, 16.6, 50, 8.3, 0.0005, "published as 'just 8 mm', exactly 8.3"),
        (30, 16.6, 70, 35, 0.5, "trade check value, computed independently, copper 10 to 80 °C"),
        (30, 16.3, 70, 34, 0.5, "trade check value, computed independently, stainless 10 to 80 °C"),
        (30, 12.2, 70, 26, 0.5, "trade check value, computed independently, carbon steel 10 to 80 °C"),
    ],
)
def test_change_of_length(
    metres: float, alpha: float, rise: float, millimetres: float, tolerance: float, source: str
) -> None:
    assert change_of_length(metres, alpha, 10, 10 + rise) == pytest.approx(millimetres, abs=tolerance), source


def test_leg_of_a_copper_28_for_10_mm() -> None:
    """Ls = 61 sqrt(D dL) with the constant for copper; formula in common use, constant from memory."""
    assert leg_length(28, 10, 61) == pytest.approx(1021, abs=1)


@given(st.floats(0, 1000), st.floats(10, 25), st.floats(-20, 110), st.floats(-20, 110))
def test_cooling_undoes_warming_and_halves_add_up(metres: float, alpha: float, start: float, end: float) -> None:
    there = change_of_length(metres, alpha, start, end)
    assert there == pytest.approx(-change_of_length(metres, alpha, end, start), abs=1e-9)
    middle = (start + end) / 2
    halves = change_of_length(metres, alpha, start, middle) + change_of_length(metres, alpha, middle, end)
    assert halves == pytest.approx(there, abs=1e-9)


def test_nonsense_is_refused() -> None:
    with pytest.raises(NegativeError):
        change_of_length(-1, 16.6, 10, 80)
    with pytest.raises(BelowAbsoluteZeroError):
        change_of_length(1, 16.6, -273.15, 80)
    with pytest.raises(NegativeError):
        leg_length(28, -10, 61)
