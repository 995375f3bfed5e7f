"""A number as it reaches a page: value, unit and places, turned into text in one place."""

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


def as_recorded(value: float, unit: str = "") -> str:
    """A recorded number with the digits it was recorded with."""
    number = f"{value:,.10g}" if abs(value) < 1e15 else f"{value:g}"
    unit = UNIT_SIGNS.get(unit, unit)
    return f"{number}{NO_BREAK}{unit}" if unit else number
