"""What a test could have shown as a bar: the smallest leak by the record against the leak of one unpressed joint."""

import math
from dataclasses import dataclass

from witnessmark.pages.axis import Axis, Tick, place
from witnessmark.pages.context import Context
from witnessmark.pages.figure import NO_BREAK, as_recorded
from witnessmark.pages.finding_view import state_of
from witnessmark.pages.rating_view import Answer
from witnessmark.pages.working import WorkingView, working_view
from witnessmark.workings.test_sensitivity import TestSensitivity

LEFT, RIGHT = 20.0, 336.0
LEAST_WIDTH = 5.0
GAS_CAPTION = "The mark is the smallest leak that the gauge could have shown."
WATER_CAPTION = "The bar is the smallest leak that the gauge could have shown, from well vented to much trapped air."


@dataclass(frozen=True, slots=True)
class LeakBar:
    """The drawing, in units of its own: a bar on a scale of powers of ten, and the line of the leak asked for."""

    title: str
    description: str
    ticks: tuple[Tick, ...]
    start: str
    width: str
    asked: str
    asked_words: str
    asked_anchor: str
    words: str
    words_at: str
    words_anchor: str
    caption: str


@dataclass(frozen=True, slots=True)
class SensitivityView:
    """The answer in words, the bar where there are figures, and what alone would have made the test able."""

    answer: Answer
    bar: LeakBar | None
    figures: tuple[WorkingView, ...]
    remedies: tuple[str, ...]


def leak_words(value: float) -> str:
    """Two digits that mean something: '0.18 mL/min'."""
    digits = max(0, 1 - math.floor(math.log10(value))) if value > 0 else 0
    return f"{value:,.{digits}f}{NO_BREAK}mL/min"


def _ticks(axis: Axis) -> tuple[Tick, ...]:
    powers = range(round(axis.low), round(axis.high) + 1)
    every = 1 if len(powers) <= 6 else 2 if len(powers) <= 12 else 4
    return tuple(
        Tick(place(axis.at(n)), f"{10.0**n:.0f}" if 0 <= n < 4 else f"{10.0**n:.{-n}f}" if -4 < n < 0 else f"1e{n}")
        for n in powers
        if (n - powers[0]) % every == 0
    )


def leak_bar(sensitivity: TestSensitivity) -> LeakBar | None:
    """The drawing; ``None`` where there is no figure to draw."""
    low, high = sensitivity.smallest_leak_vented.value, sensitivity.smallest_leak_with_air.value
    asked = sensitivity.reference_leak.value
    if low is None or high is None or asked is None or min(low, high, asked) <= 0:
        return None
    low, high = min(low, high), max(low, high)
    ends = [math.log10(each) for each in (low, high, asked)]
    axis = Axis(math.floor(min(ends) - 0.1), math.ceil(max(ends) + 0.1), LEFT, RIGHT)
    start, end = axis.at(ends[0]), axis.at(ends[1])
    if end - start < LEAST_WIDTH:
        start, end = (start + end - LEAST_WIDTH) / 2, (start + end + LEAST_WIDTH) / 2
    line = axis.at(ends[2])
    gas = sensitivity.air_share_high == 0
    span = leak_words(high) if gas else f"{leak_words(low)} to {leak_words(high)}"
    figure = as_recorded(asked, "mL/min")
    asked_words = f"asked for: {figure} of gas" if gas else f"one drop a second, {figure}"
    middle = (start + end) / 2
    at_left = middle < (LEFT + RIGHT) / 2
    return LeakBar(
        title="Smallest leak that this stage could have shown",
        description=(
            f"The bar stands at {span}, on a scale of powers of ten; the line marks {asked_words}. "
            "A bar to the right of the line: the gauge alone would have missed such a leak."
        ),
        ticks=_ticks(axis),
        start=place(start),
        width=place(end - start),
        asked=place(line),
        asked_words=asked_words,
        asked_anchor="end" if line > (LEFT + RIGHT) / 2 else "start",
        words=span,
        words_at=place(start if at_left else end),
        words_anchor="start" if at_left else "end",
        caption=GAS_CAPTION if gas else WATER_CAPTION,
    )


def sensitivity_view(context: Context, sensitivity: TestSensitivity, *, with_inputs: bool) -> SensitivityView:
    """Through an edition; ``with_inputs`` is false where a figure behind it is of a column that it may not show."""
    figures = dict.fromkeys((sensitivity.smallest_leak_vented, sensitivity.smallest_leak_with_air))
    return SensitivityView(
        Answer(state_of(sensitivity.outcome), context.words(sensitivity.sentence)),
        leak_bar(sensitivity),
        tuple(
            working_view(each, context.edition, words_of=context.words, with_inputs=with_inputs)
            for each in figures
            if each.known
        ),
        tuple(context.words(remedy.sentence) for remedy in sensitivity.remedies),
    )
