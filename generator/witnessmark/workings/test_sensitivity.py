"""Could this test have seen one unpressed joint? The smallest leak its record could reveal, against the leak asked for.

Trapped air makes a section soft and hides leaks, and nobody knows how much there is: the answer is given for a low and
a high share, and is yes only where it is yes for both.
"""

from collections.abc import Callable
from dataclasses import dataclass

from witnessmark.engineering import leak_sensitivity
from witnessmark.engineering.closed_pipe import Contents, Wall, water_contents
from witnessmark.engineering.errors import EngineeringError
from witnessmark.engineering.inputs import STANDARD_ATMOSPHERE
from witnessmark.engineering.leak_sensitivity import Sensitivity
from witnessmark.model.finding import Outcome
from witnessmark.model.quantity import Worked
from witnessmark.model.records import Instrument, TestStage
from witnessmark.workings.calculation import Known, calculated, given, recorded, spoken
from witnessmark.workings.practice import leak_rule
from witnessmark.workings.test_scope import TestScope

GASES = frozenset({"air", "nitrogen"})


@dataclass(frozen=True, slots=True)
class Remedy:
    """One change that alone would have made the test able to show the leak."""

    what: str
    """'hold', 'section', 'gauge' or 'vent'."""
    sentence: str
    value: float
    unit: str


@dataclass(frozen=True, slots=True)
class TestSensitivity:
    """What one stage could have shown. Leaks mL/min; of a gas, at atmospheric pressure."""

    __test__ = False

    stage: TestStage
    smallest_leak_vented: Worked
    """With the low share of trapped air."""
    smallest_leak_with_air: Worked
    """With the high share; of a gas test, the same figure."""
    reference_leak: Worked
    air_share_low: float
    air_share_high: float
    visible_drop_bar: Known
    remedies: tuple[Remedy, ...]
    outcome: Outcome
    sentence: str


def sensitivity_of(
    stage: TestStage, scope: TestScope, instrument: Instrument | None, hold: Known, allowed_drop_bar: float | None
) -> TestSensitivity:
    """Work one stage out. ``hold``, min, as the verdict takes it; ``allowed_drop_bar`` as the procedure says."""
    gas = stage.medium in GASES
    rule = leak_rule("gas_leak_reference" if gas else "drop_a_second")
    low, high = (0.0, 0.0) if gas else (leak_rule("air_share_low").value, leak_rule("air_share_high").value)
    drop = _visible_drop(stage, instrument, allowed_drop_bar)
    formula = "smallest-leak-gas" if gas else "smallest-leak-water"
    reference = Worked(
        "Leak to be found", rule.value, "mL/min", 1, "as the rule says", (), rule.basis, formula_id=formula
    )
    compute = _gas(stage, rule.value) if gas else _water(stage, scope, rule.value)
    needs = _needs(stage, scope, drop, hold, gas)
    results: list[Worked] = []
    figures: list[Sensitivity | None] = []
    for share in (low, high):
        shared = needs if gas else [*needs, given(share, "trapped air f", "", leak_rule("air_share_high").basis)]
        found: list[Sensitivity] = []

        def leak(*values: float, share: float = share, found: list[Sensitivity] = found) -> float:
            found.append(compute(values[0], values[1], values[2], share))
            return found[0].smallest_leak

        name = "Smallest leak that could show" + ("" if gas else f", {share * 100:g} % trapped air")
        results.append(calculated(name, formula, shared, leak))
        figures.append(found[0] if found else None)
    outcome, sentence = _answer(results, rule.value, gas)
    remedies = _remedies(stage, figures[1], rule.value, drop, hold, scope, gas) if outcome is not Outcome.PASS else ()
    return TestSensitivity(stage, results[0], results[1], reference, low, high, drop, remedies, outcome, sentence)


def _visible_drop(stage: TestStage, instrument: Instrument | None, allowed: float | None) -> Known:
    """The resolution of the gauge or the drop that the procedure lets pass, whichever is more."""
    if instrument is None:
        place = stage.source.place("instrument_id").words
        return Known(None, None, f"the gauge in the register of instruments, named in {place}")
    step = recorded(instrument, "resolution_bar", "resolution", "bar")
    if step.value is None:
        return step
    if allowed is not None and allowed > step.value:
        return given(allowed, "smallest visible drop Δp", "bar", "drop that the procedure lets pass")
    if step.value <= 0:
        return Known(None, None, f"a resolution above zero in {instrument.source.place('resolution_bar').words}")
    return step


def _needs(stage: TestStage, scope: TestScope, drop: Known, hold: Known, gas: bool) -> list[Known]:
    needs = [scope.volume_l, drop, hold]
    if gas:
        return [*needs, _atmosphere(stage)]
    if scope.wall.missing:
        needs.append(Known(None, None, "; ".join(scope.wall.missing)))
    else:
        needs.append(given(scope.wall.wall.compliance if scope.wall.wall else 0.0, "growth of the bore c", "1/bar",
                           scope.wall.basis))  # fmt: skip
    return [
        *needs,
        recorded(stage, "start_pressure_bar", "pressure at the start", "bar"),
        recorded(stage, "pipe_start_c", "temperature of pipe or water at the start", "°C"),
        _atmosphere(stage),
    ]


def _atmosphere(stage: TestStage) -> Known:
    if stage.barometer_start_mbar is not None:
        return given(stage.barometer_start_mbar / 1000, "atmosphere pa", "bar", "barometer of the record")
    return given(STANDARD_ATMOSPHERE, "atmosphere pa", "bar", "standard atmosphere: no barometer is recorded")


Leak = Callable[[float, float, float, float], Sensitivity]


def _gas(stage: TestStage, reference: float) -> Leak:
    atmosphere = _atmosphere(stage).value or STANDARD_ATMOSPHERE

    def leak(volume: float, drop: float, hold: float, _share: float) -> Sensitivity:
        return leak_sensitivity.gas_test(
            volume, atmosphere=atmosphere, visible_drop=drop, hold=hold, reference_leak=reference
        )

    return leak


def _water(stage: TestStage, scope: TestScope, reference: float) -> Leak:
    def leak(volume: float, drop: float, hold: float, share: float) -> Sensitivity:
        contents, wall, pressure = _filling(stage, scope)
        return leak_sensitivity.water_test(
            volume,
            contents,
            wall,
            pressure=pressure,
            air_share=share,
            visible_drop=drop,
            hold=hold,
            reference_leak=reference,
        )

    return leak


def _filling(stage: TestStage, scope: TestScope) -> tuple[Contents, Wall, float]:
    pressure = (stage.start_pressure_bar or 0.0) + (_atmosphere(stage).value or STANDARD_ATMOSPHERE)
    return water_contents(stage.pipe_start_c or 0.0, pressure), scope.wall.wall or Wall(0.0, 0.0), pressure


def _answer(results: list[Worked], reference: float, gas: bool) -> tuple[Outcome, str]:
    low, high = results[0].value, results[1].value
    asked = f"{spoken(reference)} mL/min" + (" of gas" if gas else ", one drop a second")
    if low is None or high is None:
        missing = dict.fromkeys([*results[0].missing, *results[1].missing])
        return Outcome.CANNOT_TELL, f"It cannot be told what it could have shown: missing is {'; '.join(missing)}."
    if gas:
        if high <= reference:
            return Outcome.PASS, f"It could have shown {spoken(high)} mL/min of gas, less than the {asked} asked for."
        return Outcome.FAIL, f"The smallest leak it could show is {spoken(high)} mL/min of gas; asked for is {asked}."
    span = f"{spoken(low)} mL/min well vented, {spoken(high)} mL/min with trapped air"
    if high <= reference:
        return Outcome.PASS, f"It could have shown one unpressed joint: the smallest leak is {span}; asked is {asked}."
    if low <= reference:
        return Outcome.CANNOT_TELL, f"It depends on the trapped air: the smallest leak is {span}; asked is {asked}."
    return (
        Outcome.FAIL,
        f"The gauge alone would have missed one unpressed joint: the smallest leak is {span}; asked is {asked}.",
    )


def _remedies(
    stage: TestStage,
    figures: Sensitivity | None,
    reference: float,
    drop: Known,
    hold: Known,
    scope: TestScope,
    gas: bool,
) -> tuple[Remedy, ...]:
    if figures is None:
        return ()
    remedies = [
        Remedy("hold", f"Hold {figures.hold_needed:.0f} min instead of {spoken(hold.value)} min.",
               figures.hold_needed, "min"),
        Remedy("section", f"Test no more than {figures.volume_needed:.0f} L at a time instead of "
               f"{scope.volume_l.value or 0:.0f} L.", figures.volume_needed, "L"),
        Remedy("gauge", f"Use a gauge that shows {spoken(figures.drop_needed)} bar instead of "
               f"{spoken(drop.value)} bar.",
               figures.drop_needed, "bar"),
    ]  # fmt: skip
    if not gas:
        try:
            contents, wall, pressure = _filling(stage, scope)
            share = leak_sensitivity.highest_air_share(
                scope.volume_l.value or 0.0,
                contents,
                wall,
                pressure=pressure,
                visible_drop=drop.value or 0.0,
                hold=hold.value or 0.0,
                reference_leak=reference,
            )
        except EngineeringError:
            share = None
        if share is not None:
            sentence = f"Vent it until no more than {share * 100:.2g} % of the content is air."
            remedies.append(Remedy("vent", sentence, share * 100, "%"))
    return tuple(remedies)
