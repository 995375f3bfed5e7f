"""Supports, anchors and what takes up movement, section by section."""

from __future__ import annotations

import math

from .model import Building, Dice, Row, Value
from .site_calendar import working_day

SPACING_M: dict[float, tuple[float, float]] = {
    # Largest distance of supports, horizontal and vertical; common practice, no published source
    15: (1.2, 1.8), 22: (1.8, 2.4), 28: (1.8, 2.4), 35: (2.4, 3.0), 42: (2.4, 3.0), 54: (2.7, 3.0), 76.1: (3.0, 3.6),
    88.9: (3.0, 3.6), 108: (3.0, 3.6),
}  # fmt: skip
MM_PER_M_K = {"copper": 0.0166, "stainless_steel": 0.0165, "carbon_steel": 0.0122}
"""Linear expansion, from memory."""
FREE_MM = 12
"""Movement that the bends of a section take up by themselves."""


def add_supports(building: Building) -> None:
    """A row a size and direction, and an anchor with a loop wherever a section moves by more than its bends take."""
    systems = {row.text("system_id"): row for row in building["systems"]}
    tubes: dict[str, list[Row]] = {}
    for tube in building["tubes"]:
        tubes.setdefault(tube.text("section_id"), []).append(tube)
    for section in building["sections"]:
        _section(building, section, systems[section.text("system_id")], tubes[section.text("section_id")])


def _section(building: Building, section: Row, system: Row, tubes: list[Row]) -> None:
    day = working_day(section.date("installed_on"), 1)
    dice = Dice("supports", section["section_id"])
    upright = section["riser"] is not None
    common: dict[str, Value] = {
        "section_id": section["section_id"],
        "lined": True,
        "inspected_on": day,
        "inspected_by_role": f"Foreman {section['subcontractor']}",
        "result": "pass",
    }
    for tube in tubes:
        od = tube.number("od_mm")
        spacing = SPACING_M[od][1 if upright else 0]
        _row(
            building,
            kind="support",
            od_mm=od,
            orientation="vertical" if upright else "horizontal",
            spacing_m=round(spacing * dice.between(0.75, 0.97, 2), 2),
            from_fitting_mm=dice.whole(12, 28) * 10,
            **common,
        )
    kelvin = max(
        system.number("max_temperature_c") - system.number("min_temperature_c"),
        system.number("upset_temperature_c") - system.number("min_temperature_c"),
    )
    moves = sum(MM_PER_M_K[tube.text("material")] * tube.number("length_m") * kelvin for tube in tubes)
    if moves <= FREE_MM:
        return
    largest = tubes[0].number("od_mm")
    way = "vertical" if upright else "horizontal"
    _row(building, kind="anchor", od_mm=largest, orientation=way, **common)
    _row(building, kind="guide", od_mm=largest, orientation=way, **common)
    device = "expansion_bellows" if upright else "expansion_loop"
    takes_up = 5 * math.ceil(moves / 5) + 5
    _row(building, kind=device, od_mm=largest, orientation=way, takes_up_mm=takes_up, **common)


def _row(building: Building, **values: Value) -> None:
    building.add("supports", support_id=f"SP-{len(building['supports']) + 1:04d}", **values)
