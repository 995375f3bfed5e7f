"""Static head against handbook figures."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.engineering.errors import NotPositiveError
from witnessmark.engineering.head import gauge_at, metres_per_bar, static_head


def test_one_bar_is_10_2_metres_of_water() -> None:
    """Handbook value, published: 1 bar = 10.1972 m of water at 1000 kg/m3."""
    assert metres_per_bar(1000) == pytest.approx(10.1972, abs=0.00005)


def test_a_40_m_riser_is_3_9_bar_and_its_top_saw_5_1_of_9() -> None:
    """Trade check value, computed independently."""
    assert static_head(40, 998.2) == pytest.approx(3.9, abs=0.05)
    assert gauge_at(40, 9, 0, 998.2) == pytest.approx(5.1, abs=0.05)


@given(st.floats(-100, 300), st.floats(-100, 300), st.floats(0, 25), st.floats(1, 1100))
def test_moving_the_gauge_and_back_changes_nothing(low: float, high: float, gauge: float, density: float) -> None:
    there = gauge_at(high, gauge, low, density)
    assert gauge_at(low, there, high, density) == pytest.approx(gauge, abs=1e-9)


@given(st.floats(-100, 300), st.floats(0.1, 100), st.floats(0, 25), st.floats(1, 1100))
def test_pressure_falls_upwards(low: float, rise: float, gauge: float, density: float) -> None:
    assert gauge_at(low + rise, gauge, low, density) < gauge


def test_a_column_of_nothing_is_refused() -> None:
    with pytest.raises(NotPositiveError, match="density"):
        static_head(10, 0)
