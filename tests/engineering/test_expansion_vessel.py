"""Room for heated water."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.engineering.errors import NoPressureRiseError
from witnessmark.engineering.expansion_vessel import expanded_litres, vessel_volume


def test_heating_water_from_7_to_90_degrees_gains_about_four_percent() -> None:
    """Trade check value, rounded: about 4 %; IAPWS-95 gives 3.6 %."""
    assert expanded_litres(1000, 7, 90) == pytest.approx(40, rel=0.12)
    assert expanded_litres(1000, 10, 80, 3) == pytest.approx(28.73, abs=0.03)


def test_vessel_for_20_litres_between_1_and_2_5_bar() -> None:
    """By hand: p1/p2 = 2.013/3.513, 20/(1 - 0.57301) = 46.84 L."""
    assert vessel_volume(20, 1, 2.5, 1.013) == pytest.approx(20 / (1 - 2.013 / 3.513))


@given(st.floats(1, 1000), st.floats(0, 3), st.floats(0.1, 3), st.floats(0.01, 1))
def test_a_vessel_is_larger_than_what_it_takes_and_smaller_for_more_rise(
    gain: float, cold: float, rise: float, more: float
) -> None:
    assert vessel_volume(gain, cold, cold + rise, 1.013) > gain
    assert vessel_volume(gain, cold, cold + rise + more, 1.013) < vessel_volume(gain, cold, cold + rise, 1.013)


def test_no_rise_is_refused() -> None:
    with pytest.raises(NoPressureRiseError, match="not above the cold pressure"):
        vessel_volume(20, 2, 2, 1.013)
