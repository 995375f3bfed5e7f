"""What one cell of a spreadsheet can hold, and its raw text."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class CellError:
    """An error value a spreadsheet shows in place of a result, such as ``#REF!``."""

    code: str


CellValue = str | int | float | bool | dt.datetime | dt.date | dt.time | dt.timedelta | CellError | None


def is_blank(value: CellValue) -> bool:
    """True when the cell holds nothing, or only spaces."""
    if value is None:
        return True
    return isinstance(value, str) and (not value or value.isspace())


def cell_text(value: CellValue) -> str:
    """The cell's raw text: strings as they stood, dates in ISO form, whole floats without a trailing ``.0``.

    A date-time at midnight shows as its date, because that is how a date cell of a workbook is stored. A duration
    shows as ``hours:minutes:seconds``; hours may pass 24.
    """
    if value is None:
        return ""
    if isinstance(value, str):
        return value
    if isinstance(value, bool):
        return "TRUE" if value else "FALSE"
    if isinstance(value, CellError):
        return value.code
    if isinstance(value, float):
        return str(int(value)) if value.is_integer() and abs(value) < 1e15 else repr(value)
    if isinstance(value, dt.datetime):
        if value.time() == dt.time() and value.tzinfo is None:
            return value.date().isoformat()
        return value.isoformat(sep=" ", timespec="auto")
    if isinstance(value, dt.timedelta):
        return _duration_text(value)
    if isinstance(value, dt.date | dt.time):
        return value.isoformat()
    return str(value)


def _duration_text(value: dt.timedelta) -> str:
    seconds = round(value.total_seconds())
    sign = "-" if seconds < 0 else ""
    minutes, seconds = divmod(abs(seconds), 60)
    hours, minutes = divmod(minutes, 60)
    return f"{sign}{hours}:{minutes:02d}:{seconds:02d}"
