"""Axes of charts: where the ticks stand and what they say."""

import math
from dataclasses import dataclass
from typing import NamedTuple

STEPS = (1.0, 2.0, 2.5, 5.0, 10.0)


class Tick(NamedTuple):
    """A tick: its place on the drawing and its words."""

    place: str
    words: str


@dataclass(frozen=True, slots=True)
class Axis:
    """A straight axis from ``low`` at ``start`` to ``high`` at ``end``, in units of the drawing."""

    low: float
    high: float
    start: float
    end: float

    def at(self, value: float) -> float:
        """Where a value stands; values beyond the ends stand beyond the drawing."""
        return self.start + (value - self.low) / (self.high - self.low) * (self.end - self.start)

    def inside(self, value: float) -> bool:
        """Whether the value stands between the ends."""
        return self.low - 1e-9 <= value <= self.high + 1e-9


def place(value: float) -> str:
    """A length of a drawing as text: tenths are finer than any screen shows, and keep pages small."""
    text = f"{value:.1f}".removesuffix(".0")
    return "0" if text == "-0" else text


def step_of(span: float, ticks: int) -> float:
    """A round step that gives about so many ticks over a span above zero."""
    rough = span / ticks
    power = 10.0 ** math.floor(math.log10(rough))
    return next(step * power for step in STEPS if step * power >= rough * (1 - 1e-9))


def round_ends(low: float, high: float, ticks: int) -> tuple[float, float]:
    """Ends on whole steps around the values; a single value gets some room."""
    if high - low < 1e-9:
        low, high = low - 0.5 * max(1.0, abs(low)), high + 0.5 * max(1.0, abs(high))
    step = step_of(high - low, ticks)
    return math.floor(low / step + 1e-9) * step, math.ceil(high / step - 1e-9) * step


def ticks_of(axis: Axis, ticks: int) -> tuple[Tick, ...]:
    """Ticks at round values."""
    step = step_of(axis.high - axis.low, ticks)
    first, last = math.ceil(axis.low / step - 1e-9), math.floor(axis.high / step + 1e-9)
    places = max(0, -math.floor(math.log10(step) + 1e-9)) + (1 if f"{step:e}".startswith("2.5") and step < 10 else 0)
    return tuple(
        Tick(place(axis.at(n * step)), f"{n * step:.{places}f}".replace("-", "\u2212")) for n in range(first, last + 1)
    )
