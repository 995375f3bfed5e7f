"""The verdict on one test stage: what this system needed, and what the record shows, question by question."""

from collections.abc import Sequence
from dataclasses import dataclass

from witnessmark.engineering import head, procedure, stored_energy
from witnessmark.engineering.errors import EngineeringError
from witnessmark.engineering.unit_swap import units_that_fit
from witnessmark.model.finding import Outcome
from witnessmark.model.procedure import ProcedureStage, TestProcedure
from witnessmark.model.project import Project
from witnessmark.model.quantity import Input, Worked
from witnessmark.model.records import TestStage
from witnessmark.workings.calculation import Known, calculated, given, recorded, spoken, unknown
from witnessmark.workings.hold_time import HoldTime, hold_by_clock
from witnessmark.workings.procedures import all_procedures, stage_of
from witnessmark.workings.section_rating import SectionRating, ServicePoint, water_density, worst
from witnessmark.workings.stage_point import Point, cannot_tell, point
from witnessmark.workings.test_drop import GASES, drop_point, stuck_point
from witnessmark.workings.test_gauge import GaugeBook
from witnessmark.workings.test_scope import ScopeFinder, TestScope

PNEUMATIC_CAUTION = (
    "A test with gas stores hundreds to thousands of times the energy of a test with water. Local codes, a written "
    "system of work and licensed practice decide whether and how it may be done; these figures clear nothing."
)
_ROUNDING = 1e-9
_MINUTE = 1.0


@dataclass(frozen=True, slots=True)
class StageVerdict:
    """The verdict on one stage. Pressures bar gauge, times min."""

    stage: TestStage
    scope: TestScope
    procedure: TestProcedure | None
    procedure_stage: ProcedureStage | None
    required_bar: Worked
    """At the highest point."""
    highest_point_bar: Worked
    """Pressure reached there, from the reading at the start."""
    lowest_point_bar: Worked
    rating_bar: Known
    """Of the weakest component of the sections, at the temperature of the test."""
    required_hold_min: Known
    hold_min: Known
    """The hold that counts: by the clock where times are recorded."""
    hold: HoldTime | None
    stored_energy_kj: Worked | None
    """Of a test with gas."""
    cautions: tuple[str, ...]
    points: tuple[Point, ...]
    outcome: Outcome
    sentence: str

    def answer(self, key: str) -> Point | None:
        """The answer to one question; ``None`` where it was not put."""
        return next((each for each in self.points if each.key == key), None)

    @property
    def counts(self) -> bool:
        """Whether the record claims a pass: a failed or broken-off attempt proves nothing and claims nothing."""
        return self.stage.result not in ("fail", "abandoned")

    @property
    def rated(self) -> bool:
        """Whether a procedure says what this stage needed."""
        return self.procedure_stage is not None

    @property
    def pneumatic(self) -> bool:
        """Whether it was done with gas."""
        return self.stage.medium in GASES


class VerdictWork:
    """Judges test stages against their procedures."""

    def __init__(self, project: Project, ratings: dict[str, SectionRating], scopes: ScopeFinder) -> None:
        self._settings = project.settings
        self._ratings = ratings
        self._scopes = scopes
        self._procedures = all_procedures(project.settings)
        self._by_title = {p.title.casefold(): p for p in self._procedures.values()}
        self.gauges = GaugeBook(project)

    def judge(self, stage: TestStage) -> StageVerdict:
        """The verdict on one stage."""
        scope = self._scopes.scope(stage)
        chosen, procedure_answer = self._procedure(stage, scope)
        asked = stage_of(chosen, stage.stage, scope.largest_od_mm) if chosen is not None else None
        if chosen is not None and asked is None:
            procedure_answer = cannot_tell(
                "procedure",
                (
                    f"a stage '{stage.stage}' in procedure {chosen.id}"
                    if stage.stage
                    else "the stage, in the tests table",
                ),
                (),
                stage.source.place("stage"),
            )
        pressed = stage.stage != "visual"
        required = _required(scope, asked)
        highest, lowest = _at_ends(stage, scope)
        rating = self._rating(stage, scope)
        hold, clock = _hold(stage, self._settings.time_zone)
        required_hold = _required_hold(asked, scope)
        points = [procedure_answer, _result(stage)]
        energy: Worked | None = None
        if pressed:
            points[1:1] = self._pressed_points(
                stage, scope, asked, required, highest, lowest, rating, hold, clock, required_hold
            )
            if stage.medium in GASES:
                energy = calculated(
                    "Stored energy",
                    "gas-energy",
                    (recorded(stage, "start_pressure_bar", "pressure at the start", "bar"), scope.volume_l),
                    lambda bar, litres: stored_energy.of_gas(bar, litres) / 1000,
                )
        else:
            points.insert(1, _inspected(stage))
        outcome = worst([each.outcome for each in points])
        return StageVerdict(
            stage=stage,
            scope=scope,
            procedure=chosen,
            procedure_stage=asked,
            required_bar=required,
            highest_point_bar=highest,
            lowest_point_bar=lowest,
            rating_bar=rating,
            required_hold_min=required_hold,
            hold_min=hold,
            hold=clock,
            stored_energy_kj=energy,
            cautions=(PNEUMATIC_CAUTION,) if energy is not None else (),
            points=tuple(points),
            outcome=outcome,
            sentence=_summary(outcome, points),
        )

    def _pressed_points(
        self,
        stage: TestStage,
        scope: TestScope,
        asked: ProcedureStage | None,
        required: Worked,
        highest: Worked,
        lowest: Worked,
        rating: Known,
        hold: Known,
        clock: HoldTime | None,
        required_hold: Known,
    ) -> list[Point]:
        gauge = self.gauges.instrument(stage)
        allowed = _allowed(asked)
        drop, shares = drop_point(stage, scope, allowed, gauge)
        return [
            _medium(stage, asked),
            _typed_requirement(stage, required),
            _reached(stage, required, highest),
            _within_rating(stage, lowest, rating),
            _readings(stage),
            _unit(stage, required, scope),
            _settled(stage, asked),
            _held(stage, hold, clock, required_hold),
            _topped_up(stage),
            drop,
            stuck_point(stage, scope, gauge, shares),
            self.gauges.calibration(stage),
            self.gauges.in_range(stage),
            self.gauges.fine_enough(stage, allowed.value, required.value),
            _inspected(stage),
        ]

    def _procedure(self, stage: TestStage, scope: TestScope) -> tuple[TestProcedure | None, Point]:
        place = stage.source.place("procedure")
        wanted = {self._settings.testing.get(service) for service in scope.services}
        written = stage.procedure.strip() if stage.procedure else ""
        named = self._procedures.get(written) or self._by_title.get(written.casefold()) if written else None
        known = {name for name in wanted if name}
        if len(known) > 1:
            return None, cannot_tell("procedure", ("one procedure: its sections need different ones",), (), place)
        if not known or None in wanted:
            if named is not None and not known:
                service = ", ".join(s.replace("_", " ") for s in scope.services) or "its service"
                return named, cannot_tell(
                    "procedure", (f"the procedure that {service} needs, under 'testing' in project.yml",), (), place
                )
            service = ", ".join(s.replace("_", " ") for s in scope.services) or "its sections"
            return None, cannot_tell(
                "procedure", (f"the procedure that {service} needs, under 'testing' in project.yml",), (), place
            )
        required = self._procedures[known.pop()]
        if named is None:
            what = f"what '{written}' is: no procedure of that name is known" if written else "the procedure followed"
            return required, cannot_tell("procedure", (what,), (), place)
        if named.id != required.id:
            sentence = f"It followed {named.id}; its sections need {required.id}."
            return required, point("procedure", Outcome.FAIL, sentence, (), place)
        return required, point("procedure", Outcome.PASS, f"It followed {named.id}: {named.title}.", (), place)

    def _rating(self, stage: TestStage, scope: TestScope) -> Known:
        """The weakest rating of the sections at the temperature of the test."""
        celsius = stage.pipe_start_c if stage.pipe_start_c is not None else stage.ambient_start_c
        if celsius is None:
            return Known(None, None, "the temperature of pipe or water at the start")
        if not scope.sections:
            return Known(None, None, "a section of the test in the records")
        least: tuple[float, str, str] | None = None
        missing: list[str] = []
        for section in scope.sections:
            rated = self._ratings[section.section_id]
            missing.extend(rated.missing)
            for component in rated.components:
                if not component.known:
                    continue
                value = component.at(celsius)
                if value is None:
                    missing.append(f"a rating of {component.name} at {celsius:g} °C")
                elif least is None or value < least[0]:
                    least = (value, component.name, component.basis)
        if least is None:
            return Known(None, None, "; ".join(dict.fromkeys(missing)) or "a rated component")
        text = Input(f"weakest rating, {least[1]}", f"{least[0]:g} bar", None, least[2])
        return Known(least[0], text, "; ".join(list(dict.fromkeys(missing))[:3]))


def service_point(verdict: StageVerdict) -> ServicePoint | None:
    """The stage as a point on the rating chart of its sections; ``None`` where it has no pressure or temperature."""
    celsius = verdict.stage.pipe_start_c
    bar = verdict.lowest_point_bar.value
    answer = verdict.answer("within_rating")
    if celsius is None or bar is None or answer is None:
        return None
    label = f"{verdict.stage.test_id}, {verdict.stage.stage}: {spoken(bar)} bar at the lowest point"
    return ServicePoint("test", label, celsius, bar, answer.outcome)


def _required(scope: TestScope, asked: ProcedureStage | None) -> Worked:
    name = "Required pressure at the highest point"
    if asked is None:
        return unknown(name, "required-pressure", ("the procedure",))
    if asked.basis is None:
        return unknown(name, "required-pressure", ("a pressure in the procedure",))
    source = asked.source or "the procedure"
    if asked.basis == "fixed":
        return calculated(
            name,
            "required-pressure",
            (given(asked.fixed_bar or 0.0, "fixed pressure", "bar", source),),
            lambda bar: procedure.required_pressure(bar, 1.0, cap=asked.cap_bar),
            places=3 if (asked.fixed_bar or 0.0) < 1 else 2,
        )
    basis = scope.operating_bar if asked.basis == "mop" else scope.design_bar
    return calculated(
        name,
        "required-pressure",
        (basis, given(asked.factor or 0.0, "factor", "", source)),
        lambda bar, factor: procedure.required_pressure(bar, factor, cap=asked.cap_bar),
    )


def _at_ends(stage: TestStage, scope: TestScope) -> tuple[Worked, Worked]:
    """Pressure at the highest and at the lowest point, from the reading at the start."""
    reading = recorded(stage, "start_pressure_bar", "pressure at the start", "bar")
    gauge = recorded(stage, "gauge_elevation_m", "elevation of the gauge", "m")
    names = ("Pressure at the highest point", "Pressure at the lowest point")
    if stage.medium in GASES:
        made = [calculated(n, "pressure-at-height", (reading,), lambda bar: bar, places=3) for n in names]
        return made[0], made[1]
    if stage.medium != "water":
        missing = ("the medium of the test" if stage.medium in (None, "none") else f"the density of '{stage.medium}'",)
        return unknown(names[0], "pressure-at-height", missing), unknown(names[1], "pressure-at-height", missing)
    density = water_density(stage.pipe_start_c, "temperature at the start")
    made = [
        calculated(
            name,
            "pressure-at-height",
            (reading, gauge, ends, density),
            lambda bar, zg, z, rho: head.gauge_at(z, bar, zg, rho),
        )
        for name, ends in zip(names, (scope.high_m, scope.low_m), strict=True)
    ]
    return made[0], made[1]


def _hold(stage: TestStage, zone: str) -> tuple[Known, HoldTime | None]:
    place = stage.source.place("hold_min")
    typed = recorded(stage, "hold_min", "hold as typed", "min")
    if stage.start_time is None or stage.end_time is None or stage.date is None:
        return typed, None
    clock = hold_by_clock(stage.date, stage.start_time, stage.end_time, zone)
    if clock.minutes is None:
        return Known(None, None, f"a hold by the clock: {clock.remark}"), clock
    words = f"{stage.start_time:%H:%M} to {stage.end_time:%H:%M}, {spoken(clock.minutes)} min"
    by_clock = Known(clock.minutes, Input("hold by the clock", words, stage.source.place("end_time")))
    if typed.value is not None and stage.settle_min is not None:
        # Some certificates start the clock when the pressure is first on, settling included.
        with_settling = typed.value + stage.settle_min
        if abs(clock.minutes - with_settling) <= _MINUTE and stage.settle_min > _MINUTE:
            return Known(
                typed.value, Input("hold as typed", f"{spoken(typed.value)} min, after settling", place)
            ), clock
    return by_clock, clock


def _required_hold(asked: ProcedureStage | None, scope: TestScope) -> Known:
    if asked is None or asked.hold_min is None:
        return Known(None, None, "the hold that the procedure asks for")
    extra = asked.hold_extra_min_per_100_l or 0.0
    if extra and scope.volume_l.value is None:
        return Known(None, None, scope.volume_l.missing)
    try:
        minutes = procedure.required_hold(
            asked.hold_min,
            volume=(scope.volume_l.value or 0.0) if extra else 0.0,
            free_volume=asked.hold_free_litres or 0.0,
            extra_per_100_litres=extra,
        )
    except EngineeringError as error:
        return Known(None, None, f"a usable procedure: {error}")
    return given(minutes, "hold asked for", "min", asked.source)


def _allowed(asked: ProcedureStage | None) -> Known:
    if asked is None or asked.allowed_drop_bar is None:
        return Known(None, None, "the drop that the procedure lets pass")
    return given(asked.allowed_drop_bar, "allowed drop", "bar", asked.source)


def _medium(stage: TestStage, asked: ProcedureStage | None) -> Point:
    place = stage.source.place("medium")
    if stage.medium is None:
        return cannot_tell("medium", ("the medium of the test",), (), place)
    if asked is None:
        return cannot_tell("medium", ("the procedure that it followed, in the tests table",), (), place)
    gases = stage.medium in GASES and asked.medium in GASES
    if asked.medium is None or asked.medium == stage.medium or gases:
        return point("medium", Outcome.PASS, f"It was filled with {stage.medium}.", (), place)
    return point(
        "medium", Outcome.FAIL, f"It was filled with {stage.medium}; the procedure says {asked.medium}.", (), place
    )


def _typed_requirement(stage: TestStage, required: Worked) -> Point:
    place = stage.source.place("required_pressure_bar")
    typed = stage.required_pressure_bar
    missing = [*required.missing] if required.value is None else []
    if typed is None:
        missing.append("the required pressure on the certificate")
    if missing or typed is None or required.value is None:
        return cannot_tell("required_pressure", tuple(missing), (required,), place)
    # A certificate may ask for more, and rounds its figures.
    if typed >= required.value * 0.995 - _ROUNDING:
        sentence = f"The certificate asks for {spoken(typed)} bar; this system needs {spoken(required.value)} bar."
        return point("required_pressure", Outcome.PASS, sentence, (required,), place)
    sentence = f"The certificate asks for {spoken(typed)} bar only; this system needs {spoken(required.value)} bar."
    return point("required_pressure", Outcome.FAIL, sentence, (required,), place)


def _reached(stage: TestStage, required: Worked, highest: Worked) -> Point:
    place = stage.source.place("start_pressure_bar")
    if required.value is None or highest.value is None:
        return cannot_tell("pressure_reached", (*required.missing, *highest.missing), (required, highest), place)
    sentence = (
        f"The highest point saw {spoken(highest.value)} bar, with {spoken(stage.start_pressure_bar)} bar at the gauge; "
        f"required there is {spoken(required.value)} bar."
    )
    # A hundredth of a bar, or half a per cent, is less than any dial shows.
    enough = highest.value >= required.value - min(0.01, 0.005 * required.value)
    return point("pressure_reached", Outcome.PASS if enough else Outcome.FAIL, sentence, (required, highest), place)


def _within_rating(stage: TestStage, lowest: Worked, rating: Known) -> Point:
    place = stage.source.place("start_pressure_bar")
    if lowest.value is None:
        return cannot_tell("within_rating", lowest.missing, (lowest,), place)
    weakest = rating.input.name if rating.input is not None else "weakest rating"
    if rating.value is not None and lowest.value > rating.value + _ROUNDING:
        sentence = f"The lowest point saw {spoken(lowest.value)} bar; the {weakest}, is {spoken(rating.value)} bar."
        return point("within_rating", Outcome.FAIL, sentence, (lowest,), place)
    if rating.value is None or rating.missing:
        return cannot_tell("within_rating", (rating.missing,), (lowest,), place)
    sentence = f"The lowest point saw {spoken(lowest.value)} bar; the {weakest}, is {spoken(rating.value)} bar."
    return point("within_rating", Outcome.PASS, sentence, (lowest,), place)


_READINGS = (
    ("start_pressure_bar", "the pressure at the start"),
    ("end_pressure_bar", "the pressure at the end"),
    ("date", "the date"),
    ("start_time", "the start time"),
    ("end_time", "the end time"),
)


def _start(unread: list[str]) -> str:
    words = " and ".join(unread)
    return f"{words[0].upper()}{words[1:]} {'is' if len(unread) == 1 else 'are'}"


def _readings(stage: TestStage) -> Point:
    missing = [(field, words) for field, words in _READINGS if getattr(stage, field) is None]
    unread = [words for field, words in missing if field.endswith("_bar")]
    if unread:
        place = stage.source.place(missing[0][0])
        return point("readings", Outcome.FAIL, f"{_start(unread)} not recorded.", (), place)
    if missing:
        return cannot_tell("readings", tuple(words for _, words in missing), (), stage.source.place(missing[0][0]))
    return point("readings", Outcome.PASS, "Pressure and time of start and end are recorded.")


def _unit(stage: TestStage, required: Worked, scope: TestScope) -> Point:
    place = stage.source.place("start_pressure_bar")
    reading = stage.start_pressure_bar
    if reading is None or required.value is None:
        reasons = required.missing if required.value is None else ("the pressure at the start",)
        return cannot_tell("unit", reasons, (), place)
    height = (scope.high_m.value or 0.0) - (scope.low_m.value or 0.0)
    low, high = 0.5 * required.value, 2 * required.value + max(0.0, height) * 0.2 + 0.5
    try:
        fits = units_that_fit(reading, low, high) if reading > high else ()
    except EngineeringError:
        fits = ()
    if fits:
        units = " or ".join(fits)
        sentence = (
            f"{spoken(reading)} bar was recorded where about {spoken(required.value)} bar is required: "
            f"it would fit as {units}. Which unit was meant?"
        )
        return point("unit", Outcome.FAIL, sentence, (required,), place)
    return point("unit", Outcome.PASS, f"{spoken(reading)} bar is of the size that the procedure asks for.", (), place)


def _settled(stage: TestStage, asked: ProcedureStage | None) -> Point:
    place = stage.source.place("settle_min")
    if asked is None or asked.settle_min is None:
        return cannot_tell("settle", ("the settling time that the procedure asks for",), (), place)
    if asked.settle_min == 0:
        return point("settle", Outcome.PASS, "The procedure asks for no settling time.", (), place)
    if stage.settle_min is None:
        return cannot_tell("settle", ("the settling time",), (), place)
    enough = stage.settle_min >= asked.settle_min - _ROUNDING
    sentence = f"It settled for {spoken(stage.settle_min)} min; asked for are {spoken(asked.settle_min)} min."
    return point("settle", Outcome.PASS if enough else Outcome.FAIL, sentence, (), place)


def _held(stage: TestStage, hold: Known, clock: HoldTime | None, required: Known) -> Point:
    place = stage.source.place("end_time" if clock is not None else "hold_min")
    if hold.value is None or required.value is None:
        reasons = [each.missing for each in (hold, required) if each.value is None]
        return cannot_tell("hold", tuple(reasons), (), place)
    remark = f" {clock.remark}" if clock is not None and clock.remark else ""
    sentence = f"It was held for {spoken(hold.value)} min; asked for are {spoken(required.value)} min.{remark}"
    if hold.value < required.value - _ROUNDING:
        return point("hold", Outcome.FAIL, sentence, (), place)
    typed = stage.hold_min
    if typed is not None and abs(typed - hold.value) > _MINUTE:
        told = f" The certificate says {spoken(typed)} min; the clock says {spoken(hold.value)} min."
        outcome = Outcome.FAIL if typed < required.value - _ROUNDING else Outcome.CANNOT_TELL
        return point("hold", outcome, sentence + told, (), stage.source.place("hold_min"))
    return point("hold", Outcome.PASS, sentence, (), place)


def _topped_up(stage: TestStage) -> Point:
    place = stage.source.place("topped_up")
    if stage.topped_up is None:
        return cannot_tell("topped_up", ("whether pressure was added after the start",), (), place)
    if stage.topped_up:
        return point("topped_up", Outcome.FAIL, "Pressure was added after the start: the hold begins anew.", (), place)
    return point("topped_up", Outcome.PASS, "No pressure was added after the start.", (), place)


def _inspected(stage: TestStage) -> Point:
    place = stage.source.place("joints_inspected")
    if stage.joints_inspected is None:
        return cannot_tell("inspected", ("whether every joint was looked at",), (), place)
    if not stage.joints_inspected:
        return point("inspected", Outcome.FAIL, "The joints were not all looked at.", (), place)
    return point("inspected", Outcome.PASS, "The joints were looked at.", (), place)


def _result(stage: TestStage) -> Point:
    place = stage.source.place("result")
    if stage.result is None:
        return cannot_tell("result", ("the result",), (), place)
    if stage.result != "pass":
        return point("result", Outcome.FAIL, f"The certificate records: {stage.result}.", (), place)
    return point("result", Outcome.PASS, "The certificate records a pass.", (), place)


def _summary(outcome: Outcome, points: Sequence[Point]) -> str:
    counted = [each for each in points if each.outcome is outcome]
    if outcome is Outcome.PASS:
        return f"The records show what the procedure asks for: {len(points)} of {len(points)} questions."
    word = "fail" if outcome is Outcome.FAIL else "cannot be told"
    return f"{len(counted)} of {len(points)} questions {word}. First: {counted[0].sentence}"
