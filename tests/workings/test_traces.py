"""What the trace of a logger shows of a test, beside what its certificate says."""

import datetime
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from witnessmark.model.finding import Outcome
from witnessmark.model.project import Project
from witnessmark.model.trace import Trace
from witnessmark.workings.traces import StageTrace
from witnessmark.workings.work import work

MakeProject = Callable[..., Project]
START = datetime.datetime(2026, 3, 2, 9, 20, tzinfo=datetime.UTC)
"""Forty minutes before the hold that the certificate gives."""


def curve(level: float = 13.0, fall_per_hour: float = 0.0) -> Any:
    """Pumped up in 5 min, settling by 0.2 bar, then held to 11:05; a reading every 10 s."""
    seconds = np.arange(0, 105 * 60, 10.0)
    minutes = seconds / 60
    bars = np.minimum(minutes / 5, 1.0) * (level + 0.2 * np.exp(-np.maximum(minutes - 5, 0) / 5))
    return seconds, bars - np.maximum(minutes - 40, 0) / 60 * fall_per_hour


def traced(make_riser: MakeProject, seconds: Any, bars: Any, started: Any = START, **tests: Any) -> StageTrace:
    trace = Trace("D-1", "PT-1.csv", started, np.asarray(seconds, float), np.asarray(bars, float), None)
    project = make_riser(traces=(trace,), tests={"document_id": "D-1"} | tests)
    (found,) = work(project).traces.values()
    return found


def test_a_trace_that_agrees(make_riser: MakeProject) -> None:
    found = traced(make_riser, *curve())
    assert found.outcome is Outcome.PASS, found.sentence
    assert found.hold is not None
    assert found.start_bar.value == pytest.approx(13.0, abs=0.02)
    assert found.hold.hold_min > 58
    assert len(found.curve) <= 360
    assert max(point.pressure_bar for point in found.curve) == pytest.approx(13.2, abs=0.02)


def test_a_slow_fall_has_its_slope_with_a_range(make_riser: MakeProject) -> None:
    found = traced(make_riser, *curve(fall_per_hour=0.3), end_pressure_bar=12.7)
    assert found.slope_bar_per_h.value == pytest.approx(-0.3, abs=0.02)
    assert found.slope_half_width is not None
    assert found.outcome is Outcome.PASS, found.sentence


@pytest.mark.parametrize(
    "tests", [{"end_pressure_bar": 12.0}, {"start_pressure_bar": 14.0}, {"date": datetime.date(2026, 3, 9)}]
)
def test_a_certificate_that_says_something_else_fails(make_riser: MakeProject, tests: dict[str, Any]) -> None:
    assert traced(make_riser, *curve(), **tests).outcome is Outcome.FAIL


def test_a_hold_cut_short_fails(make_riser: MakeProject) -> None:
    seconds, bars = curve()
    bars = np.where(seconds > 60 * 60, 0.0, bars)
    found = traced(make_riser, seconds, bars)
    assert found.outcome is Outcome.FAIL
    assert "hold" in found.sentence


@pytest.mark.parametrize(("seconds", "bars"), [([0.0], [9.0]), ([0.0, 1.0], [np.nan, np.nan]), ([], [])])
def test_a_trace_that_is_none_cannot_tell(make_riser: MakeProject, seconds: list[float], bars: list[float]) -> None:
    found = traced(make_riser, seconds, bars)
    assert found.outcome is Outcome.CANNOT_TELL
    assert found.start_bar.value is None
    assert found.sentence.endswith(".")
