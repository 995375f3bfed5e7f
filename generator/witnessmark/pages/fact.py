"""Single facts of a record, each behind the gate and each saying so where it is not known."""

from typing import NamedTuple

from witnessmark.model.records import Record
from witnessmark.pages.context import Context
from witnessmark.pages.table import NONE, readers
from witnessmark.pages.words import NOT_IN_RECORDS, NOT_RECORDED


class Fact(NamedTuple):
    """A label and its words."""

    label: str
    text: str
    known: bool
    link: str = ""
    raw: str = ""


class FactReader:
    """Reads a fixed list of fields of one table as facts; fields that the edition may not show are left out."""

    def __init__(self, context: Context, table: str, fields: tuple[str, ...]) -> None:
        self._columns = readers(context, table, fields)

    def facts(self, record: Record) -> tuple[Fact, ...]:
        """All facts of the record, known or not."""
        result = []
        for column in self._columns:
            text, link, raw, mark = column.cell(record)
            known = mark != NONE
            result.append(Fact(column.field.title, NOT_IN_RECORDS if text == NOT_RECORDED else text, known, link, raw))
        return tuple(result)
