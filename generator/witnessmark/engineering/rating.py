"""The rating envelope: what pressure the weakest component of a section carries at a temperature.

An envelope is a table of temperature and pressure, straight between its points, and says nothing outside them: there
the component is not rated, and a component that is not rated governs. Cautions of the maker outrank every figure here.
"""

from bisect import bisect_right
from collections.abc import Mapping, Sequence
from itertools import pairwise
from typing import NamedTuple

from witnessmark.engineering.errors import BadEnvelopeError
from witnessmark.engineering.inputs import finite, kelvin, not_negative, positive, result


class Point(NamedTuple):
    """temperature, [°C]; pressure, [bar g]."""

    temperature: float
    pressure: float


Envelope = Sequence[Point]


class Weakest(NamedTuple):
    """The component that governs, and its rating, [bar g]; None where it is not rated at that temperature."""

    component: str
    rating: float | None


def checked(points: Sequence[tuple[float, float]]) -> tuple[Point, ...]:
    """Return an envelope after looking it over: one point at least, temperatures rising, no negative pressure."""
    if not points:
        raise BadEnvelopeError("it has no points")
    envelope = []
    for temperature, pressure in points:
        kelvin("temperature of the rating table", temperature)
        envelope.append(Point(float(temperature), not_negative("pressure of the rating table", pressure, "bar")))
    for before, after in pairwise(envelope):
        if after.temperature <= before.temperature:
            raise BadEnvelopeError(f"{after.temperature:g} °C does not come after {before.temperature:g} °C")
    return tuple(envelope)


def rating_at(envelope: Envelope, temperature: float) -> float | None:
    """Return the rating at a temperature, [bar g], by straight lines; None outside the table: not rated there."""
    celsius = finite("temperature", temperature)
    kelvin("temperature", celsius)
    if not envelope:
        raise BadEnvelopeError("it has no points")
    if not envelope[0].temperature <= celsius <= envelope[-1].temperature:
        return None
    after = bisect_right(envelope, celsius, key=lambda point: point.temperature)
    if after == len(envelope):
        return envelope[-1].pressure
    low, high = envelope[after - 1], envelope[after]
    share = (celsius - low.temperature) / (high.temperature - low.temperature)
    return low.pressure + share * (high.pressure - low.pressure)


def weakest(components: Mapping[str, Envelope], temperature: float) -> Weakest:
    """Return the component that governs at a temperature: an unrated one first, then by name."""
    if not components:
        raise BadEnvelopeError("the section has no rated component")
    ratings = {name: rating_at(components[name], temperature) for name in sorted(components)}
    unrated = [name for name, bar in ratings.items() if bar is None]
    if unrated:
        return Weakest(unrated[0], None)
    name = min(ratings, key=lambda each: ratings[each] or 0.0)
    return Weakest(name, ratings[name])


def lowest(components: Mapping[str, Envelope]) -> tuple[Point, ...]:
    """Return the envelope of the whole section, where every component is rated; empty if that is nowhere.

    Corners are added where two envelopes cross, so that straight lines between the points are exact.
    """
    if not components:
        raise BadEnvelopeError("the section has no rated component")
    envelopes = list(components.values())
    start = max(envelope[0].temperature for envelope in envelopes)
    end = min(envelope[-1].temperature for envelope in envelopes)
    if start > end:
        return ()
    corners = {point.temperature for envelope in envelopes for point in envelope if start <= point.temperature <= end}
    corners |= {start, end}
    for low, high in pairwise(sorted(corners)):
        corners |= _crossings(envelopes, low, high)
    return tuple(Point(corner, _least(envelopes, corner)) for corner in sorted(corners))


def margin(rating: float, pressure: float) -> float:
    """Return the share of the rating not used (P_rating - p)/P_rating, [1]; negative when the pressure is above it.

    Parameters: both, [bar g], at the same height: static head, pump head and surge belong in the pressure.
    """
    bar = positive("rating", rating, "bar")
    return result("margin", (bar - finite("pressure", pressure)) / bar)


def _least(envelopes: Sequence[Envelope], temperature: float) -> float:
    return min(bar for envelope in envelopes if (bar := rating_at(envelope, temperature)) is not None)


def _crossings(envelopes: Sequence[Envelope], low: float, high: float) -> set[float]:
    ends = [(rating_at(envelope, low) or 0.0, rating_at(envelope, high) or 0.0) for envelope in envelopes]
    found = set()
    for index, (a_low, a_high) in enumerate(ends):
        for b_low, b_high in ends[index + 1 :]:
            before, after = a_low - b_low, a_high - b_high
            if before * after < 0:
                found.add(low + (high - low) * before / (before - after))
    return found
