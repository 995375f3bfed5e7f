"""Water against IAPWS-95 (CoolProp), IAPWS-IF97 (iapws) and the published release values."""

import pytest
from CoolProp.CoolProp import PropsSI
from hypothesis import given
from hypothesis import strategies as st
from iapws import IAPWS97

from witnessmark.engineering.errors import EngineeringError, NegativeAbsolutePressureError, OutsideValidityError
from witnessmark.engineering.water import (
    boiling_temperature,
    compressibility,
    density,
    least_gauge_pressure,
    saturation_pressure,
    volume_growth,
    volumetric_expansion,
)

CELSIUS = [0.02, *range(1, 111)]
BARS = [1.01325, 5.0, 17.0, 25.0, 100.0]


def liquid_states() -> list[tuple[float, float]]:
    return [(celsius, bar) for bar in BARS for celsius in CELSIUS if bar > saturation_pressure(celsius)]


def iapws95(name: str, celsius: float, bar: float) -> float:
    return float(PropsSI(name, "T", celsius + 273.15, "P", bar * 1e5, "Water"))


def test_density_is_within_0_02_percent_of_iapws_95() -> None:
    """Found: 0.0014 %. CoolProp, computed."""
    for celsius, bar in liquid_states():
        assert density(celsius, bar) == pytest.approx(iapws95("D", celsius, bar), rel=2e-5), (celsius, bar)


def test_compressibility_is_within_half_a_percent_of_iapws_95() -> None:
    """Found: 0.11 % up to 25 bar, 0.43 % at 100 bar. CoolProp, computed."""
    for celsius, bar in liquid_states():
        expected = iapws95("ISOTHERMAL_COMPRESSIBILITY", celsius, bar) * 1e5
        assert compressibility(celsius, bar) == pytest.approx(expected, rel=0.002 if bar <= 25 else 0.005), (
            celsius,
            bar,
        )


def test_expansion_is_within_half_a_percent_of_iapws_95() -> None:
    """Found: 0.47 %. Between 1 and 5.5 °C it passes through zero: there 0.3e-6/K. CoolProp, computed."""
    for celsius, bar in liquid_states():
        expected = iapws95("ISOBARIC_EXPANSION_COEFFICIENT", celsius, bar)
        limit = pytest.approx(expected, rel=0.005, abs=0.3e-6 if bar <= 25 else 0.8e-6)
        assert volumetric_expansion(celsius, bar) == limit, (celsius, bar)


def test_saturation_pressure_is_within_0_1_percent_of_iapws_95() -> None:
    """Found: 0.0072 %. CoolProp, computed."""
    for celsius in [*CELSIUS, 150, 200, 249]:
        expected = float(PropsSI("P", "T", celsius + 273.15, "Q", 0, "Water")) / 1e5
        assert saturation_pressure(celsius) == pytest.approx(expected, rel=1e-4), celsius


@pytest.mark.parametrize("celsius", [1, 20, 40, 50, 60, 80, 99])
def test_water_agrees_with_the_industrial_formulation(celsius: float) -> None:
    """IAPWS-IF97 by the iapws library, computed; the two formulations differ by up to 0.35 % in compressibility."""
    state = IAPWS97(T=celsius + 273.15, P=0.5)
    assert density(celsius, 5) == pytest.approx(state.rho, rel=2e-4)
    assert compressibility(celsius, 5) == pytest.approx(state.xkappa * 0.1, rel=0.005)
    assert volumetric_expansion(celsius, 5) == pytest.approx(state.alfav, rel=0.005, abs=0.5e-6)
    assert saturation_pressure(celsius) == pytest.approx(IAPWS97(T=celsius + 273.15, x=0).P * 10, rel=1e-3)


@pytest.mark.parametrize(
    ("celsius", "kpa", "kg_m3", "kappa", "alpha"),
    [
        # IAPWS-95 trade check value, computed independently with CoolProp; density at 1.01325 bar, 2 bar from 100 °C.
        (4, 0.8135, 999.975, 0.4943, 1.6),
        (10, 1.2282, 999.702, 0.4776, 88.9),
        (20, 2.3393, 998.207, 0.4584, 207.4),
        (40, 7.3849, 992.216, 0.4419, 385.6),
        (60, 19.946, 983.196, 0.4445, 523.1),
        (80, 47.415, 971.790, 0.4609, 640.9),
        (100, 101.418, 958.395, 0.4896, 749.9),
        (110, 143.379, 950.975, 0.5085, 803.4),
    ],
)
def test_water_agrees_with_the_trade_table(
    celsius: float, kpa: float, kg_m3: float, kappa: float, alpha: float
) -> None:
    assert saturation_pressure(celsius) * 100 == pytest.approx(kpa, rel=1e-4)
    assert density(celsius, 2.0 if celsius >= 100 else 1.01325) == pytest.approx(kg_m3, rel=2e-5)
    assert compressibility(celsius, 5) * 1e4 == pytest.approx(kappa, rel=1e-3)
    assert volumetric_expansion(celsius, 5) * 1e6 == pytest.approx(alpha, rel=1e-3, abs=0.3)


@pytest.mark.parametrize(("kelvin", "mpa"), [(300, 0.00353658941), (500, 2.63889776)])
def test_saturation_agrees_with_the_release_of_the_industrial_formulation(kelvin: float, mpa: float) -> None:
    """IAPWS-IF97 release, table 35; from memory."""
    assert saturation_pressure(kelvin - 273.15) == pytest.approx(mpa * 10, rel=2e-4)


@pytest.mark.parametrize(
    ("start", "end", "percent"), [(10, 60, 1.680), (10, 70, 2.244), (10, 80, 2.873), (10, 90, 3.563), (20, 80, 2.718)]
)
def test_growth_of_heated_water(start: float, end: float, percent: float) -> None:
    """At 3 bar absolute, CoolProp, computed."""
    assert volume_growth(start, end, 3) * 100 == pytest.approx(percent, abs=0.003)


def test_water_at_110_degrees_needs_0_42_bar_to_stay_liquid() -> None:
    """CoolProp, computed: 1.434 bar absolute."""
    assert saturation_pressure(110) == pytest.approx(1.434, abs=0.0005)
    assert least_gauge_pressure(110, 1.01325) == pytest.approx(0.42, abs=0.005)
    assert least_gauge_pressure(95, 1.01325) == 0


def test_water_boils_at_100_degrees_at_about_one_atmosphere_and_lower_on_a_mountain() -> None:
    """99.97 °C at 1.01325 bar (IAPWS-95, computed); 120.2 °C at 2 bar, 184 °C at 11 bar (steam tables, published)."""
    assert boiling_temperature(1.01325) == pytest.approx(99.974, abs=0.002)
    assert boiling_temperature(2) == pytest.approx(120.2, abs=0.05)
    assert boiling_temperature(11) == pytest.approx(184.06, abs=0.05)
    assert least_gauge_pressure(95, 0.8) > 0


@given(st.floats(0, 110), st.floats(1, 99))
def test_more_pressure_makes_water_denser_and_stiffer(celsius: float, bar: float) -> None:
    assert density(celsius, bar + 1) > density(celsius, bar)
    assert compressibility(celsius, bar + 1) < compressibility(celsius, bar)


@given(st.floats(0, 109), st.floats(0.01, 1))
def test_hotter_water_boils_at_more_pressure(celsius: float, more: float) -> None:
    assert saturation_pressure(celsius + more) > saturation_pressure(celsius)
    assert boiling_temperature(saturation_pressure(celsius + more)) == pytest.approx(celsius + more, abs=1e-6)


@given(st.floats(0.5, 109), st.floats(2, 90))
def test_expansion_and_compressibility_are_slopes_of_the_density(celsius: float, bar: float) -> None:
    rho = density(celsius, bar)
    by_heat = (density(celsius + 0.01, bar) - density(celsius - 0.01, bar)) / 0.02
    by_pressure = (density(celsius, bar + 0.5) - density(celsius, bar - 0.5)) / 1.0
    # 1.00024: the older temperature scale of the correlation.
    assert -by_heat / rho == pytest.approx(volumetric_expansion(celsius, bar), rel=5e-4, abs=1e-8)
    assert by_pressure / rho == pytest.approx(compressibility(celsius, bar), rel=1e-5)


@pytest.mark.parametrize("celsius", [-0.1, 110.1, -273.15, -300, 500])
def test_ice_steam_and_nonsense_temperatures_are_refused(celsius: float) -> None:
    with pytest.raises(OutsideValidityError, match="holds from 0 to 110 °C"):
        density(celsius)


@pytest.mark.parametrize("bar", [0, -1])
def test_vacuum_is_refused(bar: float) -> None:
    with pytest.raises(NegativeAbsolutePressureError, match="perfect vacuum"):
        density(20, bar)
    with pytest.raises(EngineeringError):
        boiling_temperature(bar)
    with pytest.raises(NegativeAbsolutePressureError):
        least_gauge_pressure(20, bar)
