"""Heading rows matched to fields, by one row or by a group row over a row of sub-headings."""

from __future__ import annotations

import difflib
from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, replace

from witnessmark.intake.cell import CellValue, cell_text, is_blank
from witnessmark.intake.grid import Grid, column_letter
from witnessmark.intake.heading import heading_keys, normalise_heading


@dataclass(frozen=True, slots=True)
class Column:
    """A column of the table: index from 0, heading as written ('Group / Sub' for two rows), unit as written, matched
    field.

    ``matched_by`` is 'project', 'heading', 'group and sub-heading' or 'sub-heading alone'. ``contested`` names the
    field that this and another column both claim; neither has it then. ``nearest`` is the nearest known heading of an
    unmatched column.
    """

    index: int
    text: str
    unit: str | None
    field: str | None
    row: int
    matched_by: str = ""
    contested: str | None = None
    nearest: str | None = None


@dataclass(frozen=True, slots=True)
class HeadingMatch:
    """Columns read from one or two heading rows, and how many distinct fields they name."""

    columns: tuple[Column, ...]
    rows: tuple[int, ...]
    score: int
    explicit: int

    @property
    def enough(self) -> bool:
        """True when the row can be taken for the heading without being named."""
        filled = sum(1 for column in self.columns if column.text)
        return self.score >= 2 or self.explicit >= 1 or (self.score == 1 and filled == 1)

    def with_units(self, units: Mapping[int, str | None]) -> HeadingMatch:
        """The same with units from a units row, where the heading itself gave none."""
        columns = tuple(
            replace(column, unit=column.unit if column.unit is not None else units.get(column.index))
            for column in self.columns
        )
        return replace(self, columns=columns)

    def with_nearest(self, known: Mapping[str, str]) -> HeadingMatch:
        """The same with the nearest known heading at each column that has a heading and no field."""
        columns = tuple(
            column if column.field or not column.text else replace(column, nearest=nearest_heading(column.text, known))
            for column in self.columns
        )
        return replace(self, columns=columns)


def nearest_heading(text: str, known: Mapping[str, str]) -> str | None:
    """The known heading nearest in spelling; None when none is near."""
    found = difflib.get_close_matches(normalise_heading(text), known, n=1, cutoff=0.7)
    return found[0] if found else None


def match_headings(
    grid: Grid, known: Mapping[str, str], wanted: Mapping[str, str], rows: tuple[int, ...]
) -> HeadingMatch:
    """Match the cells of one heading row, or of a group row and the row below it, to fields.

    ``known`` has normalised headings as keys; ``wanted`` has headings or 'column H' as written in project.yml and wins.
    """
    own = {normalise_heading(text): field for text, field in wanted.items()}
    top = [_text(value) for value in grid.rows[rows[0] - 1]]
    bottom = [_text(value) for value in grid.rows[rows[1] - 1]] if len(rows) == 2 else []
    width = max(len(top), len(bottom))
    top += [""] * (width - len(top))
    bottom += [""] * (width - len(bottom))
    groups = _groups(grid, rows[0], top, bottom) if len(rows) == 2 else top
    repeated = Counter(normalise_heading(text) for text in bottom if text)
    columns = []
    for index in range(width):
        group, sub = groups[index], bottom[index]
        text = " / ".join(part for part in (group, sub) if part)
        alone = not sub or repeated[normalise_heading(sub)] == 1
        column = _column(index, text, _candidates(group, sub, alone=alone), known, own, rows[-1])
        columns.append(column)
    while columns and not columns[-1].text:
        columns.pop()
    columns, explicit = _uncontested(columns)
    score = len({column.field or column.contested for column in columns} - {None})
    return HeadingMatch(tuple(columns), rows, score, explicit)


def _text(value: CellValue) -> str:
    # A number or date in a heading row is a value above the table, never a heading.
    return " ".join(value.split()) if isinstance(value, str) and not is_blank(value) else cell_text(value).strip()


def _groups(grid: Grid, row: int, top: list[str], bottom: list[str]) -> list[str]:
    """The group heading over each column: merged cells, or blanks to its right that stand over sub-headings."""
    merged: dict[int, str] = {}
    for block in grid.merged:
        if block.first_row <= row <= block.last_row:
            for index in range(block.first_column, min(block.last_column + 1, len(top))):
                merged[index] = top[block.first_column]
    groups, current = [], ""
    for index, text in enumerate(top):
        if index in merged:
            current = merged[index]
            groups.append(current)
        elif text:
            current = text
            groups.append(text)
        else:
            groups.append(current if bottom[index] else "")
            current = current if bottom[index] else ""
    return groups


def _candidates(group: str, sub: str, *, alone: bool) -> list[tuple[str, str | None, str]]:
    if not group or not sub:
        return [(key, unit, "heading") for key, unit in heading_keys(group or sub)]
    found = []
    for sub_key, sub_unit in heading_keys(sub):
        for group_key, group_unit in heading_keys(group):
            unit = sub_unit or group_unit
            found.append((f"{group_key} {sub_key}", unit, "group and sub-heading"))
            found.append((f"{sub_key} {group_key}", unit, "group and sub-heading"))
    if alone:
        found += [(key, unit, "sub-heading alone") for key, unit in heading_keys(sub)]
    return found


def _column(
    index: int,
    text: str,
    candidates: list[tuple[str, str | None, str]],
    known: Mapping[str, str],
    own: Mapping[str, str],
    row: int,
) -> Column:
    unit = next((unit for _, unit, _ in candidates if unit), None)
    by_letter = own.get(f"column {column_letter(index).casefold()}")
    if by_letter is not None:
        return Column(index, text, unit, by_letter, row, "project")
    for key, found_unit, _ in candidates:
        if key in own:
            return Column(index, text, found_unit, own[key], row, "project")
    for key, found_unit, how in candidates:
        if key in known:
            return Column(index, text, found_unit, known[key], row, how)
    return Column(index, text, unit if candidates and candidates[0][1] else None, None, row)


def _uncontested(columns: list[Column]) -> tuple[list[Column], int]:
    """Take a field from all columns that claim it, unless the project's own word gives it to one of them."""
    claims = Counter(column.field for column in columns if column.field)
    named = Counter(column.field for column in columns if column.field and column.matched_by == "project")
    settled = []
    for column in columns:
        field = column.field
        if field and claims[field] > 1:
            if named[field] == 1 and column.matched_by != "project":
                column = replace(column, field=None, matched_by="")
            elif named[field] != 1:
                column = replace(column, field=None, contested=field, matched_by="")
        settled.append(column)
    return settled, sum(1 for column in settled if column.matched_by == "project")
