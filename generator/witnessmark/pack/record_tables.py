"""Tables of the contract as tables of the export: the same fields and constraints, references that always resolve."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from operator import attrgetter
from typing import Any

from witnessmark.model.contract import Field, contract, key_field
from witnessmark.model.project import Records
from witnessmark.pack.data_table import (
    DataColumn,
    DataTable,
    ForeignKey,
    Written,
    counted,
    figure,
    texts,
    texts_of,
    values_for,
)

NUMBERED = frozenset(
    {"tubes", "joints", "tests", "calibrations", "tool_services", "trainings", "ratings", "issued_tags"}
)
"""Tables whose rows are told apart by their number: rows that contradict each other are kept side by side in them."""

_KEPT = ("name", "type", "title", "description", "format", "unit", "example", "trueValues", "falseValues", "visibility")


def descriptor(table: str, field: Field) -> dict[str, Any]:
    """Descriptor of a contract field as the export holds it: what may be missing in the records may be missing here."""
    raw = next(raw for raw in contract()[table].schema["fields"] if raw["name"] == field.name)
    own = {name: raw[name] for name in _KEPT if raw.get(name)}
    constraints = {k: v for k, v in raw.get("constraints", {}).items() if k not in ("required", "unique")}
    if "maxLength" in constraints:
        # Room for the apostrophe that guards a cell.
        constraints["maxLength"] += 1
    if field.name in contract()[table].key:
        constraints = {"required": True} | constraints
        if table not in NUMBERED:
            constraints = {"unique": True} | constraints
    if constraints:
        own["constraints"] = constraints
    return own


def record_table(name: str, records: Records, extra: Sequence[DataColumn] = ()) -> DataTable:
    """A table of the contract with the columns of the contract, unresolved references, the source, then ``extra``."""
    table = contract()[name]
    columns: list[DataColumn] = []
    unresolved: list[DataColumn] = []
    foreign: list[ForeignKey] = []
    if name in NUMBERED:
        columns.append(record_number(name))
    for field in table.fields:
        own = descriptor(name, field)
        if field.refers_to and field.reads != "refs":
            known = register_keys(records, field.refers_to)
            inside, outside = reference_columns(own, field.refers_to, known, attrgetter(field.name))
            columns.append(inside)
            unresolved.append(outside)
            foreign.append(ForeignKey(field.name, field.refers_to, key_field(field.refers_to)))
        elif field.reads == "refs":
            columns.append(DataColumn(own, texts(_joined(attrgetter(field.name)))))
        else:
            columns.append(DataColumn(own, values_for(own, attrgetter(field.name))))
    return DataTable(
        name=name,
        title=table.title,
        description=table.description,
        primary_key="record" if name in NUMBERED else table.key[0],
        columns=(*columns, *unresolved, *_source_columns(), *extra),
        rows=records.table(name),
        foreign_keys=tuple(foreign),
    )


def record_number(name: str) -> DataColumn:
    """The key column of a numbered table."""
    return DataColumn(
        {
            "name": "record",
            "type": "string",
            "title": "Record",
            "description": "Number of the record in the order read; the key of this table.",
            "constraints": {"required": True, "unique": True},
        },
        counted(name),
    )


def register_keys(records: Records, name: str) -> frozenset[str]:
    """Ids of all rows of a register."""
    return frozenset(map(attrgetter(key_field(name)), records.table(name)))


def reference_columns(
    own: dict[str, Any], register: str, known: Iterable[str], get: Callable[[Any], str | None]
) -> tuple[DataColumn, DataColumn]:
    """A reference as two columns: what resolves, which can be a foreign key, and what does not, which is kept."""
    beside = f"{own['name']}_unresolved"
    inside = own | {
        "description": f"{own['description']} A row of {register}.csv; a value that is none stands in {beside}."
    }
    outside = {
        "name": beside,
        "type": "string",
        "title": f"{own['title']}, unresolved",
        "description": f"What the records give for {own['name']} where {register}.csv has no such row.",
    }

    resolved: dict[str | None, str | None] = {key: key for key in known}

    def found(rows: Sequence[Any]) -> Iterator[Written]:
        return texts_of(map(resolved.get, map(get, rows)))

    def not_found(rows: Sequence[Any]) -> Iterator[Written]:
        return texts_of(map(_Unresolved(known).__getitem__, map(get, rows)))

    return DataColumn(inside, found), DataColumn(outside, not_found)


class _Unresolved(dict[str | None, str | None]):
    """Nothing for a known id, the id itself for any other."""

    def __init__(self, known: Iterable[str]) -> None:
        super().__init__(dict.fromkeys(known))
        self[None] = None

    def __missing__(self, key: str | None) -> str | None:
        return key


def _joined(get: Callable[[Any], tuple[str, ...]]) -> Callable[[Any], str]:
    return lambda record: "; ".join(get(record))


def _source_columns() -> tuple[DataColumn, ...]:
    return (
        figure(
            "source_file",
            "string",
            "Source file",
            "File that the row was read from, relative to the project folder.",
            attrgetter("source.table.file"),
        ),
        figure(
            "source_sheet",
            "string",
            "Source sheet",
            "Sheet of the workbook; empty for a CSV file.",
            attrgetter("source.table.sheet"),
        ),
        figure(
            "source_row",
            "integer",
            "Source row",
            "Row as a spreadsheet numbers it: from 1, the heading included.",
            attrgetter("source.row"),
        ),
    )
