"""Dates as sites write them; a date that could be two is a fault, never a choice."""

from __future__ import annotations

import datetime as dt
import re
from typing import Literal

from witnessmark.intake.cell import CellValue
from witnessmark.intake.readings import Fault, Read, answer, joined, shown, text_of, unusable
from witnessmark.model.day_words import day_words

DateOrder = Literal["dmy", "mdy", "ymd"]
SerialBase = Literal["1900", "1904"]

_NAMES: tuple[str, ...] = ("january", "february", "march", "april", "may", "june")
_NAMES += ("july", "august", "september", "october", "november", "december")
_MONTHS = (
    {name: i for i, name in enumerate(_NAMES, 1)} | {name[:3]: i for i, name in enumerate(_NAMES, 1)} | {"sept": 9}
)
_WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
_ISO = re.compile(r"(\d{4})-(\d{2})-(\d{2})(?:[T ](\d{1,2}:\d{2}(?::\d{2}(?:[.,]\d+)?)?)\s*(Z|[+-]\d{2}:?\d{2})?)?\Z")
FIGURES = re.compile(r"(\d{1,4})\s*([./\-‐‑–\\ ])\s*(\d{1,2})\s*\2\s*(\d{1,4})\Z")
_COMPACT = re.compile(r"\d{8}\Z")
_SERIAL = re.compile(r"\d{4,5}(?:\.\d+)?\Z")
_WORDS = re.compile(
    r"(?:([A-Za-z]{3,9})[.,]?\s+)?(\d{1,2})(?:st|nd|rd|th)?[\s./-]*(?:of\s+)?([A-Za-z]{3,9})[\s./,'’-]*(\d{4}|\d{2})\Z"
)
_WORDS_MONTH_FIRST = re.compile(
    r"(?:([A-Za-z]{3,9})[.,]?\s+)?([A-Za-z]{3,9})[\s./-]*(\d{1,2})(?:st|nd|rd|th)?[\s,./-]+(\d{4}|\d{2})\Z"
)
_TRAILING_TIME = re.compile(r"[T,\s]+(\d{1,2}[:.]\d{2}(?:[:.]\d{2})?\s*(?:[ap]\.?m\.?)?)\Z", re.IGNORECASE)
_EARLIEST, _LATEST = dt.date(1950, 1, 1), dt.date(2150, 12, 31)


def read_date(
    value: CellValue,
    *,
    column: str,
    order: DateOrder | None = None,
    earliest: dt.date = _EARLIEST,
    latest: dt.date = _LATEST,
    serials: SerialBase | None = None,
) -> Read[dt.date] | Fault:
    """Read a calendar date.

    ``order`` settles dates in figures that could be two; ``earliest`` and ``latest`` are the bounds beyond which a
    date is a fault; ``serials`` says that bare numbers are spreadsheet serials counted from 1900 or 1904.
    """
    fault = unusable(value)
    if fault is not None:
        return fault
    read = _typed(value) if not isinstance(value, str | int | float) or isinstance(value, bool) else None
    if read is None:
        read = _from_text(text_of(value), column, order, earliest, latest, serials)
    if isinstance(read, Fault):
        return read
    if not earliest <= read.value <= latest:
        return Fault(
            "date-far-off",
            f"{shown(text_of(value))} is {day_words(read.value)}, outside {day_words(earliest)} to {day_words(latest)}",
            "correct the year, or the bounds of the project's dates in project.yml",
        )
    return read


def _typed(value: CellValue) -> Read[dt.date] | Fault:
    if isinstance(value, dt.datetime):
        dropped = value.time() != dt.time()
        return Read(value.date(), f"took the date of {text_of(value)}" if dropped else None)
    if isinstance(value, dt.date):
        return Read(value)
    return Fault("not-a-date", f"{shown(text_of(value))} is not a date", "type the date as YYYY-MM-DD")


def _from_text(
    text: str, column: str, order: DateOrder | None, earliest: dt.date, latest: dt.date, serials: SerialBase | None
) -> Read[dt.date] | Fault:
    iso = _ISO.match(text)
    if iso and iso.group(0).isascii():
        day = _date(int(iso.group(1)), int(iso.group(2)), int(iso.group(3)))
        return (
            _impossible(text) if day is None else Read(day, f"took the date of {shown(text)}" if iso.group(4) else None)
        )
    if not text.isascii():
        text = text.translate(_DASHES)
    if _SERIAL.match(text) and text.isascii():
        return _from_serial(text, column, earliest, latest, serials)
    bare, time = without_time(text)
    if not bare.isascii():
        return _not_a_date(text)
    if _COMPACT.match(bare):
        read = _from_compact(bare, column, order, earliest, latest)
    elif found := FIGURES.match(bare):
        read = _from_figures(found, bare, column, order)
    else:
        read = _from_words(bare)
    if time and isinstance(read, Read):
        return Read(read.value, joined([part for part in (read.repair, f"left out the time {shown(time)}") if part]))
    return read


_DASHES = str.maketrans({"‐": "-", "‑": "-", "–": "-", "—": "-", "\u2212": "-", "\u00a0": " ", "\u202f": " ", "’": "'"})


def without_time(text: str) -> tuple[str, str | None]:
    """The text without a clock time at its end, and that time as written; None when there is none."""
    found = _TRAILING_TIME.search(text)
    if (found and ":" in found.group(1)) or (found and found.group(1)[-1:].casefold() in {"m", "."}):
        return text[: found.start()].strip(), found.group(1)
    return text, None


def _from_figures(found: re.Match[str], text: str, column: str, order: DateOrder | None) -> Read[dt.date] | Fault:
    first, second, third = found.group(1), found.group(3), found.group(4)
    if len(first) == 3 or len(third) == 3 or (len(first) == 4 and len(third) > 2):
        return _not_a_date(text)
    if len(first) == 4:
        day = _date(int(first), int(second), int(third))
        return _impossible(text) if day is None else Read(day, _as(text, day))
    year = _year(third)
    orders: dict[str, dt.date | None] = {
        "dmy": _date(year, int(second), int(first)),
        "mdy": _date(year, int(first), int(second)),
    }
    by_year = _date(_year(first), int(second), int(third)) if len(first) == 2 and len(third) <= 2 else None
    if len(third) == 1 and order != "ymd":
        return _not_a_date(text)
    if order is not None:
        day = by_year if order == "ymd" else orders[order]
        if day is None:
            return Fault(
                "date-impossible",
                f"{shown(text)} is no date in the order {order} that project.yml gives for the column",
                "correct the cell",
            )
        return Read(day, _as(text, day))
    # Two figures for the year in first place is rare enough to be looked at only when nothing else fits the calendar.
    possible = sorted({day for day in orders.values() if day is not None}) or ([by_year] if by_year else [])
    return _only(possible, text, column)


def _from_compact(
    text: str, column: str, order: DateOrder | None, earliest: dt.date, latest: dt.date
) -> Read[dt.date] | Fault:
    orders = {
        "ymd": _date(int(text[:4]), int(text[4:6]), int(text[6:])),
        "dmy": _date(int(text[4:]), int(text[2:4]), int(text[:2])),
        "mdy": _date(int(text[4:]), int(text[:2]), int(text[2:4])),
    }
    if order is not None:
        day = orders[order]
        return Read(day, _as(text, day)) if day is not None else _impossible(text)
    possible = sorted({day for day in orders.values() if day is not None and earliest <= day <= latest})
    return _only(possible, text, column)


def _only(possible: list[dt.date], text: str, column: str) -> Read[dt.date] | Fault:
    if not possible:
        return _impossible(text)
    if len(possible) == 1:
        return Read(possible[0], _as(text, possible[0]))
    choices = " or ".join(f"{day.day} {_NAMES[day.month - 1].capitalize()} {day.year}" for day in possible)
    return Fault(
        "date-could-be-two", f"{shown(text)} could be {choices}", f"{answer(column, 'date_order', 'dmy')} (or mdy, ymd)"
    )


def _from_words(text: str) -> Read[dt.date] | Fault:
    flat = " ".join(text.split())
    found = _WORDS.match(flat)
    if found:
        weekday, number, month, year = found.groups()
    else:
        found = _WORDS_MONTH_FIRST.match(flat)
        if not found:
            return _not_a_date(text)
        weekday, month, number, year = found.groups()
    month_number = _MONTHS.get(month.casefold())
    if month_number is None or (weekday and weekday[:3].casefold() not in _WEEKDAYS):
        return _not_a_date(text)
    day = _date(_year(year), month_number, int(number))
    if day is None:
        return _impossible(text)
    if weekday and _WEEKDAYS[day.weekday()] != weekday[:3].casefold():
        name = day.strftime("%Y-%m-%d") + " was a " + _WEEKDAYS[day.weekday()].capitalize()
        return Fault("date-weekday-differs", f"{shown(text)} names another day of the week: {name}", "correct the date")
    return Read(day, _as(text, day))


def from_serial(number: float, base: SerialBase) -> dt.datetime | None:
    """The date and time of a spreadsheet serial; None outside its calendar and for 29 February 1900."""
    if not 0 <= number < 3_000_000:
        return None
    if base == "1904":
        start = dt.datetime(1904, 1, 1)
    else:
        if 60 <= number < 61 or number < 1:
            return None
        start = dt.datetime(1899, 12, 30) if number >= 61 else dt.datetime(1899, 12, 31)
    try:
        return start + dt.timedelta(seconds=round(number * 86400))
    except OverflowError:
        return None


def _from_serial(
    text: str, column: str, earliest: dt.date, latest: dt.date, serials: SerialBase | None
) -> Read[dt.date] | Fault:
    number = float(text)
    if serials is not None:
        moment = from_serial(number, serials)
        return _impossible(text) if moment is None else Read(moment.date(), _as(text, moment.date(), "serial number "))
    options = []
    bases: tuple[SerialBase, SerialBase] = ("1900", "1904")
    for base in bases:
        moment = from_serial(number, base)
        if moment is not None and earliest <= moment.date() <= latest:
            options.append(f"{moment.date().isoformat()} counted from {base}")
    if not options:
        return _not_a_date(text)
    return Fault(
        "date-is-serial",
        f"{shown(text)} is a spreadsheet's day number: {' or '.join(options)}",
        f"format the column as dates, or {answer(column, 'date_serial', '1900')} (or 1904)",
    )


def _year(text: str) -> int:
    return int(text) if len(text) == 4 else 2000 + int(text)


def _date(year: int, month: int, day: int) -> dt.date | None:
    try:
        return dt.date(year, month, day)
    except ValueError:
        return None


def _as(text: str, day: dt.date, what: str = "") -> str:
    return f"read {what}{shown(text)} as {day.isoformat()}"


def _impossible(text: str) -> Fault:
    return Fault(
        "date-impossible", f"{shown(text)} is no day of the calendar", "correct the date; the surest form is YYYY-MM-DD"
    )


_INCOMPLETE = re.compile(
    r"(?:[A-Za-z]{3,9}[\s./'-]*\d{2,4}|\d{1,2}[\s./-]+[A-Za-z]{3,9}|\d{1,2}[./]\d{4}|\d{1,2}[./-]\d{1,2})\Z"
)


def _not_a_date(text: str) -> Fault:
    if _INCOMPLETE.match(text) and (not re.search("[A-Za-z]", text) or any(m in text.casefold() for m in _MONTHS)):
        return Fault("date-incomplete", f"{shown(text)} lacks the day, month or year", "type the date as YYYY-MM-DD")
    return Fault("not-a-date", f"{shown(text)} is not a date", "type the date as YYYY-MM-DD")
