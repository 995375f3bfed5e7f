"""A pressure trace of a logger, on plain arrays: put in order, corrected for temperature, thinned for a curve.

Times are seconds from any moment, pressures bar gauge. Reading files, clocks, units and time zones is done elsewhere.
"""

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from witnessmark.engineering.errors import BadTraceError
from witnessmark.engineering.inputs import ABSOLUTE_ZERO, LARGEST, positive

FloatArray = NDArray[np.float64]


class Trace(NamedTuple):
    """seconds : (n,) rising, [s];  pressures : (n,) [bar g]; n at least 2, all finite."""

    seconds: FloatArray
    pressures: FloatArray


class Gap(NamedTuple):
    """A stretch without readings: start, [s]; length, [s]."""

    start: float
    length: float


class Tidied(NamedTuple):
    """A trace in order, and what was set aside: readings that are no numbers, were repeated, or contradict another.

    Of several readings at one moment the first is kept; `conflicting` counts those that differ from it.
    """

    trace: Trace
    not_numbers: int
    out_of_order: int
    repeated: int
    conflicting: int
    gaps: tuple[Gap, ...]


def tidy(seconds: ArrayLike, pressures: ArrayLike, *, gap_factor: float = 5.0) -> Tidied:
    """Return a trace in order of time, and what had to be set aside.

    Parameters: seconds, pressures : (n,), [s] and [bar g]; gap_factor : a gap is an interval this many times the
    median. Raises BadTraceError for shapes that differ and for fewer than two moments with a reading.
    """
    times, bars = _column("times", seconds), _column("pressures", pressures)
    if times.shape != bars.shape:
        raise BadTraceError(f"it has {times.size} times and {bars.size} pressures")
    usable = np.isfinite(times) & np.isfinite(bars) & (np.abs(times) <= LARGEST) & (np.abs(bars) <= LARGEST)
    times, bars = times[usable], bars[usable]
    out_of_order = int(np.count_nonzero(np.diff(times) < 0))
    if out_of_order:
        order = np.argsort(times, kind="stable")
        times, bars = times[order], bars[order]
    first = np.ones(times.size, dtype=bool)
    first[1:] = np.diff(times) > 0
    kept = bars[first]
    conflicting = int(np.count_nonzero(bars != kept[np.cumsum(first) - 1])) if kept.size else 0
    repeated = times.size - kept.size
    times = times[first]
    if times.size < 2:
        raise BadTraceError(f"it has {times.size} moments with a reading, and two are the least")
    steps = np.diff(times)
    wide = np.flatnonzero(steps > positive("gap factor", gap_factor, "") * np.median(steps))
    gaps = tuple(Gap(float(times[index]), float(steps[index])) for index in wide)
    return Tidied(Trace(times, kept), int(usable.size - usable.sum()), out_of_order, repeated, conflicting, gaps)


def between(trace: Trace, start: float, end: float) -> Trace:
    """Return the part of a trace from one moment to another, both included, [s].

    Raises BadTraceError where fewer than two readings are left.
    """
    low, high = np.searchsorted(trace.seconds, [start, end], side="left")
    high += int(high < trace.seconds.size and trace.seconds[high] == end)
    if high - low < 2:
        raise BadTraceError(
            f"it has {max(0, high - low)} readings from {start:g} s to {end:g} s, and two are the least"
        )
    return Trace(trace.seconds[low:high], trace.pressures[low:high])


def gas_corrected(trace: Trace, temperatures: ArrayLike, atmospheres: ArrayLike) -> Trace:
    """Return the trace a gas would have shown at its first temperature and atmosphere, so that a drop left is a leak.

    Parameters: temperatures : (n,) of the gas, [°C]; atmospheres : (n,) or one figure, absolute, [bar]. Ideal gas,
    constant volume (see `gas_law`). Raises BadTraceError for shapes that differ, 0 K and a vacuum.
    """
    celsius, outside = _column("temperatures", temperatures), np.asarray(atmospheres, dtype=np.float64)
    if celsius.shape != trace.seconds.shape or outside.shape not in ((), trace.seconds.shape):
        raise BadTraceError("it has not one temperature, and one barometer reading or one for all, to each pressure")
    if not (np.isfinite(celsius).all() and (celsius > ABSOLUTE_ZERO).all()):
        raise BadTraceError("a temperature is missing, or at or below absolute zero")
    inside = trace.pressures + outside
    if not (np.isfinite(inside).all() and (outside > 0).all() and (inside > 0).all()):
        raise BadTraceError("an absolute pressure is missing, or at or below a perfect vacuum")
    kelvin = celsius - ABSOLUTE_ZERO
    return Trace(trace.seconds, inside * kelvin[0] / kelvin - np.broadcast_to(outside, celsius.shape)[0])


def decimate(trace: Trace, points: int) -> Trace:
    """Return no more than so many readings, the first, last, lowest and highest of each stretch of time among them.

    What is left is readings as taken, in order: every peak and trough survives. Parameter: points, 8 or more.
    """
    if points < 8:
        raise BadTraceError(f"it cannot be drawn with {points} points, and 8 are the least")
    size = trace.seconds.size
    if size <= points:
        return trace
    start, end = trace.seconds[0], trace.seconds[-1]
    count = points // 4
    edges = np.searchsorted(trace.seconds, start + (end - start) * np.arange(count) / count)
    edges = np.unique(edges[edges < size])
    lows = np.minimum.reduceat(trace.pressures, edges)
    highs = np.maximum.reduceat(trace.pressures, edges)
    bucket = np.zeros(size, dtype=np.intp)
    bucket[edges[1:]] = 1
    bucket = np.cumsum(bucket)
    keep = np.union1d(edges, np.append(edges[1:] - 1, size - 1))
    for extremes in (lows, highs):
        hits = np.flatnonzero(trace.pressures == extremes[bucket])
        keep = np.union1d(keep, hits[np.unique(bucket[hits], return_index=True)[1]])
    return Trace(trace.seconds[keep], trace.pressures[keep])


def _column(name: str, values: ArrayLike) -> FloatArray:
    column = np.asarray(values, dtype=np.float64)
    if column.ndim != 1:
        raise BadTraceError(f"its {name} are not one column")
    return column
