"""Tube ratings from hoop stress; the published working pressures are checked with the reference tables."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.engineering.errors import NotPositiveError, WallTooThickError, WallTooThickForThinWallFormulaError
from witnessmark.engineering.hoop_stress import rating, stress


@pytest.mark.parametrize(
    ("outside", "wall", "bar"),
    [(15, 0.7, 58), (22, 0.9, 51), (28, 0.9, 40), (35, 1.2, 42), (54, 1.2, 27), (108, 1.5, 17)],
)
def test_half_hard_copper_at_65_degrees(outside: float, wall: float, bar: float) -> None:
    """EN 1057 Table X, half hard, 65 °C, design stress 60 MPa; published table of working pressures."""
    assert rating(outside, wall, 60) == pytest.approx(bar, abs=1)


def test_annealed_copper_at_65_degrees() -> None:
    """The same table, annealed: 15 x 1.0 in Table Y 67 bar with a design stress of 46 MPa (stress from memory), 3 %."""
    assert rating(15, 1.0, 46) == pytest.approx(67, rel=0.03)


@given(st.floats(10, 120), st.floats(0.5, 1.5), st.floats(10, 300))
def test_rating_brings_the_wall_to_its_stress(outside: float, wall: float, allowable: float) -> None:
    assert stress(outside, wall, rating(outside, wall, allowable)) == pytest.approx(allowable)


@given(st.floats(15, 120), st.floats(0.5, 1.5), st.floats(0.01, 0.5))
def test_thicker_carries_more_and_larger_carries_less(outside: float, wall: float, more: float) -> None:
    assert rating(outside, wall + more, 60) > rating(outside, wall, 60)
    assert rating(outside + more, wall, 60) < rating(outside, wall, 60)


def test_thick_tube_is_outside_the_formula() -> None:
    with pytest.raises(WallTooThickForThinWallFormulaError, match="formula holds up to"):
        rating(12, 3, 60)
    with pytest.raises(WallTooThickError):
        rating(12, 6, 60)
    with pytest.raises(NotPositiveError, match="allowable stress"):
        rating(22, 0.9, 0)
