"""Stages of a test found in its curve: known curves, so that what must be found is known."""

import numpy as np
import pytest

from witnessmark.engineering.trace import Trace
from witnessmark.engineering.trace_stages import held_stages
from witnessmark.engineering.trend import fit


def curve(points: list[tuple[float, float]], every: float, noise: float = 0.0) -> Trace:
    minutes, bars = zip(*points, strict=True)
    seconds = np.arange(0, minutes[-1] * 60 + 1, every)
    drawn = np.interp(seconds / 60, minutes, bars)
    return Trace(seconds, drawn + np.random.default_rng(3).normal(0, noise, seconds.size))


TWO_STAGES = [(0, 0), (5, 0), (8, 3), (20, 3), (24, 9), (90, 8.95), (92, 0), (100, 0)]


@pytest.mark.parametrize(("every", "noise"), [(1, 0), (1, 0.01), (10, 0.01), (60, 0.005)])
def test_leak_stage_and_strength_stage_are_found_with_their_times(every: float, noise: float) -> None:
    leak, strength = held_stages(curve(TWO_STAGES, every, noise))
    tolerance = 60 + every
    assert leak.start == pytest.approx(8 * 60, abs=tolerance)
    assert leak.end == pytest.approx(20 * 60, abs=tolerance)
    assert leak.level == pytest.approx(3, abs=0.02)
    assert strength.start == pytest.approx(24 * 60, abs=tolerance)
    assert strength.end == pytest.approx(90 * 60, abs=tolerance)
    assert strength.level == pytest.approx(8.975, abs=0.03)
    assert not leak.topped_up
    assert not strength.topped_up


def test_settling_is_told_from_the_hold() -> None:
    seconds = np.arange(0, 7201, 5.0)
    bars = 9 + 0.3 * np.exp(-seconds / 400)
    (stage,) = held_stages(Trace(seconds, bars))
    assert stage.start == 0
    # After 0.3 bar has fallen to about 1 mbar: 400 s x ln(300) = 2 280 s.
    assert 1200 < stage.settled < 3000


def test_a_top_up_is_seen_and_a_second_stage_is_not_called_one() -> None:
    topped = curve([(0, 9), (30, 8.6), (30.5, 9.1), (60, 8.7)], 5)
    assert [stage.topped_up for stage in held_stages(topped)] == [False, True]
    let_down = curve([(0, 9), (30, 9), (31, 0), (40, 0), (41, 9.1), (70, 9.1)], 5)
    assert [stage.topped_up for stage in held_stages(let_down)] == [False, False]


def test_a_trace_without_pressure_has_no_stages() -> None:
    assert held_stages(Trace(np.arange(600.0), np.zeros(600))) == ()
    assert held_stages(Trace(np.arange(600.0), np.full(600, -0.2))) == ()
    assert held_stages(Trace(np.array([0.0, 1.0]), np.array([9.0, 9.0]))) == ()


def test_a_pressure_that_never_rests_has_no_stages() -> None:
    assert held_stages(curve([(0, 0), (60, 16)], 5)) == ()


def test_times_may_begin_anywhere() -> None:
    trace = curve(TWO_STAGES, 5)
    late = held_stages(Trace(trace.seconds + 1.8e9, trace.pressures))
    assert [stage.start - 1.8e9 for stage in late] == [stage.start for stage in held_stages(trace)]


def test_six_days_at_one_second_are_one_hold() -> None:
    days = [(0, 0), (60, 9.1), (8300, 8.9), (8305, 0), (8333, 0)]
    trace = curve(days, 1, 0.005)
    assert trace.seconds.size > 499_000
    stages = held_stages(trace)
    trend = fit(trace, resolution=0.01)
    assert len(stages) == 1
    assert stages[0].end - stages[0].start == pytest.approx(8240 * 60, rel=0.01)
    assert trend.hours == pytest.approx(8333 / 60, rel=1e-3)
