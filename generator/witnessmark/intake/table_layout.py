"""Where the table stands on a sheet: heading rows, units row, body, and what is neither.

Every row of the sheet ends up in exactly one place; ``Accounting`` gives the counts, and they add up to the rows of
the sheet.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from witnessmark.intake.cell import CellValue, cell_text, is_blank
from witnessmark.intake.grid import Grid
from witnessmark.intake.heading import is_units_row, normalise_heading, unit_of
from witnessmark.intake.heading_match import Column, HeadingMatch, match_headings, nearest_heading
from witnessmark.intake.row_kind import BodyRules, Verdict
from witnessmark.intake.table_problem import TableProblem, column_problems

_SEARCH_ROWS = 200
# How far below a first likely heading a clearly better one is looked for: particulars above a table take fewer rows.
_SEARCH_ON = 30


@dataclass(frozen=True, slots=True)
class SetAside:
    """A row that holds something and is not a record: why, and its text."""

    row: int
    reason: str
    text: str


@dataclass(frozen=True, slots=True)
class MergeFill:
    """A cell filled from the top cell of its merge: row and top row from 1, column from 0."""

    row: int
    column: int
    from_row: int
    value: CellValue


@dataclass(frozen=True, slots=True)
class Accounting:
    """Counts of the sheet's rows; ``total`` is always the sum of the others."""

    total: int
    above: int
    header: int
    units: int
    blank: int
    body: int
    set_aside: int

    @property
    def adds_up(self) -> bool:
        """True when every row of the sheet is counted once."""
        return self.total == self.above + self.header + self.units + self.blank + self.body + self.set_aside


@dataclass(frozen=True, slots=True)
class TableLayout:
    """The table of a sheet. Rows count from 1 as the spreadsheet shows them, columns from 0.

    ``body`` holds (row, cells) with merged cells filled down; ``above`` the filled rows over the heading.
    """

    columns: tuple[Column, ...]
    header_rows: tuple[int, ...]
    units_row: int | None
    body: tuple[tuple[int, tuple[CellValue, ...]], ...]
    above: tuple[SetAside, ...]
    set_aside: tuple[SetAside, ...]
    merge_fills: tuple[MergeFill, ...]
    problems: tuple[TableProblem, ...]
    accounting: Accounting

    def column_of(self, field: str) -> Column | None:
        """The column matched to a field; None when the sheet has none."""
        return next((column for column in self.columns if column.field == field), None)


def locate(
    grid: Grid,
    vocabulary: Mapping[str, str],
    *,
    wanted: Mapping[str, str] | None = None,
    header_row: int | None = None,
    first_row: int | None = None,
    last_row: int | None = None,
) -> TableLayout:
    """Find the table on a sheet.

    ``vocabulary`` maps headings to field names (any spelling: both sides are normalised here); ``wanted`` does the
    same by the project's own word and wins, and its keys may name a column as ``column H``. ``header_row`` names the
    heading row; ``first_row`` and ``last_row`` bound the body. Never raises on what a sheet holds: what is wrong is
    in ``problems``.
    """
    known = {normalise_heading(text): field for text, field in vocabulary.items()}
    match = _find_header(grid, known, wanted or {}, header_row)
    if match is None:
        return _without_header(grid, known, header_row)
    header_end = match.rows[-1]
    units_row = _units_row(grid, header_end)
    if units_row is not None:
        match = match.with_units({i: unit_of(cell_text(v)) for i, v in enumerate(grid.rows[units_row - 1])})
    return _divide(grid, match.with_nearest(known), known, units_row, first_row, last_row)


def _find_header(
    grid: Grid, known: Mapping[str, str], wanted: Mapping[str, str], header_row: int | None
) -> HeadingMatch | None:
    if header_row is not None:
        if not 1 <= header_row <= len(grid.rows) or all(is_blank(v) for v in grid.rows[header_row - 1]):
            return None
        return _best_at(grid, known, wanted, header_row)
    best: HeadingMatch | None = None
    best_weight = 0.0
    searched = 0
    for number, row in grid.numbered():
        if all(is_blank(value) for value in row):
            continue
        searched += 1
        if searched > _SEARCH_ROWS or (best is not None and number > best.rows[-1] + _SEARCH_ON):
            break
        match = _best_at(grid, known, wanted, number)
        # A later row must be clearly better: a second table lower down does not take the place of the first.
        weight = match.score * (0.5 if _holds_values(grid.rows[number - 1]) else 1.0)
        if match.enough and (best is None or weight > 1.5 * best_weight):
            best, best_weight = match, weight
    return best


def _holds_values(row: tuple[CellValue, ...]) -> bool:
    """True for a line such as 'Section: S1, Size: 22' above a table: words of headings with values beside them."""
    filled = [value for value in row if not is_blank(value)]
    values = sum(1 for value in filled if not isinstance(value, str) or any(c.isdigit() for c in value))
    return 4 * values > len(filled)


def _best_at(grid: Grid, known: Mapping[str, str], wanted: Mapping[str, str], row: int) -> HeadingMatch:
    one = match_headings(grid, known, wanted, (row,))
    if row >= len(grid.rows):
        return one
    two = match_headings(grid, known, wanted, (row, row + 1))
    below = match_headings(grid, known, wanted, (row + 1,))
    return two if two.score > max(one.score, below.score) else one


def _units_row(grid: Grid, header_end: int) -> int | None:
    if header_end >= len(grid.rows):
        return None
    texts = [cell_text(value) for value in grid.rows[header_end]]
    return header_end + 1 if is_units_row(texts) else None


def _divide(
    grid: Grid,
    match: HeadingMatch,
    known: Mapping[str, str],
    units_row: int | None,
    first_row: int | None,
    last_row: int | None,
) -> TableLayout:
    start = (units_row or match.rows[-1]) + 1
    rules = BodyRules(match.columns, known)
    above: list[SetAside] = []
    aside: list[SetAside] = []
    body: list[tuple[int, tuple[CellValue, ...]]] = []
    blank = 0
    for number, row in grid.numbered():
        if match.rows[0] <= number < start:
            continue
        filled = [value for value in row if value is not None and value != ""]
        if not filled or all(is_blank(value) for value in filled):
            blank += 1
            rules.saw_blank()
        elif number < match.rows[0]:
            above.append(SetAside(number, "above the heading row", row_text(row)))
        elif (first_row is not None and number < first_row) or (last_row is not None and number > last_row):
            aside.append(SetAside(number, "outside the rows named in project.yml", row_text(row)))
        else:
            verdict = rules.judge(number, row, filled)
            if verdict is Verdict.RECORD:
                body.append((number, row))
            else:
                aside.append(SetAside(number, verdict.value, row_text(row)))
    if grid.sheet is None:
        body, shifted = _without_shifted(body, max((column.index for column in match.columns), default=0) + 1)
        aside = sorted([*aside, *shifted], key=lambda entry: entry.row)
    fills = _fill_merges(grid, body)
    problems = column_problems(match.columns, body, grid, rules.second_table_row)
    accounting = Accounting(
        total=len(grid.rows),
        above=len(above),
        header=len(match.rows),
        units=0 if units_row is None else 1,
        blank=blank,
        body=len(body),
        set_aside=len(aside),
    )
    return TableLayout(
        columns=match.columns,
        header_rows=match.rows,
        units_row=units_row,
        body=tuple(body),
        above=tuple(above),
        set_aside=tuple(aside),
        merge_fills=tuple(fills),
        problems=tuple(problems),
        accounting=accounting,
    )


def _without_shifted(
    body: list[tuple[int, tuple[CellValue, ...]]], width: int
) -> tuple[list[tuple[int, tuple[CellValue, ...]]], list[SetAside]]:
    """Take out records of a CSV file with values beyond the last heading, unless most have them: cells have shifted."""
    wide = {number for number, row in body if len(row) > width and not all(is_blank(value) for value in row[width:])}
    if not wide or 2 * len(wide) > len(body):
        return body, []
    reason = "more cells than headings: a cell with the delimiter in it lacks its quotation marks"
    shifted = [SetAside(number, reason, row_text(row)) for number, row in body if number in wide]
    return [(number, row) for number, row in body if number not in wide], shifted


def _fill_merges(grid: Grid, body: list[tuple[int, tuple[CellValue, ...]]]) -> list[MergeFill]:
    """Copy the top cell of each merge down its first column, in body rows only, and say so."""
    position = {number: index for index, (number, _) in enumerate(body)}
    fills = []
    for block in grid.merged:
        value = grid.value(block.first_row, block.first_column)
        if block.last_row == block.first_row or block.first_row not in position or is_blank(value):
            continue
        for number in range(block.first_row + 1, min(block.last_row, len(grid.rows)) + 1):
            index = position.get(number)
            if index is None:
                continue
            cells = list(body[index][1])
            cells.extend([None] * (block.first_column + 1 - len(cells)))
            if not is_blank(cells[block.first_column]):
                continue
            cells[block.first_column] = value
            body[index] = (number, tuple(cells))
            fills.append(MergeFill(number, block.first_column, block.first_row, value))
    return fills


def _without_header(grid: Grid, known: Mapping[str, str], header_row: int | None) -> TableLayout:
    aside, blank = [], 0
    fullest, most = 0, 0
    for number, row in grid.numbered():
        texts = [value for value in row if isinstance(value, str) and not is_blank(value)]
        if all(is_blank(value) for value in row):
            blank += 1
            continue
        aside.append(SetAside(number, "no heading row was found on the sheet", row_text(row)))
        if len(texts) > most:
            fullest, most = number, len(texts)
    if header_row is not None:
        message = f"row {header_row}, named as the heading row, is empty or does not exist"
        remedy = "correct header_row in project.yml"
    else:
        message = "no row holds headings that this table knows"
        remedy = "name the heading row by header_row in project.yml and map its headings"
        if fullest:
            texts = [cell_text(value) for value in grid.rows[fullest - 1] if not is_blank(value)]
            message += f"; row {fullest} has the most words: {', '.join(repr(text[:40]) for text in texts[:6])}"
            guesses = [guess for guess in (nearest_heading(text, known) for text in texts) if guess]
            if guesses:
                remedy += f" (nearest known: {', '.join(dict.fromkeys(guesses))})"
    accounting = Accounting(len(grid.rows), 0, 0, 0, blank, 0, len(aside))
    problem = TableProblem("no-heading-row", message, remedy, header_row)
    return TableLayout((), (), None, (), (), tuple(aside), (), (problem,), accounting)


def row_text(row: tuple[CellValue, ...]) -> str:
    """The filled cells of a row in one line, shortened to 300 characters."""
    text = " | ".join(" ".join(cell_text(value).split()) for value in row if not is_blank(value))
    return text if len(text) <= 300 else text[:299] + "…"
