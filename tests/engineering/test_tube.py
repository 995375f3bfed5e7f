"""Tube geometry against published tables of EN 1057 and EN 10312 sizes."""

from math import inf, nan, pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.engineering.errors import (
    EngineeringError,
    NegativeError,
    NotFiniteError,
    NotPositiveError,
    WallTooThickError,
)
from witnessmark.engineering.tube import (
    bore,
    bore_area,
    empty_mass_per_metre,
    filled_mass_per_metre,
    length_for_volume,
    litres_per_metre,
    volume,
)

COPPER, STAINLESS, STEEL = 8940.0, 8000.0, 7850.0  # [kg/m3], handbook values, from memory


@pytest.mark.parametrize(
    ("outside", "wall", "litres", "kilograms", "density"),
    [
        # Nominal sizes of EN 1057 (published pairs); litres and masses trade check value, computed independently.
        (12, 1.0, 0.0785, 0.309, COPPER),
        (15, 0.7, 0.1453, 0.281, COPPER),
        (15, 1.0, 0.1327, 0.393, COPPER),
        (22, 0.9, 0.3205, 0.533, COPPER),
        (28, 0.9, 0.5391, 0.685, COPPER),
        (35, 1.2, 0.8347, 1.139, COPPER),
        (42, 1.2, 1.2316, 1.375, COPPER),
        (54, 1.2, 2.0912, 1.780, COPPER),
        (66.7, 1.2, 3.2472, 2.208, COPPER),
        (76.1, 1.5, 4.1969, 3.143, COPPER),
        (108, 1.5, 8.6590, 4.487, COPPER),
        # Nominal sizes of EN 10312 series 2 and 1 (published pairs).
        (15, 1.0, 0.1327, 0.352, STAINLESS),
        (22, 1.2, 0.3017, 0.627, STAINLESS),
        (28, 1.2, 0.5147, 0.808, STAINLESS),
        (54, 1.5, 2.0428, 1.979, STAINLESS),
        (108, 2.0, 8.4949, 5.328, STAINLESS),
        (15, 0.6, 0.1496, 0.217, STAINLESS),
        (22, 0.7, 0.3333, 0.375, STAINLESS),
        # EN 10305-3 pairs in use for press joints (from memory).
        (22, 1.5, 0.2835, 0.758, STEEL),
        (28, 1.5, 0.4909, 0.980, STEEL),
        (54, 1.5, 2.0428, 1.942, STEEL),
    ],
)
def test_content_and_mass_agree_with_the_trade_table(
    outside: float, wall: float, litres: float, kilograms: float, density: float
) -> None:
    assert litres_per_metre(outside, wall) == pytest.approx(litres, abs=0.00006)
    assert empty_mass_per_metre(outside, wall, density) == pytest.approx(kilograms, abs=0.0006)


@pytest.mark.parametrize(("outside", "wall", "kilograms"), [(12, 1.0, 0.31), (15, 1.0, 0.39), (16, 1.0, 0.42)])
def test_copper_mass_agrees_with_a_published_mass_table(outside: float, wall: float, kilograms: float) -> None:
    """Published masses of EN 1057 copper tube, two decimals; the table rounds."""
    assert empty_mass_per_metre(outside, wall, COPPER) == pytest.approx(kilograms, abs=0.005)


@pytest.mark.parametrize(("outside", "wall", "litres"), [(12, 1.0, 0.0890), (15, 0.7, 0.1416), (22, 0.9, 0.3140)])
def test_copper_content_is_within_three_percent_of_a_published_capacity_table(
    outside: float, wall: float, litres: float
) -> None:
    """A published capacity table lies 2 to 3 % under the nominal bore (its 12 mm row belongs to a 0.7 mm wall)."""
    thickness = 0.6 if outside == 12 else wall
    assert litres_per_metre(outside, thickness) == pytest.approx(litres, rel=0.03)


def test_gas_installation_rule_of_thumb_for_15_mm_is_within_four_percent() -> None:
    """0.00014 m3/m for 15 mm copper, from a published gas installation volume example."""
    assert litres_per_metre(15, 0.7) == pytest.approx(0.14, rel=0.04)


@pytest.mark.parametrize(("outside", "wall", "metres"), [(28, 1.2, 194.3), (22, 0.9, 312.0), (54, 1.5, 49.0)])
def test_length_that_holds_100_litres(outside: float, wall: float, metres: float) -> None:
    """100 L of pipe, trade check value, computed independently."""
    assert length_for_volume(outside, wall, 100) == pytest.approx(metres, abs=0.06)


def test_riser_of_30_m_stainless_holds_61_litres() -> None:
    """A riser trade check value, computed independently: 30 m of 54 x 1.5, 61 L."""
    assert volume(54, 1.5, 30) == pytest.approx(61, abs=0.5)


def test_stainless_series_differ_by_up_to_13_percent() -> None:
    """EN 10312: series 1 and 2 share the outside diameter (published); 15 x 0.6 holds 12.7 % more than 15 x 1.0."""
    assert litres_per_metre(15, 0.6) / litres_per_metre(15, 1.0) == pytest.approx(1.127, abs=0.001)


@given(st.floats(6, 300), st.floats(0.3, 2.9))
def test_metal_and_bore_fill_the_outside_circle(outside: float, wall: float) -> None:
    metal = empty_mass_per_metre(outside, wall, 1000.0) * 1000
    assert metal + bore_area(outside, wall) == pytest.approx(pi / 4 * outside**2, rel=1e-9)


@given(st.floats(10, 300), st.floats(0.3, 2.0), st.floats(0.1, 2.0))
def test_a_thicker_wall_holds_less_and_weighs_more(outside: float, wall: float, extra: float) -> None:
    assert litres_per_metre(outside, wall + extra) < litres_per_metre(outside, wall)
    assert empty_mass_per_metre(outside, wall + extra, STEEL) > empty_mass_per_metre(outside, wall, STEEL)
    assert filled_mass_per_metre(outside, wall, STEEL, 1000) > empty_mass_per_metre(outside, wall, STEEL)


@given(st.floats(10, 300), st.floats(0.3, 4.0), st.floats(0, 1e5))
def test_length_and_volume_are_inverse(outside: float, wall: float, length: float) -> None:
    assert length_for_volume(outside, wall, volume(outside, wall, length)) == pytest.approx(length, rel=1e-9)


@pytest.mark.parametrize("wall", [7.5, 8.0, 15.0, 1000.0])
def test_wall_without_a_bore_is_refused(wall: float) -> None:
    with pytest.raises(WallTooThickError, match="leaves no bore in a tube of 15 mm"):
        bore(15, wall)


@pytest.mark.parametrize("bad", [nan, inf, -inf])
def test_what_is_no_number_is_refused(bad: float) -> None:
    for outside, wall in ((bad, 1.0), (22.0, bad)):
        with pytest.raises(NotFiniteError, match="not a finite number"):
            litres_per_metre(outside, wall)
    with pytest.raises(NotFiniteError):
        volume(22, 0.9, bad)
    with pytest.raises(NotFiniteError):
        empty_mass_per_metre(22, 0.9, bad)


@pytest.mark.parametrize(("outside", "wall"), [(0, 1), (-22, 0.9), (22, 0), (22, -0.9)])
def test_zero_and_negative_sizes_are_refused(outside: float, wall: float) -> None:
    with pytest.raises(NotPositiveError, match="above zero"):
        bore(outside, wall)


def test_negative_length_is_refused() -> None:
    with pytest.raises(NegativeError, match="length"):
        volume(22, 0.9, -1)


def test_a_result_beyond_numbers_is_refused() -> None:
    with pytest.raises(EngineeringError, match="which no building can hold"):
        bore_area(1e308, 1.0)
