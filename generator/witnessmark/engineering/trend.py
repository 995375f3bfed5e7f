"""The slope of a pressure over time, with the range it may lie in.

Ordinary least squares. Readings of a logger follow one another, so the usual formula would claim too much: the number
of independent readings is cut to n (1 - r)/(1 + r) with r the correlation of neighbouring residuals (G. V. Bayley and
J. M. Hammersley, 1946; from memory). The spread is taken as no less than a gauge of that resolution must have.
"""

from math import inf, sqrt
from typing import NamedTuple

import numpy as np

from witnessmark.engineering.errors import BadTraceError
from witnessmark.engineering.inputs import not_negative
from witnessmark.engineering.trace import Trace

# Student's t, two-sided 95 %, for 1 to 30 degrees of freedom; any statistical table, published.
_STUDENT = (
    *(12.706, 4.303, 3.182, 2.776, 2.571, 2.447, 2.365, 2.306, 2.262, 2.228),
    *(2.201, 2.179, 2.160, 2.145, 2.131, 2.120, 2.110, 2.101, 2.093, 2.086),
    *(2.080, 2.074, 2.069, 2.064, 2.060, 2.056, 2.052, 2.048, 2.045, 2.042),
)
_NORMAL = 1.960


class Trend(NamedTuple):
    """A straight line through a trace.

    slope : float  [bar/h], negative for a fall; half_width : float  of its 95 % range, [bar/h], infinite where the
    readings do not tell; start, end : float  of the line, [bar g]; hours : float  [h]; independent : float  readings
    worth counting.
    """

    slope: float
    half_width: float
    start: float
    end: float
    hours: float
    independent: float

    @property
    def falls(self) -> bool:
        """Whether the whole 95 % range lies below zero."""
        return self.slope + self.half_width < 0


def fit(trace: Trace, *, resolution: float) -> Trend:
    """Return the line through a trace and the 95 % range of its slope.

    Parameters: trace, two readings or more; resolution : float  smallest step of the gauge, [bar], 0 if finer than
    matters.
    """
    step = not_negative("resolution", resolution, "bar")
    hours = (trace.seconds - trace.seconds[0]) / 3600
    if hours.size < 2 or hours[-1] <= 0:
        raise BadTraceError("a slope needs two moments")
    centred = hours - hours.mean()
    spread = float(centred @ centred)
    slope = float(centred @ trace.pressures) / spread
    level = float(trace.pressures.mean())
    residuals = trace.pressures - level - slope * centred
    squares = float(residuals @ residuals)
    correlation = 0.0
    # Residuals of a perfect line are rounding noise, whose correlation means nothing.
    if squares > hours.size * (1e-12 * max(1.0, abs(level))) ** 2:
        correlation = float(np.clip(residuals[1:] @ residuals[:-1] / squares, 0.0, 0.9999))
    independent = hours.size * (1 - correlation) / (1 + correlation)
    half_width = inf
    if hours.size > 2 and independent > 2:
        variance = max(squares / hours.size * independent / (independent - 2), step * step / 12)
        half_width = student(independent - 2) * sqrt(variance * hours.size / independent / spread)
    start = level + slope * float(centred[0])
    return Trend(slope, half_width, start, start + slope * float(hours[-1]), float(hours[-1]), independent)


def student(degrees: float) -> float:
    """Return Student's t, two-sided 95 %, for degrees of freedom above 0, rounded up between tabulated values."""
    whole = max(1, int(degrees))
    return _STUDENT[whole - 1] if whole <= len(_STUDENT) else _NORMAL * (1 + 1.3 / whole)
