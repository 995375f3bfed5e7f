"""What is wrong with a table's headings and merges, as facts a finding can be made of."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from witnessmark.intake.cell import CellValue, is_blank
from witnessmark.intake.grid import Grid, column_letter
from witnessmark.intake.heading_match import Column


@dataclass(frozen=True, slots=True)
class TableProblem:
    """A problem of a whole table or column: slug, fact, act, and place (row from 1, column from 0)."""

    kind: str
    message: str
    remedy: str
    row: int | None = None
    column: int | None = None


def column_problems(
    columns: tuple[Column, ...],
    body: Sequence[tuple[int, tuple[CellValue, ...]]],
    grid: Grid,
    second_table_row: int | None,
) -> list[TableProblem]:
    """What is wrong with the headings, with the extent of the table, and with merges that run sideways."""
    problems = []
    row = columns[0].row if columns else None
    texts = Counter(column.text for column in columns if column.text)
    for text, count in texts.items():
        if count > 1:
            letters = ", ".join(column_letter(column.index) for column in columns if column.text == text)
            problems.append(
                TableProblem(
                    "heading-twice",
                    f"the heading '{text}' stands over columns {letters}",
                    "rename one, or map them by column letter in project.yml",
                    row,
                )
            )
    for field in dict.fromkeys(column.contested for column in columns if column.contested):
        named = [column for column in columns if column.contested == field]
        letters = ", ".join(f"{column_letter(column.index)} '{column.text}'" for column in named)
        problems.append(
            TableProblem(
                "field-claimed-twice",
                f"columns {letters} could each be {field}, so none was read",
                f"say which in project.yml: 'column {column_letter(named[0].index)}: {field}'",
                row,
                named[0].index,
            )
        )
    problems += _headless(columns, body, row)
    if not body:
        problems.append(TableProblem("table-empty", "the table has headings and no rows", "add the records below", row))
    if second_table_row is not None:
        problems.append(
            TableProblem(
                "second-table",
                f"a second table seems to begin at row {second_table_row}; its rows were set aside",
                "move it to a sheet of its own, or read it as a table by header_row in project.yml",
                second_table_row,
            )
        )
    inside = {number for number, _ in body}
    for block in grid.merged:
        if block.last_column > block.first_column and block.first_row in inside:
            span = f"{column_letter(block.first_column)} to {column_letter(block.last_column)}"
            problems.append(
                TableProblem(
                    "merged-sideways",
                    f"one cell is merged over columns {span}; only the first column got its value",
                    "unmerge it and fill each cell",
                    block.first_row,
                    block.first_column,
                )
            )
    return problems


def _headless(
    columns: tuple[Column, ...], body: Sequence[tuple[int, tuple[CellValue, ...]]], row: int | None
) -> list[TableProblem]:
    named = {column.index for column in columns if column.text}
    widest = max((len(cells) for _, cells in body), default=0)
    counts: Counter[int] = Counter()
    for index in sorted(set(range(widest)) - named):
        filled = sum(1 for _, cells in body if len(cells) > index and not is_blank(cells[index]))
        if filled:
            counts[index] = filled
    return [
        TableProblem(
            "column-without-heading",
            f"column {column_letter(index)} holds {counts[index]} values and has no heading",
            "write a heading, or map the column by its letter in project.yml",
            row,
            index,
        )
        for index in sorted(counts)
    ]
