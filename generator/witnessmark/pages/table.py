"""Tables of records as pages show them: columns the edition may show, cells with links and the text as written."""

import datetime
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, NamedTuple

from witnessmark.model.contract import Field, contract
from witnessmark.model.records import Record
from witnessmark.pages.context import Context
from witnessmark.pages.figure import as_recorded, rounded
from witnessmark.pages.words import NOT_READ, NOT_RECORDED, choice_words, clean, date_words

PAGES_OF_THEIR_OWN = ("systems", "sections", "tests")
NAMED_BY = {"tests": "test_id"}
"""Where no single column is the key: the column whose cells lead to the page."""
NONE, NUMBER, FREE = "none", "number", "free"
MOST_ON_PAPER = 12
"""Columns that still can be read across a sheet; wider tables are printed row by row, each cell after its heading."""


class Cell(NamedTuple):
    """A cell: words, link, text as written where it was read as something else, and how to set it.

    ``mark`` is 'none' (not known), 'number', 'free' (text that may run right to left) or ''.
    """

    text: str
    link: str = ""
    raw: str = ""
    mark: str = ""


class Column(NamedTuple):
    """A column: heading and whether its cells are numbers."""

    title: str
    number: bool = False


class Row(NamedTuple):
    """A row with its anchor ('' for none)."""

    anchor: str
    cells: tuple[Cell, ...]


@dataclass(frozen=True, slots=True)
class TableView:
    """A table ready to be set."""

    caption: str
    columns: tuple[Column, ...]
    rows: tuple[Row, ...]
    empty: str
    """What to say where there are no rows."""
    note: str = ""
    """What no row says."""
    kind: str = ""
    """Names the print layout of a table too wide for paper; '' for one that fits."""


NOT_RECORDED_CELL = Cell(NOT_RECORDED, mark=NONE)
NOT_READ_CELL = Cell(NOT_READ, mark=NONE)


def free_text(text: str, link: str = "") -> Cell:
    """A cell of free text."""
    text = clean(text)
    return Cell(text, link, "", "" if text.isascii() else FREE)


def key_of(table: str) -> str:
    """The column that names a row of the table; '' where several do."""
    key = contract()[table].key
    return key[0] if len(key) == 1 else ""


def value_words(field: Field, value: Any) -> tuple[str, str]:
    """A read value in words, and the plain form that its cell has when nothing was changed."""
    if isinstance(value, bool):
        word = "yes" if value else "no"
        return word, word
    if isinstance(value, datetime.date):
        return date_words(value), value.isoformat()
    if isinstance(value, datetime.time):
        plain = value.strftime("%H:%M")
        return plain, plain
    if isinstance(value, (int, float)):
        shown = rounded(value, field.unit)
        return as_recorded(shown, field.unit), f"{shown:.10g}"
    if isinstance(value, tuple):
        return clean(", ".join(value)), "; ".join(value)
    if field.enum:
        return choice_words(value), value
    return clean(value), value


class ColumnReader:
    """Turns the value of one field into a cell, remembering the cells of values that come again and again."""

    def __init__(self, context: Context, table: str, field: Field) -> None:
        self.field = field
        self.column = Column(field.title, field.type in ("number", "integer"))
        self.title_within = field.title[:1].lower() + field.title[1:]
        self.made: dict[tuple[Any, str], Cell] | None = {} if field.reads not in ("id", "text", "path") else None
        self._context = context
        own = table if field.name == NAMED_BY.get(table, key_of(table)) and table in PAGES_OF_THEIR_OWN else ""
        self._linked = field.refers_to or own

    def make(self, value: Any, raw: str) -> Cell:
        """The cell of a value that was read from ``raw``."""
        audit = self._context.audit
        if value is None or value == ():
            if not raw.strip():
                return NOT_RECORDED_CELL
            return Cell(NOT_READ, "", clean(raw) if audit else "", NONE)
        text, plain = value_words(self.field, value)
        link = ""
        if self._linked:
            first = value[0] if isinstance(value, tuple) else value
            if not isinstance(value, tuple) or len(value) == 1:
                link = self._context.address_of(self._linked, first)
        mark = NUMBER if self.column.number else ("" if text.isascii() or not isinstance(value, (str, tuple)) else FREE)
        changed = audit and raw.strip() not in ("", plain, text)
        return Cell(text, link, clean(raw) if changed else "", mark)


class RowReader:
    """Turns records of one table into rows of the columns that the edition may show.

    Long registers spend their time here, so whole rows are fetched at once and cells are remembered by value and text.
    """

    def __init__(self, context: Context, table: str, fields: Sequence[str], kind: str = "") -> None:
        declared = {field.name: field for field in contract()[table].fields}
        allowed = [name for name in fields if context.shows(table, name)]
        recorded = [name for name in allowed if context.is_recorded(table, name)]
        self.readers = tuple(ColumnReader(context, table, declared[name]) for name in recorded)
        self.columns = tuple(reader.column for reader in self.readers)
        never = [declared[name].title for name in allowed if name not in recorded]
        self.note = f"Not recorded anywhere in this pack: {', '.join(never)}." if never else ""
        self.kind = ""
        if len(self.columns) > MOST_ON_PAPER:
            self.kind = kind or table
            context.wide_tables[self.kind] = tuple(column.title for column in self.columns)
        self._names = tuple(reader.field.name for reader in self.readers)
        self._memos = tuple(reader.made for reader in self.readers)
        self._makers = tuple(reader.make for reader in self.readers)

    def __bool__(self) -> bool:
        return bool(self.readers)

    def cells(self, record: Record) -> tuple[Cell, ...]:
        """The cells of a record."""
        source = record.source
        columns, overrides, raws = source.table.columns, source.overrides, source.raw
        width = len(raws)
        cells = []
        for name, memo, make in zip(self._names, self._memos, self._makers, strict=True):
            column = columns.get(name)
            raw = raws[column.index] if column is not None and column.index < width else ""
            if overrides is not None and name in overrides:
                raw = overrides[name].raw
            value = getattr(record, name)
            if memo is None:
                cells.append(make(value, raw))
                continue
            key = (value, raw)
            cell = memo.get(key)
            if cell is None:
                cell = memo[key] = make(value, raw)
            cells.append(cell)
        return tuple(cells)

    def row(self, record: Record, anchor: str = "") -> Row:
        """A record as a row."""
        return Row(anchor, self.cells(record))

    def table(self, records: Sequence[Record], caption: str, empty: str) -> TableView:
        """Records as a table."""
        return TableView(
            caption, self.columns, tuple([self.row(record) for record in records]), empty, self.note, self.kind
        )
