"""The components of a section and what each is declared, or worked out, to carry."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import NamedTuple

from witnessmark.engineering import hoop_stress
from witnessmark.engineering.errors import EngineeringError
from witnessmark.engineering.rating import Point, rating_at
from witnessmark.model.project import Project
from witnessmark.model.records import Section, TubeLength
from witnessmark.model.source import SourceLocation
from witnessmark.workings.materials import COLDEST_C, stress_curve
from witnessmark.workings.rating_book import DeclaredEnvelope, RatingBook
from witnessmark.workings.tube_content import TubeWorking


class EnvelopePoint(NamedTuple):
    """A point of a rating envelope: °C and bar gauge."""

    temperature_c: float
    pressure_bar: float


@dataclass(frozen=True, slots=True)
class ComponentRating:
    """One component of a section with its envelope, or what is missing for one."""

    component: str
    """'tube', 'fitting', 'seal', 'valve', 'instrument' or 'flexible'."""
    name: str
    """In words, such as 'fitting FAM-C, 22 mm'."""
    envelope: tuple[EnvelopePoint, ...]
    basis: str
    """Where the envelope is declared, or the working behind it."""
    location: SourceLocation | None
    formula_id: str
    missing: tuple[str, ...] = ()

    @property
    def known(self) -> bool:
        """Whether there is an envelope."""
        return not self.missing

    def at(self, temperature_c: float) -> float | None:
        """The rating at a temperature, bar gauge; ``None`` outside the envelope: not rated there."""
        return _rating_at(self.envelope, temperature_c)


@lru_cache(maxsize=1 << 14)
def _rating_at(envelope: tuple[EnvelopePoint, ...], temperature_c: float) -> float | None:
    return rating_at([Point(*point) for point in envelope], temperature_c)


class ComponentFinder:
    """Finds the components of sections; equal components are worked out once."""

    def __init__(self, project: Project, book: RatingBook) -> None:
        self._project = project
        self._book = book
        self._made: dict[object, tuple[ComponentRating, ...]] = {}

    def components(
        self, section: Section, medium: str | None, tubes: Sequence[TubeWorking]
    ) -> tuple[ComponentRating, ...]:
        """Every component that the records give for a section."""
        found: list[ComponentRating] = []
        sizes: dict[tuple[str | None, float | None], None] = {}
        if not tubes:
            found.extend(self._absent("tube", "tube", "a tube length"))
        for working in tubes:
            tube = working.tube
            sizes[tube.material, tube.od_mm] = None
            found.extend(self._tube(tube, working.wall_mm.value, working.wall_mm.missing))
        joints = self._project.joints_of_section.get(section.section_id, ())
        families = _distinct([section.system_family, *(joint.system_family for joint in joints)])
        seals = _distinct([section.seal, *(joint.seal for joint in joints)])
        if not families:
            found.extend(self._absent("fitting", "fittings", "the system family"))
        # Sections share what is rated by family; only one that a rating names stands for itself.
        own = (section.section_id,) if section.section_id.casefold() in self._book.mentioned else ()
        for family in families:
            for material, od in sizes or {(None, None): None}:
                found.extend(self._declared("fitting", family, (family, *own), material, od, medium))
        if not seals:
            found.extend(self._absent("seal", "seals", "the seal"))
        for seal in seals:
            found.extend(self._declared("seal", seal, (seal,), None, None, medium))
        for node_id in _distinct([section.from_node, section.to_node]):
            node = self._project.nodes.get(node_id)
            if node is not None and node.kind == "valve":
                found.extend(self._declared("valve", node_id, (node_id,), None, node.od_mm, medium))
        for component in ("instrument", "flexible"):
            names = (section.section_id, section.system_id, section.from_node, section.to_node)
            for envelope in self._book.named(component, names):
                key = (component, envelope.rating_id)
                if key not in self._made:
                    self._made[key] = (_from_envelope(component, component, envelope),)
                found.extend(self._made[key])
        return tuple({id(component): component for component in found}.values())

    def _absent(self, component: str, name: str, what: str) -> tuple[ComponentRating, ...]:
        key = (component, name, what)
        if key not in self._made:
            self._made[key] = (_missing(component, name, f"{what} of the section"),)
        return self._made[key]

    def _declared(
        self,
        component: str,
        called: str,
        names: tuple[str, ...],
        material: str | None,
        od_mm: float | None,
        medium: str | None,
    ) -> tuple[ComponentRating, ...]:
        key = (component, names, material, od_mm, medium)
        if key in self._made:
            return self._made[key]
        name = f"{component} {called}" + (f", {od_mm:g} mm" if od_mm is not None else "")
        envelopes = self._book.find(component, names, material=material, od_mm=od_mm, medium=medium)
        made = tuple(_from_envelope(component, name, envelope) for envelope in envelopes) or (
            _missing(component, name, f"a declared rating of {name}"),
        )
        self._made[key] = made
        return made

    def _tube(
        self, tube: TubeLength, wall_mm: float | None, wall_missing: tuple[str, ...]
    ) -> tuple[ComponentRating, ...]:
        key = (tube.material, tube.od_mm, wall_mm, wall_missing)
        if key in self._made:
            return self._made[key]
        name = "tube"
        if tube.od_mm is not None:
            name += f" {tube.od_mm:g}" + (f" × {wall_mm:g} mm" if wall_mm is not None else " mm")
        if tube.material is not None:
            name += f", {tube.material.replace('_', ' ')}"
        declared = self._book.find("tube", (tube.tube_series,), material=tube.material, od_mm=tube.od_mm)
        made = tuple(_from_envelope("tube", name, envelope) for envelope in declared)
        self._made[key] = made or (self._by_hoop_stress(name, tube, wall_mm, wall_missing),)
        return self._made[key]

    def _by_hoop_stress(
        self, name: str, tube: TubeLength, wall_mm: float | None, wall_missing: tuple[str, ...]
    ) -> ComponentRating:
        missing = list(wall_missing)
        if tube.material is None:
            missing.insert(0, "the material of the tube, in the tubes table")
        if tube.od_mm is None:
            missing.insert(0, "the outside diameter of the tube, in the tubes table")
        if tube.material is None or tube.od_mm is None or wall_mm is None:
            return _missing("tube", name, *missing)
        stress = self._project.settings.tube_stress.get(tube.material)
        location: SourceLocation | None = None
        points: tuple[Point, ...]
        if stress is not None:
            points = (
                Point(min(COLDEST_C, stress.up_to_c), stress.stress_mpa),
                Point(stress.up_to_c, stress.stress_mpa),
            )
            basis, location = f"{stress.source} (project)", SourceLocation("project.yml")
        else:
            curve = stress_curve(tube.material)
            if curve is None:
                return _missing("tube", name, f"an allowable stress of {tube.material.replace('_', ' ')}")
            points, basis = curve.points, curve.basis
        od_mm = tube.od_mm
        try:
            envelope = tuple(
                EnvelopePoint(point.temperature, hoop_stress.rating(od_mm, wall_mm, point.pressure))
                for point in dict.fromkeys(points)
            )
        except EngineeringError as error:
            return _missing("tube", name, f"a possible size of the tube: {error}")
        return ComponentRating("tube", name, envelope, f"hoop stress, S of {basis}", location, "hoop-rating")


def _distinct(names: Iterable[str | None]) -> list[str]:
    return list(dict.fromkeys(name for name in names if name))


def _from_envelope(component: str, name: str, envelope: DeclaredEnvelope) -> ComponentRating:
    if envelope.problem:
        return _missing(component, name, envelope.problem)
    points = tuple(EnvelopePoint(point.temperature, point.pressure) for point in envelope.points)
    basis = f"rating {envelope.rating_id}" + (f", {envelope.basis}" if envelope.basis else "")
    return ComponentRating(component, name, points, basis, envelope.location, "envelope-rating")


def _missing(component: str, name: str, *missing: str) -> ComponentRating:
    return ComponentRating(component, name, (), "", None, "envelope-rating", missing)
