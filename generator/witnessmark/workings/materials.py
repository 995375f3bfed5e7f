"""Properties of tube materials out of ``shared/reference/materials.csv``, with their standing.

The records name a material, not always its grade: where grades differ, the figure that is on the careful side for the
question is taken, and the grade is named with it.
"""

import csv
from dataclasses import dataclass
from functools import cache
from typing import Literal

from witnessmark.engineering.rating import Point
from witnessmark.model.bundled import shared_path

COLDEST_C = -24.0


@dataclass(frozen=True, slots=True)
class MaterialFigure:
    """A property of a material: value in the unit of the table, and where it is from."""

    value: float
    unit: str
    basis: str


@dataclass(frozen=True, slots=True)
class StressCurve:
    """Allowable stress, MPa, over temperature, °C."""

    points: tuple[Point, ...]
    basis: str


@cache
def _rows() -> tuple[dict[str, str], ...]:
    with shared_path("reference/materials.csv").open(encoding="utf-8", newline="") as handle:
        return tuple(csv.DictReader(handle))


def _basis(row: dict[str, str]) -> str:
    edition = f", {row['edition']}" if row["edition"] else ""
    return f"{row['grade']}: {row['source']}{edition} ({row['standing']})"


@cache
def material_figure(material: str, name: str, take: Literal["lowest", "highest"]) -> MaterialFigure | None:
    """The lowest or highest value over the grades of a material; ``None`` where the table has none."""
    rows = [row for row in _rows() if row["material"] == material and row["property"] == name]
    if not rows:
        return None
    row = (min if take == "lowest" else max)(rows, key=lambda row: float(row["value"]))
    return MaterialFigure(float(row["value"]), row["unit"], _basis(row))


@cache
def stress_curve(material: str) -> StressCurve | None:
    """The weakest grade's allowable stress; kept constant below the lowest tabulated temperature."""
    rows = [row for row in _rows() if row["material"] == material and row["property"] == "allowable_stress"]
    grades: dict[str, list[dict[str, str]]] = {}
    for row in rows:
        grades.setdefault(row["grade"], []).append(row)
    if not grades:
        return None
    weakest = min(grades.values(), key=lambda grade: min(float(row["value"]) for row in grade))
    points = sorted(Point(float(row["at_c"]), float(row["value"])) for row in weakest)
    return StressCurve((Point(COLDEST_C, points[0].pressure), *points), _basis(weakest[0]))
