"""Tables of records as pages show them: columns the edition may show, cells with links and the text as written."""

import datetime
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any, NamedTuple

from witnessmark.model.contract import Field, contract
from witnessmark.model.records import Record
from witnessmark.model.source import RowSource
from witnessmark.pages.context import Context
from witnessmark.pages.figure import as_recorded
from witnessmark.pages.words import NOT_READ, NOT_RECORDED, choice_words, clean, date_words

NONE, NUMBER, FREE = "none", "number", "free"


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


NOT_RECORDED_CELL = Cell(NOT_RECORDED, mark=NONE)
NOT_READ_CELL = Cell(NOT_READ, mark=NONE)


def free_text(text: str, link: str = "") -> Cell:
    """A cell of free text."""
    text = clean(text)
    return Cell(text, link, "", "" if text.isascii() else FREE)


def raw_text(source: RowSource, field: str) -> str:
    """The text that stood in the field's cell; '' where it has none."""
    if source.overrides and field in source.overrides:
        return source.overrides[field].raw
    column = source.table.columns.get(field)
    if column is None or column.index >= len(source.raw):
        return ""
    return source.raw[column.index]


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
        return as_recorded(value, field.unit), f"{value:.10g}"
    if isinstance(value, tuple):
        return clean(", ".join(value)), "; ".join(value)
    if field.enum:
        return choice_words(value), value
    return clean(value), value


class ColumnReader:
    """Turns one field of a record into a cell, remembering the cells it has made."""

    def __init__(self, context: Context, table: str, field: Field) -> None:
        self.field = field
        self.column = Column(field.title, field.type in ("number", "integer"))
        self._context = context
        self._show_raw = context.audit
        self._linked = field.refers_to
        if not self._linked and table == "sections" and field.name == "section_id":
            self._linked = "sections"
        if not self._linked and table == "systems" and field.name == "system_id":
            self._linked = "systems"
        self._made: dict[tuple[Any, str], Cell] = {}
        self._few = field.reads not in ("id", "text", "path")

    def cell(self, record: Record) -> Cell:
        """The cell of the record's field."""
        name = self.field.name
        value = getattr(record, name)
        raw = raw_text(record.source, name)
        if not self._few:
            return self._make(value, raw)
        key = (value, raw)
        made = self._made.get(key)
        if made is None:
            made = self._made[key] = self._make(value, raw)
        return made

    def _make(self, value: Any, raw: str) -> Cell:
        if value is None or value == ():
            if not raw.strip():
                return NOT_RECORDED_CELL
            return Cell(NOT_READ, "", clean(raw) if self._show_raw else "", NONE)
        text, plain = value_words(self.field, value)
        link = ""
        if self._linked:
            first = value[0] if isinstance(value, tuple) else value
            if not isinstance(value, tuple) or len(value) == 1:
                link = self._context.address_of(self._linked, first)
        mark = NUMBER if self.column.number else ("" if text.isascii() or not isinstance(value, (str, tuple)) else FREE)
        changed = self._show_raw and raw.strip() not in ("", plain, text)
        return Cell(text, link, clean(raw) if changed else "", mark)


def readers(context: Context, table: str, fields: Sequence[str]) -> tuple[ColumnReader, ...]:
    """Readers of those fields of a table that the edition may show, in the order given."""
    declared = {field.name: field for field in contract()[table].fields}
    return tuple(ColumnReader(context, table, declared[name]) for name in fields if context.shows(table, name))


def row_of(columns: Sequence[ColumnReader], record: Record, anchor: str = "") -> Row:
    """A record as a row."""
    return Row(anchor, tuple([column.cell(record) for column in columns]))


def table_of(
    columns: Sequence[ColumnReader],
    records: Sequence[Record],
    caption: str,
    empty: str,
    anchor: Callable[[int], str] = lambda _: "",
) -> TableView:
    """Records as a table."""
    rows = tuple([row_of(columns, record, anchor(index)) for index, record in enumerate(records)])
    return TableView(caption, tuple(column.column for column in columns), rows, empty)
