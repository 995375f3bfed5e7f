"""A number with its unit, brought to the unit of the contract."""

from __future__ import annotations

import datetime as dt
import re

from witnessmark.intake.cell import CellValue
from witnessmark.intake.number_reader import Decimal, check_range, read_number
from witnessmark.intake.readings import Fault, Read, answer, shown, text_of, unusable, yaml_scalar
from witnessmark.intake.units import Conversion, UnitFault, conversion, looks_like_unit, unit_label

_NUMBER_THEN_UNIT = re.compile(
    r"^([-+\u2212–]?\s*[\d.,][\d.,'’\u00a0\u202f\u2009 ]*(?:[eE][+-]?\d+)?)\s*(\D.*)$", re.DOTALL
)
_CLOCK = re.compile(r"(-?\d{1,3}):([0-5]\d)(?::([0-5]\d))?\Z")
_HOURS_MINUTES = re.compile(
    r"(?:(\d{1,3})\s*(?:h|hr|hrs|hour|hours)\.?)?\s*(?:and\s*)?(?:(\d{1,3})\s*(?:m|min|mins|minute|minutes)?\.?)?\Z",
    re.IGNORECASE,
)
_HOURS_STATED = frozenset({"hh:mm", "h:mm", "h", "hr", "hrs", "hours"})
_TIME_UNITS = {"s": 1 / 60, "min": 1.0, "h": 60.0, "d": 1440.0, "hh:mm": 1.0}


def read_quantity(
    value: CellValue,
    *,
    column: str,
    unit: str,
    heading_unit: str | None = None,
    answered_unit: str | None = None,
    unit_required: bool = True,
    decimal: Decimal | None = None,
    minimum: float | None = None,
    maximum: float | None = None,
    above: float | None = None,
    whole: bool = False,
    difference: bool = False,
) -> Read[float] | Fault:
    """Read a number and convert it to ``unit``; limits are in ``unit``.

    The unit comes from the cell, else from the project's answer, else from the heading. With none of these the fault is
    'unit-not-stated', unless ``unit_required`` is False: then the contract's unit is taken. ``difference`` converts
    temperatures as differences. Raises ``UnitFault`` only for a ``unit`` that the contract should not name.
    """
    fault = unusable(value)
    if fault is not None:
        return fault
    stated = answered_unit or heading_unit
    unit = unit_label(unit)
    if unit in _TIME_UNITS:
        duration = _duration(value, column, unit, stated)
        if duration is not None:
            return (
                duration
                if isinstance(duration, Fault)
                else check_range(duration, minimum=minimum, maximum=maximum, above=above, whole=whole, unit=unit)
            )
    number_part, cell_unit = split_number_and_unit(value)
    number = read_number(number_part, column=column, decimal=decimal)
    if isinstance(number, Fault):
        return number
    source = cell_unit or stated
    if source is None:
        if unit_required:
            return Fault(
                "unit-not-stated",
                f"{shown(text_of(value))} has no unit, and neither has the heading",
                f"write the unit in the heading, as '({unit})', or {answer(column, 'unit', yaml_scalar(unit))}",
            )
        return check_range(number, minimum=minimum, maximum=maximum, above=above, whole=whole, unit=unit)
    if cell_unit is None and source.replace(" ", "").casefold() in {"hh:mm", "h:mm"}:
        return Fault(
            "duration-not-a-clock",
            f"{shown(text_of(value))} is a bare number in a column of hours and minutes",
            f"write it as hh:mm, or {answer(column, 'unit', 'min')}",
        )
    try:
        change = conversion(source, unit, difference=difference)
    except UnitFault as error:
        return _unit_fault(error, column, unit)
    read = Read(_tidy(change.apply(number.value)), _repair(number.repair, value, cell_unit, stated, change))
    return check_range(read, minimum=minimum, maximum=maximum, above=above, whole=whole, unit=unit)


def split_number_and_unit(value: CellValue) -> tuple[CellValue, str | None]:
    """The number part and the unit written behind it: '6,5 bar' is ('6,5', 'bar'). Anything else comes back whole."""
    if not isinstance(value, str):
        return value, None
    found = _NUMBER_THEN_UNIT.match(text_of(value))
    if found and looks_like_unit(found.group(2)):
        return found.group(1).strip(), found.group(2).strip()
    return value, None


def _tidy(number: float) -> float:
    # Twelve figures keep 100 psi from reading as 6.894757293168361 bar, and exceed every instrument.
    return float(f"{number:.12g}")


def _repair(
    number_repair: str | None, value: CellValue, cell_unit: str | None, stated: str | None, change: Conversion
) -> str | None:
    parts = [number_repair] if number_repair else []
    if cell_unit:
        parts.append(f"took the unit {shown(cell_unit)} from the cell" + (f", not {shown(stated)}" if stated else ""))
    if change.changes:
        parts.append(f"converted {shown(text_of(value))} from {change.source} to {change.target}")
    return "; ".join(parts) or None


def _unit_fault(error: UnitFault, column: str, unit: str) -> Fault:
    options = error.options or (unit,)
    remedy = answer(column, "unit", yaml_scalar(options[0]))
    if len(options) > 1:
        remedy += f" (or {', '.join(options[1:])})"
    return Fault(error.kind, str(error), remedy)


def _duration(value: CellValue, column: str, unit: str, stated: str | None) -> Read[float] | Fault | None:
    """A duration written with a clock or with words; None when the cell holds a plain number."""
    per = _TIME_UNITS[unit]
    if isinstance(value, dt.timedelta):
        return Read(_tidy(value.total_seconds() / 60 / per), f"read {text_of(value)} as hours, minutes and seconds")
    if isinstance(value, dt.time):
        minutes = value.hour * 60 + value.minute + value.second / 60
        return Read(_tidy(minutes / per), f"read the clock time {text_of(value)} as a duration in hours and minutes")
    if not isinstance(value, str):
        return None
    text = text_of(value)
    clock = _CLOCK.match(text)
    if clock:
        if text.startswith("-"):
            return Fault("below-minimum", f"{shown(text)} is a negative duration", "correct the value")
        first, second, third = int(clock.group(1)), int(clock.group(2)), int(clock.group(3) or 0)
        if clock.group(3) is None and (stated or "").replace(" ", "").casefold() not in _HOURS_STATED:
            return Fault(
                "duration-could-be-two",
                f"{shown(text)} could be {first} h {second} min or {first} min {second} s",
                f"{answer(column, 'unit', 'hh:mm')} (or write the duration as minutes)",
            )
        minutes = first * 60 + second + third / 60
        return Read(_tidy(minutes / per), f"read {shown(text)} as {_tidy(minutes / per):g} {unit}")
    words = _HOURS_MINUTES.match(text)
    if words and words.group(1) and words.group(2):
        minutes = int(words.group(1)) * 60 + int(words.group(2))
        return Read(_tidy(minutes / per), f"read {shown(text)} as {_tidy(minutes / per):g} {unit}")
    return None
