"""The closed pipe against published inputs, and a table computed independently with CoolProp."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.engineering.closed_pipe import (
    Contents,
    Wall,
    litres_per_bar,
    litres_taken_by_air,
    pressure_per_kelvin,
    softness,
    wall_compliance,
    water_contents,
    water_pressure_change,
)
from witnessmark.engineering.errors import EngineeringError, OutsideValidityError

COPPER = (120.0, 0.34, 16.6e-6)
STAINLESS = (200.0, 0.30, 16.0e-6)
STEEL = (205.0, 0.30, 12.0e-6)


def wall(outside: float, thickness: float, metal: tuple[float, float, float]) -> Wall:
    modulus, poisson, expansion = metal
    return Wall(expansion, wall_compliance(outside, thickness, modulus, poisson))


@pytest.mark.parametrize(
    ("outside", "thickness", "metal", "bar_per_kelvin"),
    [
        (28, 0.9, COPPER, {10: 0.56, 20: 2.32, 40: 5.07, 60: 7.11}),
        (28, 1.2, STAINLESS, {10: 0.70, 20: 2.84, 40: 6.21, 60: 8.70}),
        (54, 1.5, STAINLESS, {10: 0.64, 20: 2.57, 40: 5.59, 60: 7.84}),
        (28, 1.5, STEEL, {10: 0.95, 20: 3.20, 40: 6.73, 60: 9.33}),
    ],
)
def test_coefficient_is_within_two_percent_of_the_trade_table(
    outside: float, thickness: float, metal: tuple[float, float, float], bar_per_kelvin: dict[int, float]
) -> None:
    """Closed ends, no air, 4 bar absolute; computed independently with CoolProp. Found: 0.6 %."""
    for celsius, expected in bar_per_kelvin.items():
        found = pressure_per_kelvin(
            water_contents(celsius, 4), wall(outside, thickness, metal), temperature=celsius, pressure=4, air_share=0
        )
        assert found == pytest.approx(expected, rel=0.01), celsius


@pytest.mark.parametrize(("ratio", "mpa_per_kelvin"), [(10, 0.387), (100, 0.193), (0.001, 0.435)])
def test_published_example_of_a_trapped_liquid(ratio: float, mpa_per_kelvin: float) -> None:
    """Published inputs alpha_f 210e-6, alpha_v 36e-6, beta 4e-4/MPa, E 2e5 MPa, D/t 10 to 100; results computed."""
    compliance = wall_compliance(ratio * 1.0, 1.0, 200, 0.3, "diameter_over_wall") if ratio > 2 else 0.0
    found = pressure_per_kelvin(
        Contents(4e-5, 210e-6), Wall(12e-6, compliance), temperature=20, pressure=5, air_share=0
    )
    assert found / 10 == pytest.approx(mpa_per_kelvin, abs=0.0005)


@pytest.mark.parametrize(
    ("outside", "thickness", "metal", "millilitres"), [(28, 1.2, STAINLESS, 55.9), (28, 0.9, COPPER, 67.9)]
)
def test_100_litres_take_so_much_for_ten_bar(
    outside: float, thickness: float, metal: tuple[float, float, float], millilitres: float
) -> None:
    """No air, 20 °C; computed independently with CoolProp."""
    found = litres_per_bar(100, water_contents(20, 5), wall(outside, thickness, metal), pressure=5, air_share=0)
    assert found * 10 * 1000 == pytest.approx(millilitres, rel=0.005)


def test_500_litres_of_54_stainless_take_32_or_530_millilitres_a_bar() -> None:
    """9 bar gauge, without air and with 1 %; trade check value, computed independently, two figures given."""
    tube = wall(54, 1.5, STAINLESS)
    for share, millilitres, tolerance in ((0.0, 32, 1.5), (0.01, 530, 3.0)):
        found = litres_per_bar(500, water_contents(20, 10), tube, pressure=10.01, air_share=share)
        assert found * 1000 == pytest.approx(millilitres, abs=tolerance)


@pytest.mark.parametrize(
    ("metal", "thickness", "expected"), [(COPPER, 1.2, 2.0), (STAINLESS, 1.5, 2.5), (STEEL, 1.5, 2.7)]
)
def test_54_mm_at_20_degrees_without_air(metal: tuple[float, float, float], thickness: float, expected: float) -> None:
    """Trade check value, computed independently, to one decimal, with its own constants: within 9 %."""
    found = pressure_per_kelvin(
        water_contents(20, 10), wall(54, thickness, metal), temperature=20, pressure=10, air_share=0
    )
    assert found == pytest.approx(expected, rel=0.09)


@pytest.mark.parametrize(("share", "expected"), [(0.005, 0.3), (0.01, 0.18)])
def test_trapped_air_takes_most_of_the_coefficient_away(share: float, expected: float) -> None:
    """Trade check value, computed independently, one or two figures given."""
    found = pressure_per_kelvin(
        water_contents(20, 10), wall(54, 1.5, STAINLESS), temperature=20, pressure=10, air_share=share
    )
    assert found == pytest.approx(expected, rel=0.1)


def test_near_5_degrees_the_pressure_hardly_follows_and_below_it_falls_on_warming() -> None:
    tube = wall(54, 1.5, STAINLESS)
    assert pressure_per_kelvin(water_contents(6, 10), tube, temperature=6, pressure=10, air_share=0) < 0.2
    assert pressure_per_kelvin(water_contents(2, 10), tube, temperature=2, pressure=10, air_share=0) < 0


def test_one_litre_of_air_takes_0_91_litres_by_10_bar() -> None:
    """Boyle's law; trade check value, computed independently."""
    assert litres_taken_by_air(1, 1.01325, 11.01325) == pytest.approx(0.91, abs=0.005)


def test_compliance_of_the_three_restraints() -> None:
    """Thin-wall theory: c E t/d is 1.25 - nu closed and free, 1 - nu² held; D/(tE) is the published simple form."""
    assert wall_compliance(54, 1.5, 200, 0.3) == pytest.approx(51 / 1.5 / 2e6 * 0.95)
    assert wall_compliance(54, 1.5, 200, 0.3, "axially_held") == pytest.approx(51 / 1.5 / 2e6 * 0.91)
    assert wall_compliance(54, 1.5, 200, 0.3, "diameter_over_wall") == pytest.approx(54 / 1.5 / 2e6)


def test_change_over_a_range_agrees_with_small_steps() -> None:
    """The sum of many small steps of the coefficient, without air."""
    tube, bar = wall(28, 1.2, STAINLESS), 4.0
    for step in range(1000):
        celsius = 20 + step * 0.005 + 0.0025
        rate = pressure_per_kelvin(water_contents(celsius, bar), tube, temperature=celsius, pressure=bar, air_share=0)
        bar += rate * 0.005
    assert water_pressure_change(20, 25, tube, pressure=4, air_share=0) == pytest.approx(bar - 4, rel=1e-3)


@given(st.floats(8, 60), st.floats(-2, 2), st.floats(0.0, 0.05))
def test_warming_and_cooling_back_returns_the_pressure(celsius: float, change: float, share: float) -> None:
    tube = wall(42, 1.5, STAINLESS)
    start = 25.0
    up = water_pressure_change(celsius, celsius + change, tube, pressure=start, air_share=share)
    share_there = share * start / (start + up) * (celsius + change + 273.15) / (celsius + 273.15)
    back = water_pressure_change(celsius + change, celsius, tube, pressure=start + up, air_share=min(0.2, share_there))
    assert up + back == pytest.approx(0, abs=0.02)


@given(st.floats(0, 0.19), st.floats(0.001, 0.01), st.floats(2, 17))
def test_more_air_always_softens(share: float, more: float, bar: float) -> None:
    tube, contents = wall(22, 1.2, STAINLESS), water_contents(20, bar)
    soft = softness(contents, tube, pressure=bar, air_share=share)
    assert softness(contents, tube, pressure=bar, air_share=share + more) > soft


def test_a_line_pulled_below_vacuum_is_refused() -> None:
    with pytest.raises(EngineeringError):
        water_pressure_change(60, 20, wall(28, 1.2, STAINLESS), pressure=2, air_share=0)


@pytest.mark.parametrize("share", [-0.01, 0.21, 1.0])
def test_share_of_air_outside_the_model_is_refused(share: float) -> None:
    with pytest.raises(OutsideValidityError, match="share of trapped air"):
        softness(water_contents(20, 5), wall(28, 1.2, STAINLESS), pressure=5, air_share=share)


def test_poisson_ratio_beyond_elasticity_is_refused() -> None:
    with pytest.raises(OutsideValidityError, match="Poisson"):
        wall_compliance(28, 1.2, 200, 0.6)
