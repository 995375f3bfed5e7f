"""The gauge of a test: in calibration on the day, in the middle of its range, exact and fine enough."""

import datetime
from collections import defaultdict

from witnessmark.engineering import gauge_fitness
from witnessmark.engineering.errors import EngineeringError
from witnessmark.model.day_words import day_words
from witnessmark.model.finding import Outcome
from witnessmark.model.project import Project
from witnessmark.model.records import Calibration, Instrument, TestStage
from witnessmark.workings.calculation import calculated, recorded, spoken
from witnessmark.workings.practice import gauge_rule
from witnessmark.workings.stage_point import Point, cannot_tell, point


class GaugeBook:
    """Instruments of a project with their calibrations."""

    def __init__(self, project: Project) -> None:
        self._instruments = project.instruments
        self._calibrations: dict[str, list[Calibration]] = defaultdict(list)
        for calibration in project.records.calibrations:
            if calibration.instrument_id is not None:
                self._calibrations[calibration.instrument_id].append(calibration)

    def instrument(self, stage: TestStage) -> Instrument | None:
        """The gauge of a stage, where the register has it."""
        return self._instruments.get(stage.instrument_id) if stage.instrument_id else None

    def calibration(self, stage: TestStage) -> Point:
        """Whether a certificate of this very gauge covers the day of the test."""
        place = stage.source.place("instrument_id")
        gauge = self.instrument(stage)
        if gauge is None:
            return cannot_tell("calibration", (_no_gauge(stage),), (), place)
        if stage.date is None:
            return cannot_tell("calibration", ("the date of the test",), (), stage.source.place("date"))
        certificates = self._calibrations.get(gauge.instrument_id, [])
        if not certificates:
            return cannot_tell("calibration", (f"a calibration of gauge {gauge.instrument_id}",), (), place)
        answers = [_covers(gauge, certificate, stage.date) for certificate in certificates]
        for wanted in (Outcome.PASS, Outcome.CANNOT_TELL):
            for outcome, sentence, certificate in answers:
                if outcome is wanted:
                    return point("calibration", outcome, sentence, (), certificate.source.place("due_on"))
        latest = max(answers, key=lambda answer: answer[2].calibrated_on or datetime.date.min)
        return point("calibration", Outcome.FAIL, latest[1], (), latest[2].source.place("due_on"))

    def in_range(self, stage: TestStage) -> Point:
        """Whether start and end lie between the shares of the span that practice asks for."""
        gauge, place = self.instrument(stage), stage.source.place("instrument_id")
        if gauge is None:
            return cannot_tell("gauge_range", (_no_gauge(stage),), (), place)
        low, high = gauge_rule("lowest_share_of_span"), gauge_rule("highest_share_of_span")
        bottom = recorded(gauge, "range_min_bar", "lower end of the range", "bar")
        top = recorded(gauge, "range_max_bar", "upper end of the range", "bar")
        reading = recorded(stage, "start_pressure_bar", "pressure at the start", "bar")
        share = calculated(
            "Place on the dial",
            "gauge-share",
            (reading, bottom, top),
            lambda p, p0, p1: 100 * gauge_fitness.share_of_span(p, p0, p1),
        )
        if share.value is None:
            return cannot_tell("gauge_range", share.missing, (share,), place)
        fits = 100 * low.value <= share.value <= 100 * high.value
        sentence = (
            f"{spoken(reading.value)} bar lies at {share.value:.0f} % of the range of gauge {gauge.instrument_id}; "
            f"practice asks for {100 * low.value:g} to {100 * high.value:g} %."
        )
        return point("gauge_range", Outcome.PASS if fits else Outcome.FAIL, sentence, (share,), place)

    def fine_enough(self, stage: TestStage, allowed_drop_bar: float | None, required_bar: float | None) -> Point:
        """Whether error and smallest step are small beside the drop allowed; without one, whether the step is readable.

        Where a procedure allows no drop there is nothing to compare the error with: the class cancels in the
        difference of two readings near each other, the step does not.
        """
        gauge, place = self.instrument(stage), stage.source.place("instrument_id")
        if gauge is None:
            return cannot_tell("gauge_fine", (_no_gauge(stage),), (), place)
        if allowed_drop_bar is None:
            return cannot_tell("gauge_fine", ("the drop that the procedure lets pass",), (), place)
        step = recorded(gauge, "resolution_bar", "resolution", "bar")
        if step.value is None:
            return cannot_tell("gauge_fine", (step.missing,), (), place)
        if allowed_drop_bar == 0:
            return _readable(stage, gauge, step.value, required_bar)
        error = calculated(
            "Error of the gauge",
            "gauge-error",
            (
                recorded(gauge, "class_percent", "class", "%"),
                recorded(gauge, "range_min_bar", "lower end of the range", "bar"),
                recorded(gauge, "range_max_bar", "upper end of the range", "bar"),
            ),
            gauge_fitness.class_error,
        )
        if error.value is None:
            return cannot_tell("gauge_fine", error.missing, (error,), place)
        limit = allowed_drop_bar * gauge_rule("share_of_allowed_drop").value
        worst = max(error.value, step.value)
        outcome = Outcome.PASS if worst <= limit + 1e-12 else Outcome.FAIL
        sentence = (
            f"Gauge {gauge.instrument_id} may be wrong by {spoken(error.value)} bar and shows steps of "
            f"{spoken(step.value)} bar; for an allowed drop of {spoken(allowed_drop_bar)} bar "
            f"no more than {spoken(limit)} bar is asked."
        )
        return point("gauge_fine", outcome, sentence, (error,), place)


def _readable(stage: TestStage, gauge: Instrument, step: float, required_bar: float | None) -> Point:
    place = stage.source.place("instrument_id")
    if stage.medium == "water":
        rule = gauge_rule("readable_water")
    elif required_bar is None:
        return cannot_tell("gauge_fine", ("the required pressure",), (), place)
    else:
        rule = gauge_rule("readable_gas" if required_bar >= 1 else "readable_gas_below_1_bar")
    outcome = Outcome.PASS if step <= rule.value + 1e-12 else Outcome.FAIL
    sentence = (
        f"Gauge {gauge.instrument_id} shows steps of {spoken(step)} bar; the procedure allows no drop, and steps of no "
        f"more than {spoken(rule.value)} bar are asked for."
    )
    return point("gauge_fine", outcome, sentence, (), place)


def _no_gauge(stage: TestStage) -> str:
    if stage.instrument_id is None:
        return "the gauge used, in the tests table"
    return f"gauge {stage.instrument_id} in the register of instruments"


def _covers(gauge: Instrument, certificate: Calibration, day: datetime.date) -> tuple[Outcome, str, Calibration]:
    code = gauge.instrument_id
    if gauge.serial and certificate.serial_on_certificate and gauge.serial != certificate.serial_on_certificate:
        return (
            Outcome.FAIL,
            f"The certificate of gauge {code} names serial {certificate.serial_on_certificate}, not {gauge.serial}.",
            certificate,
        )
    if certificate.result == "fail":
        on = f" of {day_words(certificate.calibrated_on)}" if certificate.calibrated_on is not None else ""
        return Outcome.FAIL, f"Gauge {code} failed its calibration{on}.", certificate
    if certificate.calibrated_on is None:
        return Outcome.CANNOT_TELL, f"When gauge {code} was calibrated is not recorded.", certificate
    if day < certificate.calibrated_on:
        return (
            Outcome.FAIL,
            f"Gauge {code} was calibrated on {day_words(certificate.calibrated_on)}, after the test of "
            f"{day_words(day)}.",
            certificate,
        )
    if certificate.due_on is None:
        return Outcome.CANNOT_TELL, f"When the calibration of gauge {code} was due again is not recorded.", certificate
    if day > certificate.due_on:
        return (
            Outcome.FAIL,
            f"The calibration of gauge {code} was due on {day_words(certificate.due_on)}; the test was on "
            f"{day_words(day)}.",
            certificate,
        )
    if certificate.result is None:
        return Outcome.CANNOT_TELL, f"The result of the calibration of gauge {code} is not recorded.", certificate
    return (
        Outcome.PASS,
        f"Gauge {code} was calibrated on {day_words(certificate.calibrated_on)} and due on "
        f"{day_words(certificate.due_on)}.",
        certificate,
    )


def error_of(gauge: Instrument) -> float | None:
    """Largest error of a gauge in calibration, bar; ``None`` where class or range is not recorded or makes no sense."""
    if gauge.class_percent is None or gauge.range_min_bar is None or gauge.range_max_bar is None:
        return None
    try:
        return gauge_fitness.class_error(gauge.class_percent, gauge.range_min_bar, gauge.range_max_bar)
    except EngineeringError:
        return None
