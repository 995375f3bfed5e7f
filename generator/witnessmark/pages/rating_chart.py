"""The rating of a section as a drawing: pressure against temperature, with what the section sees beside it."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

from witnessmark.pages.axis import Axis, Tick, place, round_ends, ticks_of
from witnessmark.pages.chart_label import LINE, Box, Label, Wanted, placed
from witnessmark.pages.words import counted
from witnessmark.workings.component_rating import ComponentRating, EnvelopePoint
from witnessmark.workings.section_rating import SectionRating, ServicePoint

LEFT, RIGHT, TOP, BOTTOM = 34.0, 342.0, 24.0, 276.0
MARK = 5.0
HEADROOM = 1.25

SHAPES = {"operating": "circle", "upset": "triangle", "coldest": "diamond", "test": "square"}
PLURALS = {"tube": "tubes", "fitting": "fittings", "seal": "seals", "valve": "valves", "instrument": "instruments",
           "flexible": "flexibles"}  # fmt: skip


class Mark(NamedTuple):
    """A point of the drawing: its shape and place."""

    shape: str
    x: str
    y: str


@dataclass(frozen=True, slots=True)
class RatingChart:
    """Everything the drawing needs, in units of its own."""

    title: str
    description: str
    x_ticks: tuple[Tick, ...]
    y_ticks: tuple[Tick, ...]
    components: tuple[str, ...]
    """Thin lines."""
    envelope: str
    area: str
    boiling: str
    marks: tuple[Mark, ...]
    labels: tuple[Label, ...]
    note: str


def _path(points: Iterable[tuple[float, float]]) -> str:
    return "M" + "L".join(f"{place(x)} {place(y)}" for x, y in points)


def _clipped(points: Sequence[EnvelopePoint], x: Axis, y: Axis) -> list[tuple[float, float]]:
    """The part of a line below the top and between the sides of the drawing, as points of the drawing."""
    inside: list[tuple[float, float]] = []
    for n, a in enumerate(points[:-1]):
        b = points[n + 1]
        ends: list[tuple[float, float]] = []
        for share in sorted({0.0, 1.0, *_cuts(a, b, x, y)}):
            celsius = a.temperature_c + share * (b.temperature_c - a.temperature_c)
            bar = a.pressure_bar + share * (b.pressure_bar - a.pressure_bar)
            if x.inside(celsius) and y.inside(bar):
                ends.append((x.at(celsius), y.at(bar)))
        inside += [end for end in ends if not inside or end != inside[-1]]
    return inside


def _cuts(a: EnvelopePoint, b: EnvelopePoint, x: Axis, y: Axis) -> Iterable[float]:
    for start, end, low, high in (
        (a.temperature_c, b.temperature_c, x.low, x.high),
        (a.pressure_bar, b.pressure_bar, y.low, y.high),
    ):
        for edge in (low, high):
            if start != end and 0 < (share := (edge - start) / (end - start)) < 1:
                yield share


def _axes(rating: SectionRating, points: Sequence[ServicePoint]) -> tuple[Axis, Axis]:
    shown: list[EnvelopePoint | ServicePoint] = [*rating.envelope, *points]
    celsius, bar = [p.temperature_c for p in shown], [p.pressure_bar for p in shown]
    x_low, x_high = round_ends(min(celsius), max(celsius) + 0.02 * (max(celsius) - min(celsius)), 6)
    _, y_high = round_ends(0.0, HEADROOM * max(bar), 5)
    return Axis(x_low, x_high, LEFT, RIGHT), Axis(0.0, y_high, BOTTOM, TOP)


def _kind_words(parts: Sequence[ComponentRating], numbers: dict[str, int]) -> str:
    kinds = dict.fromkeys(part.component for part in parts)
    words = []
    for kind in kinds:
        many = sum(part.component == kind for part in parts) > 1
        words.append(PLURALS[kind] if many else kind)
    return f"{', '.join(words)} ({runs([numbers[part.name] for part in parts])})"


def runs(numbers: Sequence[int]) -> str:
    """'2–4, 7' of 2, 3, 4 and 7."""
    ordered = sorted(set(numbers))
    parts: list[list[int]] = []
    for number in ordered:
        if parts and number == parts[-1][-1] + 1:
            parts[-1].append(number)
        else:
            parts.append([number])
    return ", ".join(f"{p[0]}–{p[-1]}" if len(p) > 1 else f"{p[0]}" for p in parts)


def stage_of_point(point: ServicePoint) -> str:
    """The stage of a test, out of the label of its point: 'PT-014, strength: 4.6 bar at the lowest point'."""
    return point.label.rpartition(": ")[0].rpartition(", ")[2]


def _point_words(points: Sequence[ServicePoint]) -> str:
    kinds = dict.fromkeys(point.kind for point in points)
    words = []
    for kind in kinds:
        number = sum(point.kind == kind for point in points)
        stages = {stage_of_point(point) for point in points if point.kind == "test"}
        stage = f"{stages.pop()} test" if len(stages) == 1 else "test"
        words.append(kind if kind != "test" else stage if number == 1 else counted(number, stage))
    return ", ".join(words)


def _on_the_way(line: Sequence[tuple[float, float]]) -> Iterable[Box]:
    """Small boxes along a line, so that labels keep off it."""
    for (x1, y1), (x2, y2) in pairwise(line):
        steps = max(1, int(max(abs(x2 - x1), abs(y2 - y1)) / 4))
        for n in range(steps + 1):
            x, y = x1 + (x2 - x1) * n / steps, y1 + (y2 - y1) * n / steps
            yield Box(x - 1.5, y - 1.5, x + 1.5, y + 1.5)


def rating_chart(
    rating: SectionRating, points: Sequence[ServicePoint], numbers: dict[str, int], title: str
) -> RatingChart:
    """The drawing of a complete envelope. ``numbers`` are those of the table beside it, by component name."""
    x, y = _axes(rating, points)
    lines: dict[str, list[ComponentRating]] = defaultdict(list)
    ends: dict[tuple[float, float], list[ComponentRating]] = defaultdict(list)
    above: list[ComponentRating] = []
    taken: list[Box] = []
    for component in rating.components:
        line = _clipped(component.envelope, x, y)
        if len(line) < 2:
            above.append(component)
            continue
        path = _path(line)
        if path not in lines:
            taken += _on_the_way(line)
        lines[path].append(component)
        ends[round(line[-1][0]), round(line[-1][1])].append(component)
    boiling = _clipped(rating.boiling_curve, x, y)
    taken += _on_the_way(boiling)
    spots: dict[tuple[float, float], list[ServicePoint]] = defaultdict(list)
    for point in points:
        spots[round(x.at(point.temperature_c)), round(y.at(point.pressure_bar))].append(point)
    taken += [Box(px - MARK, py - MARK, px + MARK, py + MARK) for px, py in spots]
    wanted = [Wanted(px, py, _point_words(each), MARK) for (px, py), each in spots.items()]
    wanted += [Wanted(px, py, _kind_words(each, numbers), 1) for (px, py), each in ends.items()]
    if len(boiling) > 1:
        wanted.append(Wanted(*boiling[len(boiling) // 2], "water boils below", 1))
    envelope = _clipped(rating.envelope, x, y)
    if len(envelope) > 1:
        first, second = envelope[0], envelope[1]
        spot = (first[0] * 0.6 + second[0] * 0.4, first[1] + 0.4 * (second[1] - first[1]) + LINE)
        wanted.append(Wanted(*spot, "weakest component", 0))
    frame = Box(LEFT + 1, TOP - LINE, RIGHT + 12, BOTTOM - 1)
    corner = [(envelope[-1][0], BOTTOM), (envelope[0][0], BOTTOM)] if envelope else []
    note = ""
    if above:
        note = f"Rated above the top of the drawing: {_kind_words(above, numbers)}."
    return RatingChart(
        title=title,
        description=_described(rating, points),
        x_ticks=ticks_of(x, 6),
        y_ticks=ticks_of(y, 5),
        components=tuple(lines),
        envelope=_path(envelope) if envelope else "",
        area=_path([*envelope, *corner]) + "Z" if envelope else "",
        boiling=_path(boiling) if len(boiling) > 1 else "",
        marks=tuple(
            Mark(SHAPES[kind], place(px), place(py))
            for (px, py), each in spots.items()
            for kind in dict.fromkeys(point.kind for point in each)
        ),
        labels=placed(wanted, taken, frame),
        note=note,
    )


def _described(rating: SectionRating, points: Sequence[ServicePoint]) -> str:
    corners = "; ".join(f"{p.pressure_bar:.3g} bar at {p.temperature_c:.3g} °C" for p in rating.envelope)
    seen = "; ".join(f"{p.kind} {p.pressure_bar:.3g} bar at {p.temperature_c:.3g} °C" for p in points)
    return (
        f"The weakest component carries {corners}. "
        + (f"Marked are: {seen}. " if seen else "")
        + ("The table beside it holds the same figures.")
    )
