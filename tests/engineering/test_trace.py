"""Logger traces: put in order, corrected, thinned, and read for stages and slope."""

from math import inf, nan

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.engineering.errors import BadTraceError
from witnessmark.engineering.gas_law import gauge_after
from witnessmark.engineering.trace import Trace, between, decimate, gas_corrected, tidy

readings = st.lists(
    st.tuples(st.integers(0, 10_000), st.floats(-1, 20)), min_size=2, max_size=200, unique_by=lambda pair: pair[0]
)


def test_readings_out_of_order_repeated_and_missing_are_counted_not_lost() -> None:
    tidied = tidy([0, 60, 30, 60, 60, 90, 120], [9.0, 9.2, 9.1, 9.2, 9.9, nan, 9.3])
    assert tidied.trace.seconds.tolist() == [0, 30, 60, 120]
    assert tidied.trace.pressures.tolist() == [9.0, 9.1, 9.2, 9.3]
    assert (tidied.not_numbers, tidied.out_of_order, tidied.repeated, tidied.conflicting) == (1, 1, 2, 1)
    assert tidied.trace.seconds.size + tidied.not_numbers + tidied.repeated == 7


def test_a_gap_is_named_with_its_start_and_length() -> None:
    tidied = tidy([0, 1, 2, 3, 600, 601, 602], [9.0] * 7)
    assert [(gap.start, gap.length) for gap in tidied.gaps] == [(3.0, 597.0)]


@pytest.mark.parametrize(
    ("seconds", "pressures", "words"),
    [
        ([], [], "0 moments"),
        ([5.0], [9.0], "1 moments"),
        ([5.0, 5.0], [9.0, 9.0], "1 moments"),
        ([0.0, 1.0], [nan, inf], "0 moments"),
        ([0.0, 1.0], [1e308, 1e300], "0 moments"),
        ([0.0, 1.0], [9.0], "2 times and 1 pressures"),
        ([[0.0, 1.0]], [[9.0, 9.0]], "not one column"),
    ],
)
def test_a_trace_without_two_moments_is_refused(seconds: list[float], pressures: list[float], words: str) -> None:
    with pytest.raises(BadTraceError, match=words):
        tidy(seconds, pressures)


@given(readings)
def test_order_of_arrival_does_not_matter(pairs: list[tuple[int, float]]) -> None:
    forwards = tidy([pair[0] for pair in pairs], [pair[1] for pair in pairs]).trace
    backwards = tidy([pair[0] for pair in pairs[::-1]], [pair[1] for pair in pairs[::-1]]).trace
    assert forwards.seconds.tolist() == backwards.seconds.tolist()
    assert forwards.pressures.tolist() == backwards.pressures.tolist()


@given(readings, st.integers(8, 60))
def test_thinning_keeps_peaks_ends_and_true_readings(pairs: list[tuple[int, float]], points: int) -> None:
    trace = tidy([pair[0] for pair in pairs], [pair[1] for pair in pairs]).trace
    thin = decimate(trace, points)
    assert thin.seconds.size <= max(points, 2)
    assert thin.pressures.max() == trace.pressures.max()
    assert thin.pressures.min() == trace.pressures.min()
    assert (thin.seconds[0], thin.seconds[-1]) == (trace.seconds[0], trace.seconds[-1])
    assert set(zip(thin.seconds, thin.pressures, strict=True)) <= set(zip(trace.seconds, trace.pressures, strict=True))
    assert (np.diff(thin.seconds) > 0).all()


def test_one_second_peak_in_six_days_survives_thinning() -> None:
    bars = np.full(500_000, 9.0)
    bars[123_456] = 14.2
    thin = decimate(Trace(np.arange(500_000.0), bars), 400)
    assert 123_456.0 in thin.seconds.tolist()
    assert thin.seconds.size <= 400


def test_half_a_million_readings_out_of_order_are_ordered_and_thinned() -> None:
    source = np.random.default_rng(7)
    seconds = source.permutation(500_000).astype(float)
    pressures = source.normal(9, 0.01, 500_000)
    thin = decimate(tidy(seconds, pressures).trace, 800)
    assert thin.seconds.size <= 800
    assert np.all(np.diff(thin.seconds) > 0)
    assert thin.pressures.max() == pressures.max()
    assert thin.pressures.min() == pressures.min()


def test_part_of_a_trace_includes_both_ends_and_needs_two_readings() -> None:
    trace = Trace(np.arange(10.0), np.arange(10.0))
    assert between(trace, 2, 5).seconds.tolist() == [2, 3, 4, 5]
    assert between(trace, 1.5, 4.5).seconds.tolist() == [2, 3, 4]
    with pytest.raises(BadTraceError, match="1 readings"):
        between(trace, 2, 2.5)
    with pytest.raises(BadTraceError, match="0 readings"):
        between(trace, 5, 2)


def test_gas_trace_of_a_tight_section_becomes_flat() -> None:
    """Gas law with both atmospheres: 150 mbar from 20 to 19 °C reads 146.03 mbar, trade check value, computed."""
    celsius, outside = np.array([20.0, 19.5, 19.0, 18.0]), np.array([1.01325, 1.012, 1.015, 1.010])
    shown = [
        gauge_after(0.150, 20, t, start_atmosphere=1.01325, end_atmosphere=pa)
        for t, pa in zip(celsius, outside, strict=True)
    ]
    corrected = gas_corrected(Trace(np.arange(4.0), np.array(shown)), celsius, outside)
    assert corrected.pressures == pytest.approx([0.150] * 4, abs=1e-12)
    steady = gas_corrected(Trace(np.arange(2.0), np.array([0.150, 0.14603])), [20.0, 19.0], 1.01325)
    assert steady.pressures == pytest.approx([0.150, 0.150], abs=1e-5)


@pytest.mark.parametrize(
    ("celsius", "outside", "words"),
    [
        ([20.0], 1.013, "to each pressure"),
        ([20.0, nan], 1.013, "absolute zero"),
        ([20.0, -273.15], 1.013, "absolute zero"),
        ([20.0, 20.0], nan, "vacuum"),
        ([20.0, 20.0], -1.0, "vacuum"),
        ([20.0, 20.0], [1.0, 1.0, 1.0], "to each pressure"),
    ],
)
def test_gas_correction_refuses_what_has_no_meaning(celsius: list[float], outside: float, words: str) -> None:
    with pytest.raises(BadTraceError, match=words):
        gas_corrected(Trace(np.arange(2.0), np.array([0.15, 0.15])), celsius, outside)


def test_too_few_points_for_a_curve_are_refused() -> None:
    with pytest.raises(BadTraceError, match="8 are the least"):
        decimate(Trace(np.arange(20.0), np.arange(20.0)), 7)
