"""Numbers as sites write them: decimal comma or point, thousands marks, signs from word processors."""

from __future__ import annotations

import datetime as dt
import math
import re
import unicodedata
from collections.abc import Iterable
from typing import Literal

from witnessmark.intake.cell import CellValue
from witnessmark.intake.readings import Fault, Read, answer, joined, shown, text_of, unusable

Decimal = Literal["point", "comma"]

LARGEST = 1e12
"""No quantity of a pipework record comes near; what is larger is a slip of the keyboard or a misplaced decimal mark."""

_SPACES = re.compile(r"(?<=\d)[\u00a0\u202f\u2009\u2007 '’](?=\d{3}(?!\d))")
_PLAIN = re.compile(r"[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?\Z")
_ONE_COMMA = re.compile(r"[+-]?\d*,\d+\Z")
_COULD_BE_TWO = re.compile(r"[+-]?[1-9]\d{0,2},\d{3}\Z")
_POINT_COULD_BE_TWO = re.compile(r"[+-]?[1-9]\d{0,2}\.\d{3}\Z")
_COMMA_THOUSANDS = re.compile(r"[+-]?\d{1,3}(?:,\d{3})+(?:\.\d+)?\Z")
_POINT_THOUSANDS = re.compile(r"[+-]?\d{1,3}(?:\.\d{3})+(?:,\d+)?\Z")
_MANY_COMMAS = re.compile(r"[+-]?\d{1,3}(?:,\d{3}){2,}\Z|[+-]?\d{1,3}(?:,\d{3})+\.\d+\Z")
_MANY_POINTS = re.compile(r"[+-]?\d{1,3}(?:\.\d{3}){2,}\Z|[+-]?\d{1,3}(?:\.\d{3})+,\d+\Z")
_LETTER_FOR_DIGIT = re.compile(r"[+-]?[\dOoIl|.,]*[\d.,][\dOoIl|.,]*\Z")
_RANGE = re.compile(r"\d\s*(?:-|–|—|to|\.\.|/)\s*\d", re.IGNORECASE)
_ABOUT = re.compile(r"(?:approx\.?|circa|ca?\.|about|abt\.?|~|<|>|≤|≥|±|\+/-|max\.?|min\.?)\s*\d", re.IGNORECASE)


def read_number(
    value: CellValue,
    *,
    column: str,
    decimal: Decimal | None = None,
    minimum: float | None = None,
    maximum: float | None = None,
    above: float | None = None,
    whole: bool = False,
    unit: str = "",
) -> Read[float] | Fault:
    """Read a number.

    ``column`` is 'table.field', for the remedy. ``decimal`` settles which mark is the decimal one. ``minimum`` and
    ``maximum`` are allowed values themselves, ``above`` is not. ``unit`` only serves the messages.
    """
    fault = unusable(value)
    if fault is not None:
        return fault
    read = _typed(value) if not isinstance(value, str) else _from_text(value, column, decimal)
    if isinstance(read, Fault):
        return read
    return check_range(read, minimum=minimum, maximum=maximum, above=above, whole=whole, unit=unit)


def check_range(
    read: Read[float],
    *,
    minimum: float | None = None,
    maximum: float | None = None,
    above: float | None = None,
    whole: bool = False,
    unit: str = "",
) -> Read[float] | Fault:
    """The reading itself, or the fault of a number outside its limits."""
    number = read.value
    mark = f" {unit}" if unit else ""
    if minimum is not None and number < minimum:
        return Fault(
            "below-minimum", f"{number:g}{mark} is below the least allowed, {minimum:g}{mark}", "correct the value"
        )
    if above is not None and number <= above:
        return Fault("below-minimum", f"{number:g}{mark} must be more than {above:g}{mark}", "correct the value")
    if maximum is not None and number > maximum:
        return Fault(
            "above-maximum", f"{number:g}{mark} is above the most allowed, {maximum:g}{mark}", "correct the value"
        )
    if whole and not number.is_integer():
        return Fault("not-a-whole-number", f"{number:g} is not a whole number", "write the count without decimals")
    return read


def decimal_in(texts: Iterable[str]) -> Decimal | None:
    """The decimal mark a column proves: some text can only be read with it, and none only with the other; else None."""
    points = commas = 0
    for text in texts:
        bare = _SPACES.sub("", text.strip()).replace("\u2212", "-")
        if _MANY_COMMAS.match(bare) or (_PLAIN.match(bare) and "." in bare and not _POINT_COULD_BE_TWO.match(bare)):
            points += 1
        elif _MANY_POINTS.match(bare) or (_ONE_COMMA.match(bare) and not _COULD_BE_TWO.match(bare)):
            commas += 1
    if points and not commas:
        return "point"
    if commas and not points:
        return "comma"
    return None


def _typed(value: CellValue) -> Read[float] | Fault:
    if isinstance(value, bool):
        return Fault("not-a-number", f"the cell holds {str(value).upper()}, not a number", "type the number")
    if isinstance(value, int | float):
        return _finite(value, str(value), [])
    if isinstance(value, dt.date | dt.time | dt.timedelta):
        return Fault(
            "number-is-date",
            f"the spreadsheet made the date or time {text_of(value)} of what was typed",
            "format the cell as a number and type the value again",
        )
    return Fault("not-a-number", f"{shown(text_of(value))} is not a number", "type the number")


def _from_text(value: str, column: str, decimal: Decimal | None) -> Read[float] | Fault:
    text = text_of(value)
    repairs: list[str] = []
    plain = _ascii_digits(text.replace("\u2212", "-").replace("–", "-", 1) if text[:1] in "\u2212–" else text)
    if plain != text:
        repairs.append(f"read {shown(text)} as {plain}")
    closed = _SPACES.sub("", plain)
    if closed != plain:
        repairs.append(f"read {shown(text)} as {closed}, the gap as a thousands mark")
    closed = re.sub(r"^([+-])\s+", r"\1", closed)
    number = _number_text(closed, text, column, decimal)
    if isinstance(number, Fault):
        return number
    if number != closed:
        repairs.append(f"read {shown(text)} as {number}")
    return _finite(number, text, repairs)


def _ascii_digits(text: str) -> str:
    # Only true decimal digits: '²' must not turn 10² into 102.
    return "".join(str(unicodedata.decimal(c)) if not c.isascii() and c.isdecimal() else c for c in text)


def _number_text(closed: str, text: str, column: str, decimal: Decimal | None) -> str | Fault:
    if _POINT_COULD_BE_TWO.match(closed):
        return closed.replace(".", "") if decimal == "comma" else closed
    if _COULD_BE_TWO.match(closed):
        if decimal == "point":
            return closed.replace(",", "")
        if decimal == "comma":
            return closed.replace(",", ".")
        return Fault(
            "number-could-be-two",
            f"{shown(text)} could be {closed.replace(',', '.')} or {closed.replace(',', '')}",
            f"{answer(column, 'decimal', 'comma')} (or point)",
        )
    if _PLAIN.match(closed):
        return closed
    if _ONE_COMMA.match(closed):
        return closed.replace(",", ".")
    if _COMMA_THOUSANDS.match(closed):
        return closed.replace(",", "")
    if _POINT_THOUSANDS.match(closed):
        return closed.replace(".", "").replace(",", ".")
    return _not_a_number(closed, text)


def _not_a_number(closed: str, text: str) -> Fault:
    if closed.casefold().lstrip("+-") in {"nan", "inf", "infinity", "∞"}:
        return Fault("not-a-number", f"{shown(text)} is no measured value", "type the number, or leave the cell empty")
    if _LETTER_FOR_DIGIT.match(closed) and re.search(r"[OoIl|]", closed):
        letters = ", ".join(dict.fromkeys(re.findall(r"[OoIl|]", closed)))
        return Fault(
            "letter-for-digit",
            f"{shown(text)} holds the letter {letters} where a digit should stand",
            "type it with digits",
        )
    if _RANGE.search(closed):
        return Fault(
            "number-is-range", f"{shown(text)} is a range or a pair, not one number", "type one value to a cell"
        )
    if _ABOUT.match(closed):
        return Fault(
            "number-is-rough", f"{shown(text)} is a bound or an estimate, not a reading", "type the value as read"
        )
    return Fault("not-a-number", f"{shown(text)} is not a number", "type the number alone; put words in the remarks")


def _finite(source: str | float, text: str, repairs: list[str]) -> Read[float] | Fault:
    try:
        number = float(source)
    except (ValueError, OverflowError):
        number = math.inf
    if not math.isfinite(number):
        return Fault("not-a-number", f"{shown(text)} is no measured value", "type the number, or leave the cell empty")
    if abs(number) > LARGEST:
        return Fault("number-far-off", f"{shown(text)} is too large for any quantity of a record", "correct the value")
    return Read(number + 0.0, joined(repairs))
