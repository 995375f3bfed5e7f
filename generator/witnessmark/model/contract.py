"""The contract: one Table Schema a table, read from the bundled ``shared/contract/``."""

import json
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from typing import Any

from witnessmark.model.bundled import shared_path


class Edition(StrEnum):
    """Who may see a pack, from everybody to the auditor."""

    TAG = "tag"
    FACILITIES = "facilities"
    AUDIT = "audit"

    @property
    def rank(self) -> int:
        """0 for the edition that everybody may see."""
        return list(Edition).index(self)

    def may_show(self, visibility: "Edition") -> bool:
        """Whether this edition may show something declared for ``visibility``."""
        return self.rank >= visibility.rank


@dataclass(frozen=True, slots=True)
class Field:
    """One column of the contract."""

    name: str
    type: str
    title: str
    description: str
    example: str
    reads: str
    """How the text is read: id, ref, refs, person, text, path, number, integer, size, choice, material, yesno,
    date, time."""
    unit: str
    required: bool
    enum: tuple[str, ...]
    minimum: float | None
    maximum: float | None
    refers_to: str
    may_be_later: bool
    """Dates only: whether the day may lie after the issue, as a due date does."""
    visibility: Edition
    headings: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Table:
    """One table of the contract."""

    name: str
    title: str
    description: str
    key: tuple[str, ...]
    fields: tuple[Field, ...]
    schema: dict[str, Any]
    """The Table Schema as it stands in the file."""

    def field(self, name: str) -> Field:
        """The field of that name; ``KeyError`` where there is none."""
        for field in self.fields:
            if field.name == name:
                return field
        raise KeyError(f"{self.name}.{name}")


TABLE_NAMES = (
    "systems",
    "sections",
    "tubes",
    "nodes",
    "joints",
    "tests",
    "instruments",
    "calibrations",
    "tools",
    "tool_services",
    "operatives",
    "trainings",
    "batches",
    "ratings",
    "documents",
    "valves",
    "flushings",
    "treatments",
    "snags",
    "concessions",
    "alterations",
    "supports",
    "insulations",
    "issued_tags",
    "tags",
)
"""All tables, in the order in which people fill them in."""

FILLED_IN = tuple(name for name in TABLE_NAMES if name not in ("issued_tags", "tags"))
"""Tables that people fill in; the others are copied from an earlier issue, or written by the build."""


def _field(raw: dict[str, Any]) -> Field:
    constraints = raw.get("constraints", {})
    return Field(
        name=raw["name"],
        type=raw["type"],
        title=raw["title"],
        description=raw["description"],
        example=raw.get("example", ""),
        reads=raw["reads"],
        unit=raw.get("unit", ""),
        required=bool(constraints.get("required", False)),
        enum=tuple(constraints.get("enum", ())),
        minimum=constraints.get("minimum"),
        maximum=constraints.get("maximum"),
        refers_to=raw.get("refersTo", ""),
        may_be_later=bool(raw.get("mayBeLater", False)),
        visibility=Edition(raw.get("visibility", "audit")),
        headings=tuple(raw.get("headings", ())),
    )


@cache
def contract() -> dict[str, Table]:
    """Every table of the contract by name, in the order of :data:`TABLE_NAMES`."""
    tables = {}
    for name in TABLE_NAMES:
        schema = json.loads(shared_path(f"contract/{name}.schema.json").read_text(encoding="utf-8"))
        tables[name] = Table(
            name=name,
            title=schema["title"],
            description=schema["description"],
            key=tuple(schema.get("primaryKey", ())),
            fields=tuple(_field(raw) for raw in schema["fields"]),
            schema=schema,
        )
    return tables


def key_field(table: str) -> str:
    """The single key column of a table that others refer to."""
    return contract()[table].key[0]
