"""Stages of a pressure test found in the curve of its trace: when it rose, settled, was held, and was topped up."""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from witnessmark.engineering.inputs import positive
from witnessmark.engineering.trace import FloatArray, Trace, between

_BINS = 20_000  # a bin of 26 s in six days: a hold of ten minutes is still some twenty bins
_LEAST_SHARE_OF_PEAK = 0.02  # below this the section counts as without pressure


class HeldStage(NamedTuple):
    """A stretch at steady pressure.

    start, settled, end : float  [s]: pressure reached, settling over, stretch over; level : float  mean after settling,
    [bar g]; topped_up : bool  pumped up a little just before, without having been let down.
    """

    start: float
    settled: float
    end: float
    level: float
    topped_up: bool


def held_stages(
    trace: Trace, *, least_minutes: float = 2.0, quiet_share_per_minute: float = 0.01, top_up_share: float = 0.15
) -> tuple[HeldStage, ...]:
    """Return the stretches at steady pressure, in order of time.

    Parameters: least_minutes : shortest stretch, [min]; quiet_share_per_minute : steady means that the pressure moves
    by less than this share of the highest pressure in a minute; top_up_share : a rise of no more than this share of the
    level, from one stretch to the next, is a top-up and not the next stage.
    """
    seconds, bars = _binned(trace)
    peak = float(bars.max())
    if peak <= 0:
        return ()
    quiet = _quiet(seconds, bars, peak * positive("steadiness", quiet_share_per_minute, "1/min"))
    quiet &= bars > peak * _LEAST_SHARE_OF_PEAK
    shortest = positive("shortest stage", least_minutes, "min") * 60
    found: list[HeldStage] = []
    last_end: float | None = None
    for first, last in _runs(quiet):
        if seconds[last] - seconds[first] < shortest:
            continue
        part = between(trace, float(seconds[first]), float(seconds[last]))
        settled = _settled(seconds[first : last + 1], bars[first : last + 1])
        rest = bars[first : last + 1][seconds[first : last + 1] >= settled]
        level = float(rest.mean())
        topped_up = False
        if found and last_end is not None:
            rise = float(bars[first]) - last_end
            lowest_between = float(between(trace, found[-1].end, float(seconds[first])).pressures.min())
            not_let_down = lowest_between > 0.5 * last_end
            topped_up = not_let_down and 0 < rise <= positive("share of a top-up", top_up_share, "") * level
        found.append(HeldStage(float(part.seconds[0]), settled, float(part.seconds[-1]), level, topped_up))
        last_end = float(bars[last])
    return tuple(found)


def _binned(trace: Trace) -> tuple[FloatArray, FloatArray]:
    size = trace.seconds.size
    if size <= _BINS:
        return trace.seconds, trace.pressures
    edges = np.linspace(trace.seconds[0], trace.seconds[-1], _BINS + 1)
    starts = np.unique(np.searchsorted(trace.seconds, edges[:-1]))
    counts = np.diff(np.append(starts, size))
    seconds = np.add.reduceat(trace.seconds - trace.seconds[0], starts) / counts + trace.seconds[0]
    bars = np.add.reduceat(trace.pressures, starts) / counts
    return seconds, bars


def _quiet(seconds: FloatArray, bars: FloatArray, bar_per_minute: float) -> NDArray[np.bool_]:
    """Whether the pressure half a minute before and after each moment, or at the neighbours, hardly differs."""
    reach = 30.0
    before = np.minimum(np.searchsorted(seconds, seconds - reach), np.maximum(np.arange(seconds.size) - 1, 0))
    after = np.maximum(
        np.searchsorted(seconds, seconds + reach, side="right") - 1,
        np.minimum(np.arange(seconds.size) + 1, seconds.size - 1),
    )
    minutes = (seconds[after] - seconds[before]) / 60
    return np.asarray(np.abs(bars[after] - bars[before]) <= bar_per_minute * np.maximum(minutes, 1e-9))


def _runs(flags: NDArray[np.bool_]) -> list[tuple[int, int]]:
    edges = np.diff(np.concatenate(([False], flags, [False])).astype(np.int8))
    firsts, lasts = np.flatnonzero(edges == 1), np.flatnonzero(edges == -1) - 1
    return [(int(first), int(last)) for first, last in zip(firsts, lasts, strict=True)]


def _settled(seconds: FloatArray, bars: FloatArray) -> float:
    """Return the moment from which the stretch follows the straight line of its second half."""
    late = seconds >= (seconds[0] + seconds[-1]) / 2
    if np.count_nonzero(late) < 3:
        return float(seconds[0])
    middle = seconds[late].mean()
    away = seconds - middle
    level = bars[late].mean()
    slope = float(away[late] @ (bars[late] - level)) / float(away[late] @ away[late])
    off = np.abs(bars - level - slope * away)
    noise = max(4 * float(np.sqrt(np.mean(off[late] ** 2))), 1e-4 * abs(float(level)))
    # One stray reading among thousands is noise; settling is off the line for several readings on end.
    on_end = min(5, off.size)
    steadily_off = (
        np.lib.stride_tricks.sliding_window_view(off > noise, on_end).all(axis=1) & ~late[: off.size - on_end + 1]
    )
    outside = np.flatnonzero(steadily_off)
    return float(seconds[outside[-1] + on_end - 1]) if outside.size else float(seconds[0])
