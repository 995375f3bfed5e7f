"""The drop of a test: within tolerance, after what temperature and barometer account for, and plausible at all."""

from witnessmark.engineering import closed_pipe, gas_law, procedure
from witnessmark.engineering.errors import EngineeringError
from witnessmark.engineering.inputs import STANDARD_ATMOSPHERE
from witnessmark.model.finding import Outcome
from witnessmark.model.quantity import Input, Worked
from witnessmark.model.records import Instrument, TestStage
from witnessmark.workings.calculation import Known, calculated, given, recorded, spoken, unknown
from witnessmark.workings.formulas import BY_ID
from witnessmark.workings.practice import leak_rule
from witnessmark.workings.stage_point import Point, cannot_tell, point
from witnessmark.workings.test_scope import TestScope

GASES = frozenset({"air", "nitrogen"})
_ROUNDING = 1e-9


def recorded_drop(stage: TestStage) -> Known:
    """Start less end as recorded, bar; a rise is negative."""
    if stage.start_pressure_bar is None or stage.end_pressure_bar is None:
        names = [
            name
            for field, name in (
                ("start_pressure_bar", "the pressure at the start"),
                ("end_pressure_bar", "the pressure at the end"),
            )
            if getattr(stage, field) is None
        ]
        return Known(None, None, " and ".join(names))
    drop = stage.start_pressure_bar - stage.end_pressure_bar
    words = f"{stage.start_pressure_bar:g} − {stage.end_pressure_bar:g} bar"
    return Known(drop, Input("drop as recorded", words, stage.source.place("end_pressure_bar")))


def unexplained_gas_drop(stage: TestStage) -> Worked:
    """The drop of a gas that temperature and barometer leave unexplained."""
    needs = (
        recorded(stage, "start_pressure_bar", "pressure at the start", "bar"),
        recorded(stage, "end_pressure_bar", "pressure at the end", "bar"),
        recorded(stage, "pipe_start_c", "temperature of the pipe at the start", "°C"),
        recorded(stage, "pipe_end_c", "temperature of the pipe at the end", "°C"),
        recorded(stage, "barometer_start_mbar", "barometer at the start", "mbar"),
        recorded(stage, "barometer_end_mbar", "barometer at the end", "mbar"),
    )
    return calculated(
        "Unexplained drop",
        "gas-correction",
        needs,
        lambda p1, p2, t1, t2, b1, b2: gas_law.unexplained_drop(
            p1, p2, t1, t2, start_atmosphere=b1 / 1000, end_atmosphere=b2 / 1000
        ),
    )


def temperature_share(stage: TestStage, scope: TestScope) -> tuple[Worked, Worked]:
    """The change of pressure that temperature makes of a closed pipe of water, for much and for no trapped air, bar.

    A range to judge plausibility by, never to excuse a drop.
    """
    names = [f"Change by temperature, {share} trapped air" for share in ("with", "without")]
    needs = [
        recorded(stage, "pipe_start_c", "temperature of pipe or water at the start", "°C"),
        recorded(stage, "pipe_end_c", "temperature of pipe or water at the end", "°C"),
        recorded(stage, "start_pressure_bar", "pressure at the start", "bar"),
    ]
    if scope.wall.wall is None:
        needs.append(Known(None, None, "; ".join(scope.wall.missing)))
    wall = scope.wall.wall or closed_pipe.Wall(0.0, 0.0)
    made = []
    for name, rule in zip(names, ("air_share_high", "air_share_low"), strict=True):
        share = leak_rule(rule)

        def change(start: float, end: float, bar: float, air: float) -> float:
            pressure = bar + STANDARD_ATMOSPHERE
            if air:
                return closed_pipe.water_pressure_change(start, end, wall, pressure=pressure, air_share=air)
            # Followed step by step, an air-free pipe would soon leave the range of pressures; the rate at the start
            # bounds what is plausible.
            contents = closed_pipe.water_contents(start, pressure)
            rate = closed_pipe.pressure_per_kelvin(contents, wall, temperature=start, pressure=pressure, air_share=air)
            return rate * (end - start)

        if any(need.value is None for need in needs):
            made.append(unknown(name, "closed-pipe", [need.missing for need in needs if need.value is None]))
            continue
        worked = calculated(
            name, "closed-pipe", (*needs[:3], given(share.value, "trapped air f", "", share.basis)), change
        )
        # The formula gives bar a kelvin; the change of the record is in bar.
        made.append(
            Worked(worked.name, worked.value, "bar", 2, BY_ID["closed-pipe"].text + ", over the change of temperature",
                   worked.inputs, worked.source, worked.limits, worked.missing, worked.formula_id)
        )  # fmt: skip
    return made[0], made[1]


def drop_point(
    stage: TestStage, scope: TestScope, allowed: Known, instrument: Instrument | None
) -> tuple[Point, tuple[Worked, Worked] | None]:
    """Whether the drop is within tolerance; of a gas after correction, of water as recorded."""
    drop = recorded_drop(stage)
    place = stage.source.place("end_pressure_bar")
    if drop.value is None:
        return cannot_tell("drop", (drop.missing,), (), place), None
    if allowed.value is None:
        return cannot_tell("drop", (allowed.missing,), (), place), None
    blur = instrument.resolution_bar or 0.0 if instrument is not None else 0.0
    if stage.medium in GASES:
        corrected = unexplained_gas_drop(stage)
        if corrected.value is None:
            return cannot_tell("drop", corrected.missing, (corrected,), place), None
        return _within(
            "drop after temperature and barometer", corrected.value, allowed.value, blur, (corrected,), stage
        ), None
    if stage.medium != "water":
        return cannot_tell("drop", ("the medium of the test",), (), stage.source.place("medium")), None
    shares = temperature_share(stage, scope)
    answer = _within("drop", drop.value, allowed.value, blur, shares, stage)
    with_air, without = shares[0].value, shares[1].value
    if answer.outcome is Outcome.PASS and with_air is None:
        missing = tuple(
            f"the {words}"
            for field, words in (("pipe_start_c", "temperature at the start"), ("pipe_end_c", "temperature at the end"))
            if getattr(stage, field) is None
        )
        if missing:
            return cannot_tell("drop", missing, shares, stage.source.place("pipe_start_c")), shares
    if with_air is None or without is None or answer.outcome is Outcome.PASS:
        return answer, shares
    low, high = sorted((with_air, without))
    words = f" Temperature alone makes it change by {low:+.2g} to {high:+.2g} bar, depending on the trapped air."
    rise_fits = drop.value < 0 and low - blur - _ROUNDING <= -drop.value <= high + blur + _ROUNDING
    if rise_fits:
        return point(
            "drop", Outcome.PASS, f"The pressure rose by {spoken(-drop.value)} bar.{words}", shares, place
        ), shares
    return point("drop", answer.outcome, answer.sentence + words, shares, place), shares


def _within(
    name: str, drop: float, allowed: float, blur: float, workings: tuple[Worked, ...], stage: TestStage
) -> Point:
    place = stage.source.place("end_pressure_bar")
    # What is left of a correction below half a step of the gauge is rounding of its readings.
    judged = 0.0 if abs(drop) <= blur / 2 else drop
    try:
        verdict = procedure.judge(
            procedure.Requirement(1.0, 0.0, 0.0, allowed), procedure.Reading(judged, 0.0, uncertainty=blur)
        ).drop_within_tolerance
    except EngineeringError as error:
        return cannot_tell("drop", (f"a possible value: {error}",), workings, place)
    figure = f"{spoken(abs(drop))} bar" if abs(drop) >= 0.01 else f"{spoken(abs(drop) * 1000)} mbar"
    fact = f"The {name} is {figure}" if drop >= 0 else f"The pressure rose by {figure}"
    limit = f"{spoken(allowed)} bar" if allowed else "none"
    if verdict:
        return point("drop", Outcome.PASS, f"{fact}; allowed is {limit}.", workings, place)
    if verdict is None and drop < 0:
        return point("drop", Outcome.CANNOT_TELL, f"{fact}, and nothing recorded accounts for it.", workings, place)
    if verdict is None:
        sentence = (
            f"{fact}, allowed is {limit}, and the gauge shows steps of {spoken(blur)} bar: it cannot be told apart."
        )
        return point("drop", Outcome.CANNOT_TELL, sentence, workings, place)
    return point("drop", Outcome.FAIL, f"{fact}; allowed is {limit}.", workings, place)


def stuck_point(
    stage: TestStage, scope: TestScope, instrument: Instrument | None, shares: tuple[Worked, Worked] | None
) -> Point:
    """Whether a reading that did not move is plausible, given what the temperature did."""
    drop = recorded_drop(stage)
    place = stage.source.place("end_pressure_bar")
    needs = [
        drop,
        recorded(stage, "pipe_start_c", "temperature at the start", "°C"),
        recorded(stage, "pipe_end_c", "temperature at the end", "°C"),
    ]
    if instrument is None:
        needs.append(Known(None, None, "the gauge in the register of instruments"))
    else:
        needs.append(recorded(instrument, "resolution_bar", "resolution", "bar"))
    missing = tuple(need.missing for need in needs if need.value is None)
    if missing:
        return cannot_tell("stuck", missing, (), place)
    moved = (stage.pipe_end_c or 0.0) - (stage.pipe_start_c or 0.0)
    step = instrument.resolution_bar if instrument is not None else None
    if moved == 0:
        return point("stuck", Outcome.PASS, "The temperature did not change.", (), place)
    least, workings = _least_change(stage, scope, moved, shares)
    if least is None:
        return cannot_tell("stuck", workings[0].missing if workings else ("the medium",), workings, place)
    try:
        odd = procedure.zero_drop_is_implausible(drop.value or 0.0, moved, least / moved, step or 0.0)
    except EngineeringError as error:
        return cannot_tell("stuck", (f"a possible value: {error}",), workings, place)
    sentence = (
        f"The temperature moved by {moved:+.2g} K, which should show as {least:+.2g} bar or more; "
        f"the reading {'did not move' if not drop.value else f'moved by {-drop.value:+.2g} bar'}."
    )
    if odd:
        return point(
            "stuck",
            Outcome.FAIL,
            sentence
            + " Air in the pipe, a gauge that stuck or a figure carried over from another line would explain it.",
            workings,
            place,
        )
    return point("stuck", Outcome.PASS, sentence, workings, place)


def _least_change(
    stage: TestStage, scope: TestScope, moved: float, shares: tuple[Worked, Worked] | None
) -> tuple[float | None, tuple[Worked, ...]]:
    if stage.medium == "water":
        with_air, without = shares if shares is not None else temperature_share(stage, scope)
        if with_air.value is None or without.value is None:
            return None, (with_air,) if with_air.value is None else (without,)
        return min(with_air.value, without.value, key=abs), (with_air, without)
    if stage.medium in GASES and stage.start_pressure_bar is not None and stage.pipe_start_c is not None:
        try:
            rate = gas_law.pressure_per_kelvin(stage.start_pressure_bar, stage.pipe_start_c, STANDARD_ATMOSPHERE)
        except EngineeringError:
            return None, ()
        return rate * moved, ()
    return None, ()
