"""Ratings as the building's invented data sheets declare them: fittings, seals and valves."""

from __future__ import annotations

from .model import Building, Value

Points = tuple[tuple[float, float], ...]

# rating, component, what it applies to, largest size, points (°C, bar), medium, declared in
RATINGS: tuple[tuple[str, str, str, float | None, Points, str | None, str], ...] = (
    ("RT-FAM-C", "fitting", "FAM-C", 54, ((-20, 16), (95, 16), (110, 10)), None, "Data sheet FAM-C, issue 4"),
    ("RT-FAM-S", "fitting", "FAM-S", 108, ((-20, 16), (95, 16), (110, 16)), None, "Data sheet FAM-S, issue 7"),
    ("RT-FAM-K", "fitting", "FAM-K", 108, ((-10, 16), (95, 16), (110, 10)), None, "Data sheet FAM-K, issue 2"),
    ("RT-FAM-G", "fitting", "FAM-G", 54, ((-20, 5), (70, 5)), None, "Data sheet FAM-G, issue 3"),
    ("RT-EPDM", "seal", "EPDM", None, ((-20, 16), (95, 16), (110, 10)), None, "Data sheet of the seal, EPDM"),
    ("RT-HNBR", "seal", "HNBR", None, ((-20, 5), (70, 5)), "natural_gas", "Data sheet of the seal, HNBR"),
    ("RT-FKM", "seal", "FKM", None, ((-20, 16), (70, 16)), "compressed_air", "Data sheet of the seal, FKM"),
    ("RT-VALVE", "valve", "", None, ((-10, 16), (100, 16), (110, 14)), None, "Valve schedule, PN 16"),
)


def add_ratings(building: Building) -> None:
    """One row a point."""
    for rating, component, applies, largest, points, medium, basis in RATINGS:
        for celsius, bar in points:
            values: dict[str, Value] = {
                "rating_id": rating,
                "component": component,
                "applies_to": applies or None,
                "od_to_mm": largest,
                "temperature_c": celsius,
                "pressure_bar": bar,
                "medium": medium,
                "basis": basis,
            }
            building.add("ratings", **values)
