"""A sheet as cells: what a file reader hands on, before anyone knows what the cells mean."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from witnessmark.intake.cell import CellError, CellValue, cell_text, is_blank

__all__ = [
    "CellError",
    "CellValue",
    "Grid",
    "MergedRange",
    "Remark",
    "cell_text",
    "column_index",
    "column_letter",
    "is_blank",
]


@dataclass(frozen=True, slots=True)
class MergedRange:
    """A block of merged cells: rows from 1 as the spreadsheet shows them, columns from 0, both ends included."""

    first_row: int
    last_row: int
    first_column: int
    last_column: int


@dataclass(frozen=True, slots=True)
class Remark:
    """Something about a file or sheet that a reader must be told: what is so, and what would settle it.

    ``row`` counts from 1 and ``column`` from 0; None means the whole sheet or file.
    """

    kind: str
    message: str
    remedy: str = ""
    sheet: str | None = None
    row: int | None = None
    column: int | None = None


@dataclass(frozen=True, slots=True)
class Grid:
    """One sheet of a workbook, or one CSV file (``sheet`` is then None).

    ``rows[0]`` is row 1 of the sheet. Rows may differ in length: a cell beyond the end of its row is empty. An empty
    cell of a workbook is None, an empty cell of a CSV file is the empty string; ``is_blank`` knows both.
    ``hidden_rows`` counts from 1, ``hidden_columns`` from 0, ``uncached_formulas`` holds (row, column) of formulas
    whose result the file does not carry.
    """

    file: str
    sheet: str | None
    rows: list[tuple[CellValue, ...]]
    hidden_rows: frozenset[int] = frozenset()
    hidden_columns: frozenset[int] = frozenset()
    merged: tuple[MergedRange, ...] = ()
    uncached_formulas: frozenset[tuple[int, int]] = frozenset()
    sheet_hidden: bool = False
    notes: tuple[Remark, ...] = ()

    def value(self, row: int, column: int) -> CellValue:
        """The cell at a sheet row (from 1) and column (from 0); None outside the sheet."""
        if not 1 <= row <= len(self.rows):
            return None
        cells = self.rows[row - 1]
        return cells[column] if 0 <= column < len(cells) else None

    def numbered(self) -> Iterator[tuple[int, tuple[CellValue, ...]]]:
        """Every row with its number as the spreadsheet shows it."""
        return enumerate(self.rows, start=1)


def column_letter(index: int) -> str:
    """The letters a spreadsheet shows over a column counted from 0: 0 is ``A``, 26 is ``AA``."""
    if index < 0:
        raise ValueError(f"column {index} does not exist: columns count from 0")
    letters = ""
    number = index + 1
    while number:
        number, rest = divmod(number - 1, 26)
        letters = chr(65 + rest) + letters
    return letters


def column_index(letters: str) -> int:
    """The column counted from 0 under the letters a spreadsheet shows: ``A`` is 0, ``AA`` is 26."""
    number = 0
    for letter in letters.strip().upper():
        if not "A" <= letter <= "Z":
            raise ValueError(f"'{letters}' is not a column: columns are named by letters, A to XFD")
        number = number * 26 + ord(letter) - 64
    if number == 0:
        raise ValueError("a column is named by at least one letter")
    return number - 1
