"""One sheet to draft rows of one table: every cell read or explained, every row used or set aside."""

import datetime
from collections.abc import Mapping
from typing import Any

import numpy as np
import pandas as pd

from witnessmark.intake.cell import CellValue, cell_text, is_blank
from witnessmark.intake.column_reader import ColumnReader, Reading
from witnessmark.intake.date_order import dates_perhaps_swapped
from witnessmark.intake.draft import Draft, Ledger, PendingFinding
from witnessmark.intake.grid import Grid, column_letter
from witnessmark.intake.heading_match import Column
from witnessmark.intake.readings import Fault
from witnessmark.intake.size_reader import TubeSize
from witnessmark.intake.source_plan import PlannedSheet
from witnessmark.intake.table_layout import TableLayout, locate
from witnessmark.model.contract import Field, Table, contract
from witnessmark.model.project import Repair, SetAside, SourceAccount
from witnessmark.model.settings import ColumnAnswer, ProjectSettings
from witnessmark.model.source import Cell, RowSource, SourceColumn, SourceLocation, SourceTable

_OWN_REGISTER = "tags"
"""The build writes this table itself: it is no record of the site's, so the sums leave it out. Counted, the first build
of a project would differ from the second."""

Body = tuple[tuple[int, tuple[CellValue, ...]], ...]


def vocabulary(table: Table) -> dict[str, str]:
    """Heading to field: the contract's own names first, then titles and the headings that sites use."""
    words: dict[str, str] = {}
    for field in table.fields:
        words[field.name] = field.name
    for field in table.fields:
        words.setdefault(field.title, field.name)
    for field in table.fields:
        for heading in field.headings:
            words.setdefault(heading, field.name)
    return words


class TableReader:
    """Reads one planned sheet into a draft, telling the ledger what it did."""

    def __init__(self, planned: PlannedSheet, settings: ProjectSettings, ledger: Ledger) -> None:
        self._source = planned.settings
        self._grid: Grid = planned.grid
        self._sha256 = planned.sha256
        self._day_numbers_from = planned.day_numbers_from
        self._settings = settings
        self._ledger = ledger
        self._table = contract()[planned.settings.table]
        self._file = planned.grid.file
        self._sheet = planned.grid.sheet or ""

    def read(self) -> Draft:
        """The draft of all rows used."""
        layout = self._locate()
        self._tell_problems(layout)
        draft = Draft(self._table.name)
        body = self._with_key(layout)
        table_source = self._table_source(layout)
        draft.sources = self._row_sources(layout, body, table_source)
        # Sizes come last: what a nominal size means depends on the material of the row.
        for field in sorted(self._table.fields, key=lambda f: f.reads == "size"):
            draft.columns[field.name] = self._column(field, layout, body, draft)
        _take_walls(self._table, draft)
        self._set_aside_unreadable_ids(draft)
        self._account(layout, len(draft))
        return draft

    def _set_aside_unreadable_ids(self, draft: Draft) -> None:
        """Rows whose id is there and cannot be read: a finding names the cell already."""
        if not self._table.key:
            return
        ids = draft.columns[self._table.key[0]]
        for source, record_id in zip(draft.sources, ids, strict=True):
            if record_id is None:
                text = " | ".join(part for part in source.raw if part)
                self._ledger.set_aside.append(
                    SetAside(source.location, self._table.name, f"its {self._table.key[0]} could not be read", text)
                )
        draft.drop({position for position, record_id in enumerate(ids) if record_id is None})

    def _locate(self) -> TableLayout:
        wanted = {answer.heading: field for field, answer in self._source.columns.items() if answer.heading}
        return locate(
            self._grid,
            vocabulary(self._table),
            wanted=wanted,
            header_row=self._source.header_row,
            first_row=self._source.first_row,
            last_row=self._source.last_row,
        )

    def _place(self, row: int = 0, column: int | None = None, heading: str = "") -> SourceLocation:
        letter = column_letter(column) if column is not None else ""
        return SourceLocation(self._file, self._sheet, row, letter, heading)

    def _tell(
        self, kind: str, message: str, remedy: str, location: SourceLocation, row: RowSource | None = None
    ) -> None:
        self._ledger.findings.append(PendingFinding(kind, message, remedy, location, self._table.name, row))

    def _tell_problems(self, layout: TableLayout) -> None:
        for problem in layout.problems:
            self._tell(problem.kind, problem.message, problem.remedy, self._place(problem.row or 0, problem.column))
        ignored = {text.strip().casefold() for text in self._source.ignore}
        wanted = {answer.heading for answer in self._source.columns.values() if answer.heading}
        found = {column.field for column in layout.columns if column.matched_by == "project"}
        headings = ", ".join(repr(column.text) for column in layout.columns if column.text)
        for field, answer in self._source.columns.items():
            if answer.heading in wanted and field not in found and layout.columns:
                self._tell(
                    "mapped-heading-missing",
                    f"project.yml maps {field} to the heading '{answer.heading}', which the table has not",
                    f"correct the heading in project.yml; the table has {headings}",
                    self._place(layout.header_rows[0] if layout.header_rows else 0),
                )
        for column in layout.columns:
            if (
                column.field is None
                and column.contested is None
                and column.text
                and column.text.strip().casefold() not in ignored
            ):
                hint = f"; the nearest heading known is '{column.nearest}'" if column.nearest else ""
                self._tell(
                    "unknown-column",
                    f"the heading '{column.text}' is no column of {self._table.name}{hint}",
                    "map it under 'columns' in project.yml, or list it under 'ignore'; its cells are kept as raw text",
                    self._place(column.row, column.index, column.text),
                )

    def _with_key(self, layout: TableLayout) -> Body:
        """Body rows, less those of a keyed table that have no key: these are set aside, each with a finding."""
        aside = [(s.row, s.reason, s.text) for s in (*layout.above, *layout.set_aside)]
        aside += [(row, "heading row", self._text(row)) for row in layout.header_rows]
        if layout.units_row is not None:
            aside.append((layout.units_row, "units row", self._text(layout.units_row)))
        key = self._table.key[0] if self._table.key else None
        body = layout.body
        column = layout.column_of(key) if key else None
        if key and key not in self._source.fixed:
            kept = []
            for row, cells in body:
                if column is not None and column.index < len(cells) and not is_blank(cells[column.index]):
                    kept.append((row, cells))
                    continue
                aside.append((row, f"no {key}", self._text(row)))
                if column is not None:
                    self._tell(
                        "row-without-id",
                        f"the row has no {key}, so no record was made of it",
                        f"write its {key} in column {column_letter(column.index)}",
                        self._place(row, column.index, column.text),
                    )
            if column is None and layout.columns and body:
                self._tell(
                    "key-column-missing",
                    f"no heading was read as {key}, so none of the {len(body)} rows became a record",
                    f"map {key} to its heading under 'columns' in project.yml",
                    self._place(layout.header_rows[0] if layout.header_rows else 0),
                )
            body = tuple(kept)
        if self._table.name != _OWN_REGISTER:
            self._ledger.set_aside.extend(
                SetAside(self._place(row), self._table.name, reason, text) for row, reason, text in sorted(aside)
            )
        return body

    def _text(self, row: int) -> str:
        return " | ".join(cell_text(value) for value in self._grid.rows[row - 1] if not is_blank(value))

    def _account(self, layout: TableLayout, used: int) -> None:
        if self._table.name == _OWN_REGISTER:
            return
        counted = layout.accounting
        rows_in = counted.total - counted.blank
        self._ledger.accounts.append(
            SourceAccount(self._file, self._sheet, self._table.name, rows_in, used, rows_in - used, used, self._sha256)
        )

    def _table_source(self, layout: TableLayout) -> SourceTable:
        columns = {
            column.field: SourceColumn(column.index, column_letter(column.index), column.text)
            for column in layout.columns
            if column.field is not None
        }
        width = max((column.index for column in layout.columns), default=-1) + 1
        headings = [""] * width
        for column in layout.columns:
            headings[column.index] = column.text
        return SourceTable(self._file, self._sheet, columns, tuple(headings))

    def _row_sources(self, layout: TableLayout, body: Body, table: SourceTable) -> list[RowSource]:
        fields = {column.index: column.field for column in layout.columns if column.field is not None}
        merged: dict[int, dict[str, Cell]] = {}
        for fill in layout.merge_fills:
            field = fields.get(fill.column)
            location = self._place(
                fill.from_row, fill.column, table.headings[fill.column] if fill.column < len(table.headings) else ""
            )
            if field is not None:
                merged.setdefault(fill.row, {})[field] = Cell(location, cell_text(fill.value))
                self._ledger.repairs.append(
                    Repair(
                        self._place(fill.row, fill.column, location.heading),
                        self._table.name,
                        field,
                        "",
                        cell_text(fill.value),
                        f"filled from row {fill.from_row}, inside one merged cell",
                    )
                )
        fixed = {field: Cell(SourceLocation("project.yml"), text) for field, text in self._source.fixed.items()}
        is_csv = self._grid.sheet is None
        sources = []
        for row, cells in body:
            # What stood in the file, not what a merge filled in.
            stood = self._grid.rows[row - 1] if row in merged else cells
            raw = stood if is_csv else tuple(cell_text(value) for value in stood)
            overrides: Mapping[str, Cell] | None = fixed or None
            if row in merged:
                overrides = {**fixed, **merged[row]}
            sources.append(RowSource(table, row, raw, overrides))  # type: ignore[arg-type]  # CSV cells are text already
        return sources

    def _column(self, field: Field, layout: TableLayout, body: Body, draft: Draft) -> list[Any]:
        answer = self._answer(field)
        fixed = self._source.fixed.get(field.name)
        column = layout.column_of(field.name)
        mapped = self._source.columns.get(field.name)
        if column is not None and mapped is not None and mapped.heading and column.matched_by != "project":
            # The project named another heading; reading this one in its place would be a guess.
            column = None
        if fixed is None and column is None:
            return [None] * len(body)
        own_name = column is not None and column.text.strip() == field.name
        reader = ColumnReader(
            self._table.name,
            field,
            answer,
            heading_unit=(column.unit if column else None) or (field.unit if own_name or fixed is not None else None),
            limits=self._settings.limits,
            issue_date=self._settings.issue.date,
            day_numbers_from=self._day_numbers_from,
        )
        if fixed is not None:
            return self._fixed_column(field, reader, fixed, len(body))
        assert column is not None
        index = column.index
        cells: list[CellValue] = [row[index] if index < len(row) else None for _, row in body]
        if answer.blank == "same_as_above":
            cells = self._filled_down(field, body, cells, index, column.text)
        if field.reads == "date" and self._grid.sheet is not None:
            swapped = dates_perhaps_swapped(cells)
            if swapped is not None:
                place = self._place(layout.header_rows[-1], column.index, column.text)
                self._tell(swapped.kind, f"{field.title}: {swapped.message}", swapped.remedy, place)
        readings = self._sized(reader, cells, draft) if field.reads == "size" else _distinct(reader, cells)
        return self._values(field, body, readings, column, draft)

    def _fixed_column(self, field: Field, reader: ColumnReader, fixed: str, rows: int) -> list[Any]:
        reading = reader.read(fixed)
        if isinstance(reading, Fault):
            self._tell(
                reading.kind,
                f"project.yml fixes {field.name} at '{fixed}' for this file: {reading.message}",
                reading.remedy,
                SourceLocation("project.yml"),
            )
            return [None] * rows
        value = reading.value.outside_diameter if isinstance(reading.value, TubeSize) else reading.value
        return [value] * rows

    def _answer(self, field: Field) -> ColumnAnswer:
        own = self._source.columns.get(field.name)
        general = self._settings.answers.get(f"{self._table.name}.{field.name}")
        if own is None or general is None:
            return own or general or ColumnAnswer()
        return ColumnAnswer(
            heading=own.heading,
            unit=own.unit or general.unit,
            date_order=own.date_order or general.date_order,
            decimal=own.decimal or general.decimal,
            blank=own.blank or general.blank,
            words={**general.words, **own.words},
            sizes={**general.sizes, **own.sizes},
            date_serial=own.date_serial or general.date_serial,
            clock=own.clock or general.clock,
        )

    def _filled_down(
        self, field: Field, body: Body, cells: list[CellValue], index: int, heading: str
    ) -> list[CellValue]:
        filled: list[CellValue] = []
        above: CellValue = None
        for (row, _), value in zip(body, cells, strict=True):
            if is_blank(value) and not is_blank(above):
                self._ledger.repairs.append(
                    Repair(
                        self._place(row, index, heading),
                        self._table.name,
                        field.name,
                        "",
                        cell_text(above),
                        "blank read as the value above, as project.yml says",
                    )
                )
                filled.append(above)
            else:
                above = value
                filled.append(value)
        return filled

    def _sized(self, reader: ColumnReader, cells: list[CellValue], draft: Draft) -> list[Reading | None]:
        """Sizes, each distinct pair of text and material read once."""
        name = "material_tube" if self._table.name == "joints" else "material"
        materials = draft.columns.get(name) or [None] * len(cells)
        known: dict[tuple[str, str | None], Reading] = {}
        readings: list[Reading | None] = []
        for value, material in zip(cells, materials, strict=True):
            if is_blank(value):
                readings.append(None)
                continue
            key = (cell_text(value), material)
            if key not in known:
                known[key] = reader.read_sized(value, material)
            readings.append(known[key])
        return readings

    def _values(
        self, field: Field, body: Body, readings: list[Reading | None], column: Column, draft: Draft
    ) -> list[Any]:
        """The values read; every repair goes to the ledger and every fault becomes a finding."""
        values: list[Any] = []
        for source, (row, cells), reading in zip(draft.sources, body, readings, strict=True):
            if reading is None:
                values.append(None)
                continue
            if isinstance(reading, Fault):
                values.append(None)
                if reading.kind != "blank":
                    self._tell(
                        reading.kind,
                        f"{field.title}: {reading.message}",
                        reading.remedy,
                        self._place(row, column.index, column.text),
                        source,
                    )
                continue
            values.append(reading.value)
            if reading.repair:
                value = reading.value
                self._ledger.repairs.append(
                    Repair(
                        self._place(row, column.index, column.text),
                        self._table.name,
                        field.name,
                        cell_text(cells[column.index]) if column.index < len(cells) else "",
                        value_text(value),
                        reading.repair,
                    )
                )
            if reading.note:
                message = f"{field.title}: {reading.note.message}"
                self._tell(reading.note.kind, message, "", self._place(row, column.index, column.text), source)
        return values


def _take_walls(table: Table, draft: Draft) -> None:
    """Sizes written with their wall ('22 x 0.9') give the wall too, where the row records no other."""
    sizes = [field.name for field in table.fields if field.reads == "size"]
    for name in sizes:
        column = draft.columns[name]
        walls = draft.columns.get("wall_mm") if name == "od_mm" else None
        for position, size in enumerate(column):
            if isinstance(size, TubeSize):
                column[position] = size.outside_diameter
                if walls is not None and walls[position] is None:
                    walls[position] = size.wall


def value_text(value: Any) -> str:
    """A read value as the clean export writes it."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, TubeSize):
        return f"{value.outside_diameter:g}" + (f" x {value.wall:g}" if value.wall is not None else "")
    if isinstance(value, float):
        return f"{value:g}"
    if isinstance(value, datetime.time):
        return value.isoformat("minutes")
    if isinstance(value, datetime.date):
        return value.isoformat()
    if isinstance(value, tuple):
        return "; ".join(map(str, value))
    return str(value)


def _distinct(reader: ColumnReader, cells: list[CellValue]) -> list[Reading | None]:
    """Readings of a column, every distinct text read once: logs repeat themselves, and reading is the dear part."""
    if all(type(value) is str for value in cells):
        codes, uniques = pd.factorize(np.array(cells, dtype=object), use_na_sentinel=False)
        read = [None if is_blank(value) else reader.read(value) for value in uniques]
        return [read[code] for code in codes.tolist()]
    # Numbers, truth values and dates of workbooks may be equal without being the same: 1, 1.0 and TRUE.
    known: dict[tuple[type, str], Reading | None] = {}
    readings = []
    for value in cells:
        key = (type(value), cell_text(value))
        if key not in known:
            known[key] = None if is_blank(value) else reader.read(value)
        readings.append(known[key])
    return readings
