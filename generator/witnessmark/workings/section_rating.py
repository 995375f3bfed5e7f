"""What a section may carry: its weakest component at each temperature, the pressures it sees, and the margin."""

from dataclasses import dataclass

from witnessmark.engineering import head, rating, water
from witnessmark.engineering.inputs import STANDARD_ATMOSPHERE
from witnessmark.model.finding import Outcome
from witnessmark.model.project import Project
from witnessmark.model.quantity import Input, Worked
from witnessmark.model.records import Section, System
from witnessmark.workings.calculation import (
    Known,
    Limits,
    calculated,
    given,
    of_worked,
    recorded,
    spoken,
    unknown,
    written,
)
from witnessmark.workings.component_rating import ComponentFinder, ComponentRating, EnvelopePoint
from witnessmark.workings.formulas import BY_ID
from witnessmark.workings.rating_book import RatingBook
from witnessmark.workings.seal_media import SealAnswer, seal_answer
from witnessmark.workings.tube_content import TubeWorking

WATERS = frozenset({"water", "treated_water", "drinking_water", "condensate"})
GASES = frozenset({"compressed_air", "natural_gas", "nitrogen"})
DENSEST_WATER = 1000.0
"""kg/m³, rounded up from 999.97 at 4 °C: no plain water makes more head."""


@dataclass(frozen=True, slots=True)
class RatedState:
    """A section in one state: its temperature and pressure against what its weakest component carries there."""

    name: str
    """'operating', 'upset' or 'coldest'."""
    temperature_c: Worked
    pressure_bar: Worked
    """At the lowest point of the section."""
    rating_bar: Worked
    governs: str
    """Component with the least rating among those known; empty where none is."""
    margin_percent: Worked
    outcome: Outcome
    sentence: str


@dataclass(frozen=True, slots=True)
class ServicePoint:
    """A point on the chart beside the envelope."""

    kind: str
    """'operating', 'upset', 'coldest' or 'test'."""
    label: str
    temperature_c: float
    pressure_bar: float
    outcome: Outcome


@dataclass(frozen=True, slots=True)
class SectionRating:
    """The rating of one section. Pressures bar gauge, temperatures °C."""

    section_id: str
    components: tuple[ComponentRating, ...]
    envelope: tuple[EnvelopePoint, ...]
    """Of the weakest component among those known, where all of these are rated."""
    operating: RatedState
    upset: RatedState
    coldest: RatedState
    low_point_bar: Worked
    static_head_bar: Worked
    high_point_bar: Worked
    boiling_bar: Worked
    """Least gauge pressure that keeps the water liquid at the highest temperature it can have."""
    boiling_curve: tuple[EnvelopePoint, ...]
    seals: tuple[SealAnswer, ...]
    points: tuple[ServicePoint, ...]
    outcome: Outcome
    sentence: str
    missing: tuple[str, ...]

    @property
    def complete(self) -> bool:
        """Whether every component has an envelope, so that the envelope is that of the whole section."""
        return all(component.known for component in self.components)

    @property
    def states(self) -> tuple[RatedState, ...]:
        """All states, in the order in which people ask."""
        return (self.operating, self.upset, self.coldest)


_WORSE = {Outcome.PASS: 0, Outcome.WAIVED: 1, Outcome.CANNOT_TELL: 2, Outcome.FAIL: 3}


def worst(outcomes: list[Outcome]) -> Outcome:
    """The worst of several answers; none at all is 'cannot tell'."""
    return max(outcomes, key=lambda outcome: _WORSE[outcome], default=Outcome.CANNOT_TELL)


class RatingWork:
    """Works the ratings of a project's sections out; what sections share is worked out once."""

    def __init__(self, project: Project) -> None:
        self.book = RatingBook(project.records.ratings)
        self._project = project
        self._finder = ComponentFinder(project, self.book)
        self._limits = Limits()
        # Components live as long as their finder, which keeps one of each, so that their identity can stand for them.
        self._envelopes: dict[tuple[tuple[EnvelopePoint, ...], ...], tuple[EnvelopePoint, ...]] = {}
        self._states: dict[tuple[str, tuple[int, ...], Known, Known], RatedState] = {}
        self._curve = tuple(
            EnvelopePoint(float(celsius), water.least_gauge_pressure(celsius, STANDARD_ATMOSPHERE))
            for celsius in range(100, 181, 5)
        )

    def rate(self, section: Section, tubes: tuple[TubeWorking, ...]) -> SectionRating:
        """Rate one section."""
        system = self._project.systems.get(section.system_id) if section.system_id else None
        medium = system.medium if system is not None else None
        components = self._finder.components(section, medium, tubes)
        limit = self._limits.of
        pressure = limit(section, system, "max_operating_pressure_bar", "maximum operating pressure", "bar")
        hottest = limit(section, system, "max_temperature_c", "highest temperature", "°C")
        coldest = limit(section, system, "min_temperature_c", "lowest temperature", "°C")
        upset = limit(section, system, "upset_temperature_c", "upset temperature", "°C")
        states = (
            self._state("operating", components, hottest, pressure),
            self._state("upset", components, upset, self._design_pressure(section, system)),
            self._state("coldest", components, coldest, pressure),
        )
        low_point, static_head, high_point = _heads(section, medium, pressure, coldest)
        boiling = _boiling(medium, upset if upset.value is not None else hottest)
        seals = self._seals(section, medium, coldest, hottest, upset)
        missing = tuple(dict.fromkeys(reason for part in components for reason in part.missing))
        outcome = worst([state.outcome for state in states])
        return SectionRating(
            section_id=section.section_id,
            components=components,
            envelope=self._envelope(components),
            operating=states[0],
            upset=states[1],
            coldest=states[2],
            low_point_bar=low_point,
            static_head_bar=static_head,
            high_point_bar=high_point,
            boiling_bar=boiling,
            boiling_curve=self._curve if medium in WATERS else (),
            seals=seals,
            points=tuple(point for state in states if (point := _point(state)) is not None),
            outcome=outcome,
            sentence=next(state.sentence for state in states if state.outcome is outcome),
            missing=missing,
        )

    def _state(self, name: str, components: tuple[ComponentRating, ...], celsius: Known, pressure: Known) -> RatedState:
        key = (name, tuple(map(id, components)), celsius, pressure)
        if key not in self._states:
            self._states[key] = _state(name, components, celsius, pressure)
        return self._states[key]

    def _design_pressure(self, section: Section, system: System | None) -> Known:
        design = self._limits.of(section, system, "max_design_pressure_bar", "maximum design pressure", "bar")
        if design.value is None and system is not None and system.relief_set_bar is not None:
            return recorded(system, "relief_set_bar", "relief setting", "bar")
        return design

    def _envelope(self, components: tuple[ComponentRating, ...]) -> tuple[EnvelopePoint, ...]:
        envelopes = tuple(dict.fromkeys(component.envelope for component in components if component.known))
        if not envelopes:
            return ()
        if envelopes not in self._envelopes:
            named = {
                str(number): [rating.Point(*point) for point in envelope] for number, envelope in enumerate(envelopes)
            }
            self._envelopes[envelopes] = tuple(EnvelopePoint(*point) for point in rating.lowest(named))
        return self._envelopes[envelopes]

    def _seals(
        self, section: Section, medium: str | None, coldest: Known, hottest: Known, upset: Known
    ) -> tuple[SealAnswer, ...]:
        joints = self._project.joints_of_section.get(section.section_id, ())
        used = dict.fromkeys([section.seal, *(joint.seal for joint in joints)])
        places = {section.seal: section.source.place("seal")}
        for joint in joints:
            if joint.seal is not None and joint.seal not in places:
                places[joint.seal] = joint.source.place("seal")
        temperatures = (
            ("lowest temperature", coldest.value),
            ("highest temperature", hottest.value),
            ("upset temperature", upset.value),
        )
        seals: list[str | None] = [seal for seal in used if seal is not None]
        system = self._project.systems.get(section.system_id or "")
        oil_free = system.oil_free if system is not None else None
        return tuple(
            seal_answer(seal, medium, temperatures, self.book, places.get(seal), oil_free) for seal in seals or [None]
        )


def _as_worked(name: str, known: Known, unit: str, places: int) -> Worked:
    return Worked(
        name,
        known.value,
        unit,
        places,
        "as recorded",
        (known.input,) if known.input is not None else (),
        missing=() if known.value is not None else (known.missing,),
    )


def _state(name: str, components: tuple[ComponentRating, ...], celsius: Known, pressure: Known) -> RatedState:
    temperature = _as_worked(f"{name.capitalize()} temperature", celsius, "°C", 0)
    bar = _as_worked(f"{name.capitalize()} pressure", pressure, "bar", 1)
    inputs = [celsius.input] if celsius.input is not None else []
    missing = [reason for component in components for reason in component.missing]
    lowest: float | None = None
    governs = unrated = ""
    if celsius.value is None:
        missing.insert(0, celsius.missing)
    else:
        for component in components:
            if not component.known:
                continue
            value = component.at(celsius.value)
            if value is None:
                unrated = min(unrated or component.name, component.name)
                missing.append(f"a rating of {component.name} at {celsius.value:g} °C")
                continue
            inputs.append(Input(component.name, written(value, "bar"), component.location, component.basis))
            # Of equals the first by name: the order of rows must not show.
            if lowest is None or (value, component.name) < (lowest, governs):
                lowest, governs = value, component.name
    formula = BY_ID["section-rating"]
    rated = (
        unknown("Rating of the section", formula.id, missing, inputs)
        if missing or lowest is None
        else Worked(
            "Rating of the section", lowest, "bar", 1, formula.text, tuple(inputs), formula.citation, formula.validity,
            (), formula.id,
        )
    )  # fmt: skip
    margin = calculated(
        "Margin", "rating-margin", (of_worked(rated), pressure), lambda pr, p: 100 * rating.margin(pr, p)
    )
    outcome, sentence = _judged(name, celsius, pressure, lowest, governs, unrated, missing)
    return RatedState(name, temperature, bar, rated, governs, margin, outcome, sentence)


def _judged(
    name: str,
    celsius: Known,
    pressure: Known,
    lowest: float | None,
    governs: str,
    unrated: str,
    missing: list[str],
) -> tuple[Outcome, str]:
    at = f"{celsius.value:g} °C" if celsius.value is not None else ""
    if pressure.value is not None and lowest is not None and pressure.value > lowest + 1e-9:
        return Outcome.FAIL, (
            f"At {at} ({name}) {governs} is rated {spoken(lowest)} bar; the pressure is {spoken(pressure.value)} bar."
        )
    if unrated:
        return Outcome.FAIL, f"At {at} ({name}) {unrated} is not rated: the temperature lies outside its table."
    if pressure.value is None:
        missing = [*missing, pressure.missing]
    if missing or lowest is None:
        reasons = list(dict.fromkeys(missing)) or ["a rated component"]
        more = f" and {len(reasons) - 3} more" if len(reasons) > 3 else ""
        return Outcome.CANNOT_TELL, f"It cannot be told ({name}): missing is {'; '.join(reasons[:3])}{more}."
    return Outcome.PASS, (
        f"At {at} ({name}) the weakest component, {governs}, is rated {spoken(lowest)} bar; "
        f"the pressure is {spoken(pressure.value)} bar."
    )


def _point(state: RatedState) -> ServicePoint | None:
    if state.temperature_c.value is None or state.pressure_bar.value is None:
        return None
    label = f"{state.name}: {state.temperature_c.value:g} °C, {spoken(state.pressure_bar.value)} bar"
    return ServicePoint(state.name, label, state.temperature_c.value, state.pressure_bar.value, state.outcome)


def water_density(celsius: float | None, name: str) -> Known:
    """Density of plain water at a recorded temperature; without one the densest water: the most head there can be."""
    if celsius is None or not water.LOWEST <= celsius <= water.HIGHEST:
        return given(DENSEST_WATER, "density ρ", "kg/m³", "densest water, the most head there can be: no temperature")
    return given(round(water.density(celsius), 2), "density ρ", "kg/m³", f"water at the {name} of {celsius:g} °C, Kell")


def _heads(section: Section, medium: str | None, pressure: Known, coldest: Known) -> tuple[Worked, Worked, Worked]:
    # The recorded maximum is the highest there is, so it is taken to be that of the lowest point.
    low_point = _as_worked("Working pressure at the lowest point", pressure, "bar", 1)
    high = recorded(section, "elevation_high_m", "elevation of the highest point", "m")
    low = recorded(section, "elevation_low_m", "elevation of the lowest point", "m")
    if medium in GASES:
        density = given(0.0, "density ρ", "kg/m³", "gas: its column is left out")
    elif medium in WATERS:
        density = water_density(coldest.value, "lowest temperature")
    else:
        words = (medium or "the medium, which is not recorded").replace("_", " ")
        density = Known(None, None, f"the density of {words}")

    def column(upper: float, lower: float, rho: float) -> float:
        return head.static_head(upper - lower, rho) if rho else 0.0

    static_head = calculated("Static head over the section", "static-head", (high, low, density), column)
    high_point = calculated(
        "Working pressure at the highest point",
        "pressure-at-height",
        (pressure, of_worked(static_head)),
        lambda bar, fall: bar - fall,
    )
    return low_point, static_head, high_point


def _boiling(medium: str | None, hottest: Known) -> Worked:
    name = "Pressure that keeps it liquid"
    if medium not in WATERS:
        what = "plain water as the medium: the formula is for that alone"
        return unknown(name, "boiling-limit", (what,))
    atmosphere = given(STANDARD_ATMOSPHERE, "atmosphere pa", "bar", "standard atmosphere, ISO 2533")
    return calculated(name, "boiling-limit", (hottest, atmosphere), water.least_gauge_pressure)
