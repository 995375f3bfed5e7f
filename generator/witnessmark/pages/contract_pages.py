"""The contract's reference pages, from the Table Schemas and the schema of project.yml."""

import json
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, NamedTuple

from witnessmark.model.bundled import shared_path
from witnessmark.model.contract import Edition, Field, Table, contract
from witnessmark.pages.address import root_of
from witnessmark.pages.context import Context
from witnessmark.pages.figure import UNIT_SIGNS, as_recorded
from witnessmark.pages.frame import Link, PageView
from witnessmark.pages.words import choice_words

WHO_SEES = {
    Edition.TAG: "everybody",
    Edition.FACILITIES: "facilities staff and auditor",
    Edition.AUDIT: "auditor only",
}


class FieldLine(NamedTuple):
    """A field as its reference shows it."""

    anchor: str
    name: str
    title: str
    description: str
    type: str
    unit: str
    required: bool
    allowed: str
    example: str
    sees: str
    headings: str


class TableLine(NamedTuple):
    """A table in the list of tables."""

    link: Link
    title: str
    description: str
    fields: str


class SettingLine(NamedTuple):
    """A key of project.yml."""

    key: str
    description: str
    type: str
    required: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class ContractIndex(PageView):
    """All tables of the contract, and the keys of project.yml."""

    tables: tuple[TableLine, ...]
    settings: tuple[SettingLine, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ContractPage(PageView):
    """One table of the contract."""

    name: str
    description: str
    key: str
    fields: tuple[FieldLine, ...]


def _allowed(field: Field) -> str:
    if field.enum:
        return ", ".join(field.enum)
    parts = []
    if field.minimum is not None:
        parts.append(f"at least {as_recorded(field.minimum)}")
    if field.maximum is not None:
        parts.append(f"at most {as_recorded(field.maximum)}")
    if field.refers_to:
        parts.append(f"an id of the table {choice_words(field.refers_to)}")
    return ", ".join(parts)


def _field(field: Field) -> FieldLine:
    return FieldLine(
        anchor=field.name.replace("_", "-"),
        name=field.name,
        title=field.title,
        description=field.description,
        type=field.type,
        unit=UNIT_SIGNS.get(field.unit, field.unit),
        required=field.required,
        allowed=_allowed(field),
        example=field.example,
        sees=WHO_SEES[field.visibility],
        headings=", ".join(field.headings),
    )


def _type_words(schema: dict[str, Any]) -> str:
    if "enum" in schema:
        return "one of " + ", ".join(str(each).replace("\t", "tab") for each in schema["enum"])
    if schema.get("format") == "date":
        return "date"
    return str(schema.get("type", "text or settings")).replace("string", "text")


def _settings(schema: dict[str, Any], prefix: str = "") -> Iterator[SettingLine]:
    required = schema.get("required", [])
    for name, each in schema.get("properties", {}).items():
        key = f"{prefix}{name}"
        yield SettingLine(key, each.get("description", ""), _type_words(each), name in required)
        yield from _settings(each, f"{key}.")
        if each.get("type") == "array":
            yield from _settings(each["items"], f"{key}[].")


def contract_index(context: Context) -> ContractIndex:
    """The list of tables and keys."""
    tables = contract()
    schema = json.loads(shared_path("contract/project.schema.json").read_text(encoding="utf-8"))
    return ContractIndex(
        frame=context.frame,
        address="contract.html",
        root="",
        title="The contract: what goes into the records",
        crumbs=(Link("Home", "index.html"),),
        tables=tuple(
            TableLine(Link(t.name, _address(t)), t.title, t.description, f"{len(t.fields)}") for t in tables.values()
        ),
        settings=tuple(_settings(schema)),
    )


def _address(table: Table) -> str:
    return f"contract/{table.name.replace('_', '-')}.html"


def contract_pages(context: Context) -> Iterator[ContractPage]:
    """A page for every table."""
    for table in contract().values():
        address = _address(table)
        yield ContractPage(
            frame=context.frame,
            address=address,
            root=root_of(address),
            title=f"Table: {table.title}",
            crumbs=(Link("Home", "index.html"), Link("The contract", "contract.html")),
            name=table.name,
            description=table.description,
            key=", ".join(table.key),
            fields=tuple(_field(field) for field in table.fields),
        )
