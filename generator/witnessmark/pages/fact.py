"""Single facts of a record, each behind the gate and each saying so where it is not known."""

from typing import NamedTuple

from witnessmark.model.contract import contract
from witnessmark.model.records import Record
from witnessmark.pages.context import Context
from witnessmark.pages.table import NONE, ColumnReader
from witnessmark.pages.words import NOT_IN_RECORDS, NOT_RECORDED, sentence_start


class Fact(NamedTuple):
    """A label and its words."""

    label: str
    text: str
    known: bool
    link: str = ""
    raw: str = ""


class FactList(NamedTuple):
    """Facts that are known, and one sentence naming those that are not; '' where none is missing."""

    known: tuple[Fact, ...]
    missing: str


class FactReader:
    """Reads a fixed list of fields of one table as facts; fields that the edition may not show are left out."""

    def __init__(self, context: Context, table: str, fields: tuple[str, ...]) -> None:
        declared = {field.name: field for field in contract()[table].fields}
        shown = [declared[name] for name in fields if context.shows(table, name)]
        self._readers = tuple(ColumnReader(context, table, field) for field in shown)

    def facts(self, record: Record) -> FactList:
        """The facts of the record; what is missing is named, what could not be read is shown as such."""
        known, missing = [], []
        for reader in self._readers:
            cell = record.source.cell(reader.field.name)
            text, link, raw, mark = reader.make(getattr(record, reader.field.name), cell.raw if cell else "")
            if mark == NONE and text == NOT_RECORDED:
                missing.append(reader.title_within)
            else:
                known.append(Fact(reader.field.title, text, mark != NONE, link, raw))
        return FactList(tuple(known), f"{sentence_start(NOT_IN_RECORDS)}: {', '.join(missing)}." if missing else "")
