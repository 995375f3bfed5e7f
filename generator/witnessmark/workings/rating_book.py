"""Declared ratings of a project as envelopes, and which of them hold for a component."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from witnessmark.engineering.errors import EngineeringError
from witnessmark.engineering.rating import Point, checked
from witnessmark.model.records import Rating
from witnessmark.model.source import SourceLocation


@dataclass(frozen=True, slots=True)
class DeclaredEnvelope:
    """One rating: what it holds for, its points, and where it is declared. ``problem`` says why it cannot be used."""

    rating_id: str
    component: str
    applies_to: frozenset[str]
    material: str | None
    od_from_mm: float | None
    od_to_mm: float | None
    medium: str | None
    points: tuple[Point, ...]
    basis: str
    location: SourceLocation
    problem: str = ""

    def holds_for(self, names: frozenset[str], material: str | None, od_mm: float | None, medium: str | None) -> bool:
        """Whether it covers a component of these names, tube material, size and medium."""
        if self.applies_to and not self.applies_to & names:
            return False
        if self.material is not None and self.material != material:
            return False
        if self.medium is not None and self.medium != medium:
            return False
        if od_mm is None:
            return self.od_from_mm is None and self.od_to_mm is None
        above = self.od_from_mm is None or od_mm >= self.od_from_mm - 0.05
        return above and (self.od_to_mm is None or od_mm <= self.od_to_mm + 0.05)


class RatingBook:
    """All ratings of a project."""

    def __init__(self, ratings: Iterable[Rating]) -> None:
        rows: dict[str, list[Rating]] = defaultdict(list)
        for rating in ratings:
            rows[rating.rating_id].append(rating)
        self.envelopes = tuple(_envelope(rating_id, group) for rating_id, group in rows.items())
        self._by_component: dict[str, list[DeclaredEnvelope]] = defaultdict(list)
        for envelope in self.envelopes:
            self._by_component[envelope.component].append(envelope)
        self.mentioned = frozenset(name for envelope in self.envelopes for name in envelope.applies_to)
        """Every name that a rating says it is for."""
        self._found: dict[object, tuple[DeclaredEnvelope, ...]] = {}

    def find(
        self,
        component: str,
        names: Iterable[str | None],
        *,
        material: str | None = None,
        od_mm: float | None = None,
        medium: str | None = None,
    ) -> tuple[DeclaredEnvelope, ...]:
        """Every rating that covers a component; the least of them counts."""
        wanted = frozenset(name.casefold() for name in names if name)
        key = (component, wanted, material, od_mm, medium)
        if key not in self._found:
            self._found[key] = tuple(
                envelope
                for envelope in self._by_component[component]
                if envelope.holds_for(wanted, material, od_mm, medium)
            )
        return self._found[key]

    def named(self, component: str, names: Iterable[str | None]) -> tuple[DeclaredEnvelope, ...]:
        """Ratings of a component that name one of these: how a section comes to have a hose or an instrument."""
        wanted = {name.casefold() for name in names if name}
        return tuple(envelope for envelope in self._by_component[component] if envelope.applies_to & wanted)


def _envelope(rating_id: str, rows: Sequence[Rating]) -> DeclaredEnvelope:
    first = rows[0]
    problem = ""
    points: tuple[Point, ...] = ()
    described = {(r.component, r.applies_to, r.material, r.od_from_mm, r.od_to_mm, r.medium) for r in rows}
    gaps = [r for r in rows if r.temperature_c is None or r.pressure_bar is None]
    if first.component is None:
        problem = f"the component of rating {rating_id or 'without an id'}"
    elif len(described) > 1:
        name = rating_id or "without an id"
        problem = f"one description for all points of rating {name}: its rows differ in what it applies to"
    elif gaps:
        problem = f"the temperature and pressure of rating {rating_id} in {gaps[0].source.location.words}"
    else:
        pairs = sorted((float(r.temperature_c or 0), float(r.pressure_bar or 0)) for r in rows)
        try:
            points = checked(pairs)
        except EngineeringError as error:
            problem = f"a usable table for rating {rating_id}: {error}"
    return DeclaredEnvelope(
        rating_id=rating_id,
        component=first.component or "",
        applies_to=frozenset(part.strip().casefold() for part in (first.applies_to or "").split(";") if part.strip()),
        material=first.material,
        od_from_mm=first.od_from_mm,
        od_to_mm=first.od_to_mm,
        medium=first.medium,
        points=points,
        basis=first.basis or "",
        location=first.source.location,
        problem=problem,
    )
