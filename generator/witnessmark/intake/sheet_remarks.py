"""What a sheet of a workbook says by other means than its cells' values, told in sentences."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from witnessmark.intake.cell import CellValue
from witnessmark.intake.grid import Remark, column_letter


def sheet_remarks(
    title: str,
    rows: Sequence[Sequence[CellValue]],
    *,
    hidden: bool,
    hidden_rows: Collection[int],
    hidden_columns: Collection[int],
    uncached: Collection[tuple[int, int]],
    struck: Collection[int],
    commented: Collection[tuple[int, int]],
) -> list[Remark]:
    """Remarks on hidden parts, formulas without a result, struck-through rows and comments.

    Rows count from 1 and columns from 0; ``uncached`` and ``commented`` hold (row, column).
    """
    found = []
    if hidden:
        found.append(Remark("sheet-hidden", "the sheet is hidden; it can be read all the same", sheet=title))
    filled = sorted(row for row in hidden_rows if rows[row - 1])
    if filled:
        count = "1 hidden row was" if len(filled) == 1 else f"{len(filled)} hidden rows were"
        message = f"{count} read (first: row {filled[0]})"
        found.append(Remark("rows-hidden", message, "delete what does not count", title, filled[0]))
    used = _used(rows, hidden_columns)
    if used:
        count = "1 hidden column was" if len(used) == 1 else f"{len(used)} hidden columns were"
        message = f"{count} read ({', '.join(column_letter(column) for column in used[:10])})"
        found.append(Remark("columns-hidden", message, "", title, None, used[0]))
    if uncached:
        row, column = min(uncached)
        count = "1 formula has" if len(uncached) == 1 else f"{len(uncached)} formulas have"
        message = f"{count} no stored result and count as empty"
        remedy = "open the workbook in a spreadsheet program, let it calculate, and save"
        found.append(Remark("formula-not-calculated", message, remedy, title, row, column))
    if struck:
        lines = sorted(struck)
        count = "1 row holds" if len(lines) == 1 else f"{len(lines)} rows hold"
        message = f"{count} struck-through text and was read as it stands (rows {', '.join(map(str, lines[:10]))}"
        message += ", …)" if len(lines) > 10 else ")"
        remedy = "say in the status column what is void or cut out; lines through text are not read"
        found.append(Remark("rows-struck-through", message, remedy, title, lines[0]))
    if commented:
        row, column = min(commented)
        count = "1 cell comment was" if len(commented) == 1 else f"{len(commented)} cell comments were"
        found.append(
            Remark("comments-not-read", f"{count} not read", "put what counts into the remarks", title, row, column)
        )
    return found


def _used(rows: Sequence[Sequence[CellValue]], columns: Collection[int]) -> list[int]:
    widest = max((len(row) for row in rows), default=0)
    return [
        column
        for column in sorted(columns)
        if column < widest and any(len(row) > column and row[column] is not None for row in rows)
    ]
