"""The slope of a hold and the range it may lie in."""

from math import inf

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.engineering.errors import BadTraceError
from witnessmark.engineering.trace import Trace
from witnessmark.engineering.trend import fit, student


@pytest.mark.parametrize(
    ("degrees", "published"), [(1, 12.706), (5, 2.571), (30, 2.042), (40, 2.021), (60, 2.000), (120, 1.980)]
)
def test_students_t_agrees_with_published_tables(degrees: int, published: float) -> None:
    """Two-sided 95 %, any statistical table; published. Above 30 never less than the table, at most 0.3 % more."""
    assert published <= student(degrees) + 1e-9
    assert student(degrees) == pytest.approx(published, rel=0.003)


def test_slope_agrees_with_a_reference_data_set() -> None:
    """NIST StRD linear regression set Norris: slope 1.00211681802045, intercept -0.262323073774029; published.

    Of the 36 published pairs, all are used; time in hours, pressure in bar.
    """
    y = [0.1, 338.8, 118.1, 888.0, 9.2, 228.1, 668.5, 998.5, 449.1, 778.9, 559.2, 0.3, 0.1, 778.1, 668.8, 339.3,
         448.9, 10.8, 557.7, 228.3, 998.0, 888.8, 119.6, 0.3, 0.6, 557.6, 339.3, 888.0, 998.5, 778.9, 10.2, 117.6,
         228.9, 668.4, 449.2, 0.2]  # fmt: skip
    x = [0.2, 337.4, 118.2, 884.6, 10.1, 226.5, 666.3, 996.3, 448.6, 777.0, 558.2, 0.4, 0.6, 775.5, 666.9, 338.0,
         447.5, 11.6, 556.0, 228.1, 995.8, 887.6, 120.2, 0.3, 0.3, 556.8, 339.1, 887.2, 999.0, 779.0, 11.1, 118.3,
         229.2, 669.1, 448.9, 0.5]  # fmt: skip
    order = np.argsort(x, kind="stable")
    hours, bars = np.array(x)[order], np.array(y)[order]
    trend = fit(Trace(hours * 3600, bars), resolution=0)
    assert trend.slope == pytest.approx(1.00211681802045, rel=1e-12)
    assert trend.start - trend.slope * hours[0] == pytest.approx(-0.262323073774029, rel=1e-9)


def test_stated_range_covers_the_true_slope_about_nineteen_times_in_twenty() -> None:
    """The meaning of a 95 % range, by simulation with independent and with drifting noise."""
    source = np.random.default_rng(2024)
    seconds = np.arange(0, 3600, 10.0)
    for memory in (0.0, 0.8):
        covered = 0
        for _ in range(300):
            noise = source.normal(0, 0.01, seconds.size)
            for index in range(1, noise.size):
                noise[index] += memory * noise[index - 1]
            trend = fit(Trace(seconds, 9 - 0.05 * seconds / 3600 + noise), resolution=0)
            covered += abs(trend.slope + 0.05) <= trend.half_width
        assert 0.90 <= covered / 300 <= 0.99


def test_a_flat_reading_on_a_coarse_gauge_has_a_range_and_no_fall() -> None:
    seconds = np.arange(0, 3600, 60.0)
    coarse = fit(Trace(seconds, np.full(60, 9.2)), resolution=0.1)
    assert coarse.slope == pytest.approx(0, abs=1e-12)
    assert coarse.half_width > 0.02
    assert not coarse.falls
    assert fit(Trace(seconds, 9.2 - seconds / 3600), resolution=0.1).falls


def test_two_readings_give_a_slope_but_no_range() -> None:
    trend = fit(Trace(np.array([0.0, 1800.0]), np.array([9.0, 8.9])), resolution=0.01)
    assert trend.slope == pytest.approx(-0.2)
    assert trend.half_width == inf
    assert not trend.falls


def test_no_time_is_no_slope() -> None:
    with pytest.raises(BadTraceError, match="two moments"):
        fit(Trace(np.array([5.0]), np.array([9.0])), resolution=0)


@given(st.floats(-5, 5), st.floats(0, 16), st.integers(3, 500))
def test_a_straight_line_is_found_whatever_its_slope(slope: float, level: float, count: int) -> None:
    seconds = np.linspace(0, 7200, count)
    trend = fit(Trace(seconds, level + slope * seconds / 3600), resolution=0)
    assert trend.slope == pytest.approx(slope, abs=1e-9)
    assert trend.start == pytest.approx(level, abs=1e-9)
    assert trend.hours == 2
