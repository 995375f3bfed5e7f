"""A number as it reaches a page: value, unit and places, turned into text in one place."""

import math
from typing import NamedTuple

UNIT_SIGNS = {"degC": "°C", "": ""}
NO_BREAK = "\u00a0"


class Figure(NamedTuple):
    """A number with its unit and the decimal places that make sense for it."""

    value: float
    unit: str = ""
    places: int = 0


def figure_text(figure: Figure) -> str:
    """'34.2 L', '1,250 m', '1.0 %': a no-break space keeps number and unit on one line."""
    number = f"{figure.value:,.{figure.places}f}"
    if number.startswith("-") and not number.strip("-0.,"):
        number = number[1:]
    unit = UNIT_SIGNS.get(figure.unit, figure.unit)
    return f"{number}{NO_BREAK}{unit}" if unit else number


MOST_PLACES = 8


def telling_places(value: float, places: int) -> int:
    """Decimal places at which a figure other than none is not shown as none: 0.00063 keeps its 63."""
    size = abs(value)
    if not math.isfinite(size) or size == 0 or size >= 10.0**-places:
        return places
    return min(MOST_PLACES, max(places, 1 - math.floor(math.log10(size))))


DISPLAY_PLACES = {"bar": 1, "degC": 1, "°C": 1, "mm": 1, "m": 1, "L": 1, "mbar": 1, "min": 1, "K": 1}
"""Most decimal places shown of recorded figures; the quantities that are not named keep the digits they came with."""
FINE_BELOW = 10
"""Figures below this get one place more: 1.25 mm of wall, 9.05 bar."""
COARSE = ("degC", "°C", "L", "mbar", "min", "K")
"""Units whose small figures gain nothing by another place."""


def rounded(value: float, unit: str) -> float:
    """A recorded or converted figure as a page shows it: exports keep all digits, pages those that mean something."""
    places = DISPLAY_PLACES.get(unit)
    if places is None or not math.isfinite(value) or value == 0:
        return value
    size = abs(value)
    if size < FINE_BELOW and unit not in COARSE:
        places += 1
    if size < 0.1:
        # Three digits that mean something, so that the low pressures of gas tests are never shown as none.
        places = max(places, 2 - math.floor(math.log10(size)))
    return round(value, places)


def display_figure(value: float, unit: str) -> str:
    """A figure rounded by its quantity, with its unit."""
    return as_recorded(rounded(value, unit), unit)


def as_recorded(value: float, unit: str = "") -> str:
    """A recorded number with the digits it was recorded with."""
    number = f"{value:,.10g}" if abs(value) < 1e15 else f"{value:g}"
    unit = UNIT_SIGNS.get(unit, unit)
    return f"{number}{NO_BREAK}{unit}" if unit else number
