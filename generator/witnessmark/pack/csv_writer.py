"""CSV files for people with spreadsheet programs, and for programs.

UTF-8, records ending in CR LF (RFC 4180). Files for people to fill in carry a byte order mark, so that a spreadsheet
program shows ° and · instead of two odd letters; files for programs do not, since many take it for part of the first
heading. No cell is run as a formula: text that a spreadsheet would take for one gets a leading apostrophe.
"""

from __future__ import annotations

import csv
import math
import re
from collections.abc import Iterable, Sequence
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import TextIO

Cell = str | int | float | Decimal | date | bool | None

# Apostrophes before the mark count as well, so that taking one apostrophe away always restores the text.
_FORMULA = re.compile("'*[=+\\-@\t\r\n＝＋－＠]")
_PLAIN_NUMBER = re.compile(r"[+-]?\d+([.,]\d+)?([eE][+-]?\d+)?")
# Allowed in a text, refused or cut by CSV readers; shown by their control pictures.
_UNSEEN = {code: 0x2400 + code for code in range(0x20) if code not in (0x09, 0x0A, 0x0D)}
_LONE_SURROGATE = re.compile("[\ud800-\udfff]")


class RaggedRow(ValueError):
    """A row with more or fewer cells than the header."""

    def __init__(self, number: int, cells: int, columns: int) -> None:
        super().__init__(f"Row {number} has {cells} cells for {columns} columns.")


class NumberWithoutValue(ValueError):
    """A NaN or an infinity; a missing value is written as None."""

    def __init__(self, number: int, column: str) -> None:
        super().__init__(f"Row {number}, column {column!r} holds no finite number; pass None where there is no data.")


def guard_text(text: str) -> str:
    """Text that no spreadsheet program runs as a formula. A plain number, such as '-5', stays as it is."""
    if _FORMULA.match(text) and not _PLAIN_NUMBER.fullmatch(text):
        return "'" + text
    return text


def unguard_text(cell: str) -> str:
    """The text that guard_text was given."""
    return cell[1:] if cell.startswith("'") and _FORMULA.match(cell) else cell


def text_cell(text: str) -> str:
    """The cell that holds a text: guarded, control characters as their pictures, lone surrogates replaced."""
    return guard_text(_LONE_SURROGATE.sub("\ufffd", text.translate(_UNSEEN)))


def write_csv(
    target: Path | TextIO, header: Sequence[str], rows: Iterable[Sequence[Cell]], *, byte_order_mark: bool = False
) -> int:
    """Write header and rows; returns the number of rows. Rows may be a generator: none is kept.

    A path is written as UTF-8; a text stream gets the text alone and needs newline=''.
    True and False are written 'true' and 'false', a date as YYYY-MM-DD, None as an empty cell.
    Raises RaggedRow or NumberWithoutValue.
    """
    if isinstance(target, Path):
        with target.open("w", encoding="utf-8-sig" if byte_order_mark else "utf-8", newline="") as stream:
            return _write(stream, header, rows)
    return _write(target, header, rows)


def _write(stream: TextIO, header: Sequence[str], rows: Iterable[Sequence[Cell]]) -> int:
    writer = csv.writer(stream, lineterminator="\r\n")
    writer.writerow([_cell(name, 1, name) for name in header])
    count = 0
    for count, row in enumerate(rows, start=1):
        if len(row) != len(header):
            raise RaggedRow(count + 1, len(row), len(header))
        writer.writerow([_cell(value, count + 1, name) for value, name in zip(row, header, strict=True)])
    return count


def _cell(value: Cell, number: int, column: str) -> str:
    if value is None:
        return ""
    if isinstance(value, str):
        return text_cell(value)
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, date):
        return value.isoformat()
    if not math.isfinite(value):
        raise NumberWithoutValue(number, column)
    return format(value, "f") if isinstance(value, Decimal) else str(value)
