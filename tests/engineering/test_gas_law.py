"""A shut-in gas against published set-ups and figures trade check value, computed independently."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.engineering.errors import BelowAbsoluteZeroError, NegativeAbsolutePressureError
from witnessmark.engineering.gas_law import gauge_after, leak_rate, pressure_per_kelvin, unexplained_drop

PSI = 0.0689475729  # [bar], NIST SP 811, from memory
ATMOSPHERE = 1.01325


def after(gauge: float, start: float, end: float, atmosphere: float = ATMOSPHERE) -> float:
    return gauge_after(gauge, start, end, start_atmosphere=atmosphere, end_atmosphere=atmosphere)


@pytest.mark.parametrize(
    ("gauge", "start", "end", "expected", "tolerance"),
    [
        # Trade check value, computed independently, 1.01325 bar.
        (0.150, 20, 19, 0.14603, 0.000005),
        (0.150, 20, 15, 0.13016, 0.000005),
        (3.000, 20, 15, 2.9316, 0.0001),
        (0.020, 18, 19, 0.02355, 0.000005),
    ],
)
def test_gauge_after_a_change_of_temperature(
    gauge: float, start: float, end: float, expected: float, tolerance: float
) -> None:
    assert after(gauge, start, end) == pytest.approx(expected, abs=tolerance)


def test_published_bottle_warmed_from_7_to_18_degrees() -> None:
    """24.8 bar, 7 to 18 °C: inputs published with one bar for the atmosphere and 273 for 273.15; result computed."""
    assert after(24.8, 7, 18, 1.0) == pytest.approx(25.81, abs=0.005)


def test_published_example_in_psi_comes_to_144_06() -> None:
    """150 psig, 95 to 75 °F, 14.7 psia: inputs published; the page prints 143.8, the exact figure is 144.06."""
    found = after(150 * PSI, (95 - 32) / 1.8, (75 - 32) / 1.8, 14.7 * PSI) / PSI
    assert found == pytest.approx(144.06, abs=0.005)
    assert found != pytest.approx(143.8, abs=0.2)


def test_forgetting_the_atmosphere_would_hide_most_of_the_change() -> None:
    """150 mbar cooled by 1 K falls 3.97 mbar, not the 0.51 that a ratio of gauge pressures gives; computed."""
    assert 150 - 1000 * after(0.150, 20, 19) == pytest.approx(3.97, abs=0.005)
    assert pytest.approx(0.51, abs=0.005) == 150 - 150 * (292.15 / 293.15)


def test_a_millibar_more_outside_is_a_millibar_less_on_the_gauge() -> None:
    moved = gauge_after(0.150, 20, 20, start_atmosphere=1.013, end_atmosphere=1.014)
    assert moved == pytest.approx(0.149, abs=1e-12)
    drop = unexplained_drop(0.150, 0.149, 20, 20, start_atmosphere=1.013, end_atmosphere=1.014)
    assert drop == pytest.approx(0, abs=1e-12)


@pytest.mark.parametrize(
    ("litres", "millibar", "low", "high"),
    [(5, 8, 1.04, 1.19), (10, 4, 1.04, 1.19), (15, 2.5, 1.04, 1.19), (35, 1, 1.03, 1.19)],
)
def test_permissible_drops_of_a_gas_procedure_stand_for_one_leak(
    litres: float, millibar: float, low: float, high: float
) -> None:
    """IGEM/UP/1B edition 4, unofficial excerpt, 2 min: each edge implies 1.04 to 1.18 L/h; published, computed."""
    assert low <= leak_rate(litres, millibar / 1000, 2, ATMOSPHERE) <= high


def test_rival_excerpt_of_the_same_procedure_is_not_coherent() -> None:
    """10 L 8 mbar and 50 L 4 mbar imply 2.4 and 5.9 L/h; published, rejected."""
    assert leak_rate(10, 0.008, 2, ATMOSPHERE) == pytest.approx(2.4, abs=0.05)
    assert leak_rate(50, 0.004, 2, ATMOSPHERE) == pytest.approx(5.9, abs=0.05)


gauges, temperatures, outside = st.floats(-0.5, 16), st.floats(-30, 120), st.floats(0.8, 1.1)


@given(gauges, temperatures, temperatures, outside)
def test_there_and_back_is_where_it_began(gauge: float, start: float, end: float, atmosphere: float) -> None:
    there = after(gauge, start, end, atmosphere)
    assert after(there, end, start, atmosphere) == pytest.approx(gauge, abs=1e-9)


@given(gauges, temperatures, st.floats(0.01, 20), outside)
def test_warming_raises_the_gauge(gauge: float, start: float, more: float, atmosphere: float) -> None:
    assert after(gauge, start, start + more, atmosphere) > gauge
    rate = pressure_per_kelvin(gauge, start, atmosphere)
    assert after(gauge, start, start + more, atmosphere) - gauge == pytest.approx(rate * more, rel=1e-6)


def test_a_leak_is_left_over_after_correction() -> None:
    tight = after(0.150, 20, 18)
    assert unexplained_drop(
        0.150, tight - 0.002, 20, 18, start_atmosphere=ATMOSPHERE, end_atmosphere=ATMOSPHERE
    ) == pytest.approx(0.002)


@pytest.mark.parametrize("celsius", [-273.15, -300])
def test_absolute_zero_is_refused(celsius: float) -> None:
    with pytest.raises(BelowAbsoluteZeroError, match="absolute zero"):
        after(0.15, celsius, 20)
    with pytest.raises(BelowAbsoluteZeroError, match="end temperature"):
        after(0.15, 20, celsius)


@pytest.mark.parametrize("gauge", [-1.01325, -2])
def test_vacuum_and_below_is_refused(gauge: float) -> None:
    with pytest.raises(NegativeAbsolutePressureError, match="gauge pressure was meant"):
        after(gauge, 20, 19)
    with pytest.raises(NegativeAbsolutePressureError):
        unexplained_drop(0.1, gauge, 20, 19, start_atmosphere=ATMOSPHERE, end_atmosphere=ATMOSPHERE)
