"""The trace of a logger as a page shows it: the curve on the building's clock, and the certificate beside it."""

import datetime
from collections.abc import Iterable
from dataclasses import dataclass
from typing import NamedTuple

from witnessmark.pages.axis import Axis, Tick, place, round_ends, ticks_of
from witnessmark.pages.context import Context
from witnessmark.pages.document_shelf import allowed
from witnessmark.pages.figure import display_figure
from witnessmark.pages.finding_view import state_of
from witnessmark.pages.rating_view import Answer
from witnessmark.pages.table import NONE, NUMBER, Cell, Column, Row, TableView
from witnessmark.pages.words import counted, date_words, sentence_start
from witnessmark.pages.working import WorkingView, working_view
from witnessmark.workings.traces import StageTrace, TraceStage

LEFT, RIGHT, TOP, BOTTOM = 34.0, 342.0, 24.0, 196.0
TIME_STEPS = (1, 2, 5, 10, 15, 30, 60, 120, 180, 360, 720, 1440, 2880, 7200, 14400, 43200)
MOST_TICKS = 6
SHORT = 30.0
"""Width below which a band has no room for its words."""


class Band(NamedTuple):
    """A stretch of the curve: where it stands, its words ('' where it is too narrow), and whether it is the hold."""

    start: str
    width: str
    middle: str
    words: str
    hold: bool


@dataclass(frozen=True, slots=True)
class TraceCurve:
    """The drawing, in units of its own."""

    title: str
    description: str
    x_ticks: tuple[Tick, ...]
    y_ticks: tuple[Tick, ...]
    x_words: str
    bands: tuple[Band, ...]
    path: str


@dataclass(frozen=True, slots=True)
class TraceView:
    """A trace: the answer, the curve, what stood steady, and the certificate's figures beside it."""

    answer: Answer
    curve: TraceCurve | None
    found: TableView
    compared: TableView
    figures: tuple[WorkingView, ...]
    remarks: tuple[str, ...]


def _clock(started: datetime.datetime, minutes: float) -> datetime.datetime:
    """The building's clock so many minutes on, over a change of clocks too."""
    moment = started.astimezone(datetime.UTC) + datetime.timedelta(minutes=minutes)
    return moment.astimezone(started.tzinfo)


def _time_words(started: datetime.datetime | None, minutes: float) -> str:
    return f"{_clock(started, minutes):%H:%M}" if started is not None else f"{minutes:.0f} min"


def _time_ticks(axis: Axis, started: datetime.datetime | None) -> tuple[Tick, ...]:
    span = axis.high - axis.low
    step = next((each for each in TIME_STEPS if span / each <= MOST_TICKS), TIME_STEPS[-1])
    first = 0.0
    if started is not None:
        past = started.hour * 60 + started.minute + started.second / 60
        first = -past % step
    found = []
    minutes = first
    while minutes <= axis.high:
        day = started is not None and step >= TIME_STEPS[-5] * 2
        words = f"{_clock(started, minutes):%d.%m.}" if day and started else _time_words(started, minutes)
        found.append(Tick(place(axis.at(minutes)), words.removesuffix(" min")))
        minutes += step
    return tuple(found)


def _bands(trace: StageTrace, axis: Axis) -> Iterable[Band]:
    for stage in trace.stages:
        start, end = axis.at(stage.reached_min), axis.at(stage.ended_min)
        hold = stage == trace.hold
        words = "" if end - start < SHORT else "hold" if hold else "steady"
        yield Band(place(start), place(end - start), place((start + end) / 2), words, hold)


def trace_curve(trace: StageTrace) -> TraceCurve | None:
    """The drawing; ``None`` where there is no curve."""
    if len(trace.curve) < 2:
        return None
    started = trace.trace.started_at
    last = max(trace.curve[-1].minutes, 1e-3)
    bars = [point.pressure_bar for point in trace.curve]
    low, high = round_ends(min(0.0, *bars), max(bars) if max(bars) > 0 else 1.0, 4)
    x, y = Axis(0.0, last, LEFT, RIGHT), Axis(low, high, BOTTOM, TOP)
    path = "M" + "L".join(f"{place(x.at(p.minutes))} {place(y.at(p.pressure_bar))}" for p in trace.curve)
    begins = f"from {date_words(started.date())}, {started:%H:%M}" if started is not None else "since the first reading"
    return TraceCurve(
        title="Pressure by the logger",
        description=(
            f"{counted(trace.trace.readings, 'reading')} over {_span_words(last)}, {begins}; lowest "
            f"{display_figure(min(bars), 'bar')}, highest {display_figure(max(bars), 'bar')}. "
            "The tables beside it hold what was found in it."
        ),
        x_ticks=_time_ticks(x, started),
        y_ticks=ticks_of(y, 4),
        x_words=f"Clock of the building, {begins}" if started is not None else "Minutes since the first reading",
        bands=tuple(_bands(trace, x)),
        path=path,
    )


def _span_words(minutes: float) -> str:
    return f"{minutes:.0f} min" if minutes < 180 else f"{minutes / 60:.1f} h"


def _found(trace: StageTrace) -> TableView:
    started = trace.trace.started_at

    def row(stage: TraceStage) -> Row:
        return Row(
            "",
            (
                Cell("the hold of this stage" if stage == trace.hold else "another steady stretch"),
                Cell(_time_words(started, stage.reached_min)),
                Cell(_time_words(started, stage.ended_min)),
                Cell(display_figure(stage.level_bar, "bar"), mark=NUMBER),
                Cell(display_figure(stage.settle_min, "min"), mark=NUMBER),
                Cell(display_figure(stage.hold_min, "min"), mark=NUMBER),
                Cell("yes" if stage.topped_up else "no"),
            ),
        )

    columns = (Column("What"), Column("From"), Column("To"), Column("Level", True), Column("Settled", True),
               Column("Held", True), Column("Pressure added"))  # fmt: skip
    rows = tuple(row(stage) for stage in trace.stages)
    return TableView("Steady stretches that the curve shows", columns, rows, "The curve shows no steady stretch.")


def _figure_cell(value: float | None, unit: str) -> Cell:
    return Cell("none given", mark=NONE) if value is None else Cell(display_figure(value, unit), mark=NUMBER)


def _compared(trace: StageTrace, context: Context) -> TableView:
    columns = (Column("Figure"), Column("Certificate", True), Column("Trace", True), Column("Answer"), Column("Words"))
    rows = tuple(
        Row(
            "",
            (
                Cell(sentence_start(each.what)),
                _figure_cell(each.typed, each.unit),
                _figure_cell(each.traced, each.unit),
                Cell(each.outcome.value),
                Cell(context.words(each.sentence)),
            ),
        )
        for each in trace.comparisons
    )
    return TableView("The certificate beside the trace", columns, rows, "There is nothing to compare.")


def trace_view(context: Context, trace: StageTrace) -> TraceView | None:
    """The trace through an edition; ``None`` where the edition does not carry the logger's file."""
    documents = context.outcome.project.records.documents
    document = next((each for each in documents if each.document_id == trace.trace.document_id), None)
    if document is None or not allowed(document, context.edition):
        return None

    def words_of(text: str) -> str:
        return context.words(text if context.audit else text.replace(f" {trace.trace.file}", ""))

    figures = (trace.start_bar, trace.end_bar, trace.slope_bar_per_h, trace.corrected_drop_bar)
    return TraceView(
        answer=Answer(state_of(trace.outcome), words_of(trace.sentence)),
        curve=trace_curve(trace),
        found=_found(trace),
        compared=_compared(trace, context),
        figures=tuple(
            working_view(each, context.edition, words_of=words_of, with_inputs=context.audit)
            for each in figures
            if each.known
        ),
        remarks=tuple(words_of(each) for each in trace.remarks),
    )
