"""What the trace of a logger shows of a test stage: its hold by the curve, its slope, and what the certificate says."""

import datetime
from dataclasses import dataclass

import numpy as np

from witnessmark.engineering import trace as engineering
from witnessmark.engineering.errors import EngineeringError
from witnessmark.engineering.inputs import STANDARD_ATMOSPHERE
from witnessmark.engineering.trace_stages import HeldStage, held_stages
from witnessmark.engineering.trend import fit
from witnessmark.model.finding import Outcome
from witnessmark.model.project import Project
from witnessmark.model.quantity import Input, Worked
from witnessmark.model.records import Instrument, TestStage
from witnessmark.model.trace import Trace
from witnessmark.workings.calculation import spoken, unknown, written
from witnessmark.workings.formulas import BY_ID
from witnessmark.workings.hold_time import moment
from witnessmark.workings.test_gauge import error_of

CURVE_POINTS = 360
"""Few enough that a curve stays under 20 kB."""
_GASES = frozenset({"air", "nitrogen"})
_MINUTES_APART = 2.0
_LEAST_STEP = 0.02


@dataclass(frozen=True, slots=True)
class CurvePoint:
    """A reading of the curve: minutes since the first reading, bar gauge."""

    minutes: float
    pressure_bar: float


@dataclass(frozen=True, slots=True)
class TraceStage:
    """A stretch at steady pressure that the curve shows. Minutes since the first reading, bar gauge."""

    reached_min: float
    settled_min: float
    ended_min: float
    level_bar: float
    topped_up: bool

    @property
    def settle_min(self) -> float:
        """How long it settled."""
        return self.settled_min - self.reached_min

    @property
    def hold_min(self) -> float:
        """How long it was steady after settling."""
        return self.ended_min - self.settled_min


@dataclass(frozen=True, slots=True)
class Comparison:
    """A figure of the certificate beside what the trace shows."""

    what: str
    typed: float | None
    traced: float | None
    unit: str
    outcome: Outcome
    sentence: str


@dataclass(frozen=True, slots=True)
class StageTrace:
    """The trace of one test stage."""

    stage: TestStage
    trace: Trace
    stages: tuple[TraceStage, ...]
    """Every steady stretch of the trace."""
    hold: TraceStage | None
    """The one that belongs to the stage."""
    start_bar: Worked
    end_bar: Worked
    slope_bar_per_h: Worked
    slope_half_width: float | None
    corrected_drop_bar: Worked
    """Start less end of the hold; of a gas with logged temperature, after correction."""
    comparisons: tuple[Comparison, ...]
    curve: tuple[CurvePoint, ...]
    remarks: tuple[str, ...]
    outcome: Outcome
    sentence: str


class TraceWork:
    """Works traces out; a trace that several stages name is put in order once."""

    def __init__(self, project: Project) -> None:
        self._traces = {trace.document_id: trace for trace in project.traces}
        self._zone = project.settings.time_zone
        self._instruments = project.instruments
        self._tidied: dict[str, _Tidied | str] = {}

    def of(self, stage: TestStage) -> StageTrace | None:
        """What the trace of a stage shows; ``None`` where it names none that could be read."""
        trace = self._traces.get(stage.document_id or "")
        if trace is None or stage.stage == "visual":
            return None
        if trace.document_id not in self._tidied:
            self._tidied[trace.document_id] = _tidied(trace)
        tidied = self._tidied[trace.document_id]
        if isinstance(tidied, str):
            missing = (f"a usable trace: {tidied}",)
            none = [unknown(name, "trace-trend", missing) for name in ("Start", "End", "Slope", "Drop")]
            sentence = f"The trace {trace.file} cannot be used: {tidied}"
            return StageTrace(stage, trace, (), None, none[0], none[1], none[2], None, none[3], (), (), (),
                              Outcome.CANNOT_TELL, sentence)  # fmt: skip
        return _stage_trace(stage, trace, tidied, self._zone, self._instruments.get(stage.instrument_id or ""))


@dataclass(frozen=True, slots=True)
class _Tidied:
    trace: engineering.Trace
    held: tuple[HeldStage, ...]
    curve: tuple[CurvePoint, ...]
    remarks: tuple[str, ...]


def _tidied(trace: Trace) -> "_Tidied | str":
    try:
        tidied = engineering.tidy(trace.seconds, trace.pressures_bar)
        held = held_stages(tidied.trace)
        thin = engineering.decimate(tidied.trace, CURVE_POINTS)
    except EngineeringError as error:
        return str(error)
    remarks = [remark.sentence for remark in trace.remarks]
    curve = tuple(
        CurvePoint(round(float(s) / 60, 3), round(float(p), 4))
        for s, p in zip(thin.seconds, thin.pressures, strict=True)
    )
    return _Tidied(tidied.trace, held, curve, tuple(remarks))


def _stage_trace(
    stage: TestStage, trace: Trace, tidied: _Tidied, zone: str, instrument: Instrument | None
) -> StageTrace:
    window = _window(stage, trace, zone)
    held = _belonging(tidied.held, window, stage.start_pressure_bar)
    resolution = instrument.resolution_bar if instrument is not None and instrument.resolution_bar else 0.0
    tolerance = max(resolution, _LEAST_STEP) + (error_of(instrument) or 0.0 if instrument is not None else 0.0)
    low, high = (held.settled, held.end) if held is not None else (0.0, 0.0)
    if held is not None and window is not None and _overlap(held, window) > 0:
        low, high = max(low, window[0]), min(high, window[1])
    source = Input("trace", f"{trace.file}, {trace.readings} readings", None, "logger file")
    start, end, slope, half_width = _line(tidied.trace, low, high, resolution, source)
    drop = _drop(stage, trace, tidied, low, high, start, end, source)
    comparisons = _compared(stage, held, window, start, end, tolerance, tidied, trace)
    outcomes = [comparison.outcome for comparison in comparisons]
    bad = [comparison.sentence for comparison in comparisons if comparison.outcome is Outcome.FAIL]
    if Outcome.FAIL in outcomes:
        outcome, sentence = Outcome.FAIL, " ".join(bad)
    elif held is None:
        outcome, sentence = Outcome.CANNOT_TELL, "The curve shows no steady stretch that belongs to this stage."
    elif not outcomes or Outcome.CANNOT_TELL in outcomes:
        outcome = Outcome.CANNOT_TELL
        unsure = [comparison.sentence for comparison in comparisons if comparison.outcome is Outcome.CANNOT_TELL]
        sentence = " ".join(unsure) or "The certificate gives nothing to compare the trace with."
    else:
        outcome, sentence = Outcome.PASS, "The trace shows what the certificate says."
    return StageTrace(
        stage,
        trace,
        tuple(_as_stage(each) for each in tidied.held),
        None if held is None else _as_stage(held),
        start,
        end,
        slope,
        half_width,
        drop,
        comparisons,
        tidied.curve,
        tidied.remarks,
        outcome,
        sentence,
    )


def _as_stage(held: HeldStage) -> TraceStage:
    return TraceStage(held.start / 60, held.settled / 60, held.end / 60, held.level, held.topped_up)


def _window(stage: TestStage, trace: Trace, zone: str) -> tuple[float, float] | None:
    """Start and end of the hold by the certificate, in seconds of the trace; ``None`` where either has no clock."""
    if trace.started_at is None or stage.date is None or stage.start_time is None or stage.end_time is None:
        return None
    days = (stage.date, stage.date + datetime.timedelta(days=int(stage.end_time < stage.start_time)))
    began, ended = moment(days[0], stage.start_time, zone), moment(days[1], stage.end_time, zone)
    if began is None or ended is None:
        return None
    zero = trace.started_at.astimezone(datetime.UTC)
    return tuple((each.astimezone(datetime.UTC) - zero).total_seconds() for each in (began, ended))  # type: ignore[return-value]  # two moments make two figures


def _overlap(held: HeldStage, window: tuple[float, float]) -> float:
    return min(held.end, window[1]) - max(held.start, window[0])


def _belonging(
    held: tuple[HeldStage, ...], window: tuple[float, float] | None, typed_bar: float | None
) -> HeldStage | None:
    if not held:
        return None
    if window is not None:
        best = max(held, key=lambda each: _overlap(each, window))
        if _overlap(best, window) > 0:
            return best
    if typed_bar is None:
        return None
    near = min(held, key=lambda each: abs(each.level - typed_bar))
    return near if abs(near.level - typed_bar) <= 0.2 * abs(typed_bar) else None


def _line(
    trace: engineering.Trace, low: float, high: float, resolution: float, source: Input
) -> tuple[Worked, Worked, Worked, float | None]:
    formula = BY_ID["trace-trend"]
    try:
        line = fit(engineering.between(trace, low, high), resolution=resolution)
    except EngineeringError as error:
        missing = (f"a hold in the curve: {error}",)
        made = [unknown(name, formula.id, missing) for name in ("Start by the trace", "End by the trace", "Slope")]
        return made[0], made[1], made[2], None
    inputs = (source, Input("hold by the curve", f"{written(low / 60, 'min')} to {written(high / 60, 'min')}", None,
                            "of the trace"))  # fmt: skip

    def worked(name: str, value: float, unit: str, places: int) -> Worked:
        return Worked(
            name, value, unit, places, formula.text, inputs, formula.citation, formula.validity, (), formula.id
        )

    half_width = line.half_width if np.isfinite(line.half_width) else None
    return (
        worked("Start by the trace", line.start, "bar", 3),
        worked("End by the trace", line.end, "bar", 3),
        worked("Slope", line.slope, "bar/h", 3),
        half_width,
    )


def _drop(
    stage: TestStage,
    trace: Trace,
    tidied: _Tidied,
    low: float,
    high: float,
    start: Worked,
    end: Worked,
    source: Input,
) -> Worked:
    name = "Drop over the hold by the trace"
    if start.value is None or end.value is None:
        return unknown(name, "gas-correction", start.missing)
    warmth = trace.temperatures_c
    if stage.medium not in _GASES or warmth is None:
        formula = BY_ID["trace-trend"]
        limits = "As read; of water temperature is judged for plausibility only."
        value = start.value - end.value
        return Worked(name, value, "bar", 3, "start − end", (source,), formula.citation, limits, (), formula.id)
    usable = np.isfinite(warmth) & np.isfinite(trace.seconds)
    if np.count_nonzero(usable) < 2:
        return unknown(name, "gas-correction", ("temperatures in the trace",))
    atmosphere = (stage.barometer_start_mbar or STANDARD_ATMOSPHERE * 1000) / 1000
    try:
        part = engineering.between(tidied.trace, low, high)
        order = np.argsort(trace.seconds[usable], kind="stable")
        celsius = np.interp(part.seconds, trace.seconds[usable][order], warmth[usable][order])
        line = fit(engineering.gas_corrected(part, celsius, atmosphere), resolution=0.0)
    except EngineeringError as error:
        return unknown(name, "gas-correction", (f"a possible trace: {error}",))
    formula = BY_ID["gas-correction"]
    return Worked(name, line.start - line.end, "bar", 4, formula.text, (source,), formula.citation, formula.validity,
                  (), formula.id)  # fmt: skip


def _compared(
    stage: TestStage,
    held: HeldStage | None,
    window: tuple[float, float] | None,
    start: Worked,
    end: Worked,
    tolerance: float,
    tidied: _Tidied,
    trace: Trace,
) -> tuple[Comparison, ...]:
    found = []
    if window is not None:
        last = float(tidied.trace.seconds[-1])
        if window[1] < -60 or window[0] > last + 60:
            day = f"{trace.started_at:%Y-%m-%d %H:%M}" if trace.started_at is not None else ""
            sentence = f"The trace begins on {day} and does not cover the hold of {stage.date}."
            return (Comparison("time", None, None, "", Outcome.FAIL, sentence),)
    for what, typed, worked in (
        ("pressure at the start", stage.start_pressure_bar, start),
        ("pressure at the end", stage.end_pressure_bar, end),
    ):
        found.append(_figure(what, typed, worked.value, "bar", tolerance))
    hold = None if held is None else (held.end - held.settled) / 60
    if hold is not None and stage.hold_min is not None and hold >= stage.hold_min - _MINUTES_APART:
        # A curve that stays steady for longer than the hold agrees with it.
        sentence = f"The curve is steady for {hold:.0f} min; the certificate says {spoken(stage.hold_min)} min."
        found.append(Comparison("hold", stage.hold_min, hold, "min", Outcome.PASS, sentence))
    else:
        found.append(_figure("hold", stage.hold_min, hold, "min", _MINUTES_APART))
    if held is not None and stage.topped_up is False and held.topped_up:
        sentence = "The curve shows pressure being added before the hold; the certificate says that none was."
        found.append(Comparison("top-up", None, None, "", Outcome.FAIL, sentence))
    return tuple(found)


def _figure(what: str, typed: float | None, traced: float | None, unit: str, tolerance: float) -> Comparison:
    if typed is None or traced is None:
        where = "certificate" if typed is None else "trace"
        return Comparison(what, typed, traced, unit, Outcome.CANNOT_TELL, f"The {where} gives no {what}.")
    outcome = Outcome.PASS if abs(typed - traced) <= tolerance + 1e-9 else Outcome.FAIL
    sentence = f"The certificate gives a {what} of {spoken(typed)} {unit}, the trace {spoken(traced)} {unit}."
    return Comparison(what, typed, traced, unit, outcome, sentence)
