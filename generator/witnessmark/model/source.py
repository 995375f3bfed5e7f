"""Where a value was read from. Rows are numbered as a spreadsheet shows them: from 1, the header included."""

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, order=True)
class SourceLocation:
    """A place in the records: file relative to the project folder, and sheet, row, column where they apply.

    ``column`` is the column letter as a spreadsheet shows it (CSV files too), ``heading`` the heading above it.
    """

    file: str
    sheet: str = ""
    row: int = 0
    column: str = ""
    heading: str = ""

    def __str__(self) -> str:
        text = self.file
        if self.sheet:
            text += f" [{self.sheet}]"
        if self.row:
            text += f":{self.row}"
        if self.column:
            text += f":{self.column}"
        return text

    @property
    def words(self) -> str:
        """The same place in words, for messages and pages."""
        parts = [self.file]
        if self.sheet:
            parts.append(f"sheet {self.sheet}")
        if self.row:
            parts.append(f"row {self.row}")
        if self.column:
            parts.append(f"column {self.column}" + (f" ({self.heading})" if self.heading else ""))
        return ", ".join(parts)


@dataclass(frozen=True, slots=True)
class SourceColumn:
    """A column of a source table: its position from 0, letter, and heading as it stood."""

    index: int
    letter: str
    heading: str


@dataclass(frozen=True, slots=True)
class SourceTable:
    """A file or sheet from which rows of one table were read."""

    file: str
    sheet: str
    columns: Mapping[str, SourceColumn]
    """Contract field to column; a field set for the whole source by project.yml has none."""
    headings: tuple[str, ...]
    """Headings of all columns, used or not, in order."""


@dataclass(frozen=True, slots=True)
class Cell:
    """One cell as it stood."""

    location: SourceLocation
    raw: str


@dataclass(frozen=True, slots=True)
class RowSource:
    """The row that a record was read from, with every cell's text as it stood."""

    table: SourceTable
    row: int
    raw: tuple[str, ...]
    overrides: Mapping[str, Cell] | None = None
    """Fields whose value stands in another cell: the head of a merged range, or project.yml."""

    @property
    def location(self) -> SourceLocation:
        """The row as a whole."""
        return SourceLocation(self.table.file, self.table.sheet, self.row)

    def cell(self, field: str) -> Cell | None:
        """The cell from which ``field`` was read; ``None`` where the source has no column for it."""
        if self.overrides and field in self.overrides:
            return self.overrides[field]
        column = self.table.columns.get(field)
        if column is None:
            return None
        raw = self.raw[column.index] if column.index < len(self.raw) else ""
        return Cell(SourceLocation(self.table.file, self.table.sheet, self.row, column.letter, column.heading), raw)

    def place(self, field: str) -> SourceLocation:
        """The cell of ``field``, or the row where the source has no column for it."""
        if self.overrides and field in self.overrides:
            return self.overrides[field].location
        table = self.table
        column = table.columns.get(field)
        if column is None:
            return SourceLocation(table.file, table.sheet, self.row)
        return SourceLocation(table.file, table.sheet, self.row, column.letter, column.heading)
