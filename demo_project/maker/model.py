"""Rows of the demo's records: clean values, what a site wrote in their place, and where the row was written."""

from __future__ import annotations

import datetime as dt
import json
import random
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import TypeVar

CONTRACT = Path(__file__).resolve().parents[2] / "shared" / "contract"
SEED = "tallow-yard-1"

Value = str | int | float | bool | dt.date | dt.time | None
Picked = TypeVar("Picked")


class Dice:
    """A stream of choices that depends on its name alone, so that a change in one place leaves the others as they were.

    Only ``random()`` of the generator is used: its values are the same in every Python version.
    """

    def __init__(self, *name: object) -> None:
        self._random = random.Random("/".join([SEED, *map(str, name)]))

    def chance(self, probability: float) -> bool:
        """True with that probability."""
        return self._random.random() < probability

    def pick(self, options: Sequence[Picked]) -> Picked:
        """One of the options."""
        return options[int(self._random.random() * len(options))]

    def whole(self, low: int, high: int) -> int:
        """A whole number, both ends included."""
        return low + int(self._random.random() * (high - low + 1))

    def between(self, low: float, high: float, places: int = 1) -> float:
        """A number between two, rounded."""
        return round(low + self._random.random() * (high - low), places)


@dataclass(eq=False)
class Row:
    """One record: clean values by contract field, and the cells that the site wrote otherwise."""

    table: str
    values: dict[str, Value]
    written: dict[str, Value] = field(default_factory=dict)
    place: tuple[str, str, int] = ("", "", 0)
    """File, sheet and row as the spreadsheet shows it; known once the file is written."""

    def __getitem__(self, name: str) -> Value:
        return self.values.get(name)

    def __setitem__(self, name: str, value: Value) -> None:
        self.values[name] = value

    def text(self, name: str) -> str:
        """The value as text; empty where there is none."""
        return plain(self.values.get(name))

    def number(self, name: str) -> float:
        """The value as a number; ``TypeError`` where it is none."""
        value = self.values[name]
        if isinstance(value, bool) or not isinstance(value, int | float):
            raise TypeError(f"{self.table}.{name} is {value!r}, not a number")
        return float(value)

    def date(self, name: str) -> dt.date:
        """The value as a date; ``TypeError`` where it is none."""
        value = self.values[name]
        if not isinstance(value, dt.date):
            raise TypeError(f"{self.table}.{name} is {value!r}, not a date")
        return value

    def cell(self, name: str) -> Value:
        """What stands in the file: the site's own writing, or the clean value."""
        return self.written[name] if name in self.written else self.values.get(name)


@dataclass
class Planted:
    """One fault on purpose: its slug, the row it was planted in (or a file), the field and what is wrong."""

    fault: str
    row: Row | None
    field: str
    note: str
    file: str = ""
    sheet: str = ""
    line: int = 0


@dataclass
class Building:
    """All records of the demo, a list a table, with its documents and the faults planted so far."""

    tables: dict[str, list[Row]]
    documents: dict[str, bytes] = field(default_factory=dict)
    """File below documents/ to its content."""
    settings: dict[str, object] = field(default_factory=dict)
    planted: list[Planted] = field(default_factory=list)

    def __getitem__(self, table: str) -> list[Row]:
        return self.tables[table]

    def add(self, table: str, **values: Value) -> Row:
        """A new row at the end of a table."""
        row = Row(table, values)
        self.tables[table].append(row)
        return row

    def find(self, table: str, **values: Value) -> Row:
        """The first row with these values; ``LookupError`` where there is none."""
        for row in self.where(table, **values):
            return row
        raise LookupError(f"{table} has no row with {values}")

    def where(self, table: str, **values: Value) -> Iterator[Row]:
        """All rows with these values."""
        for row in self.tables[table]:
            if all(row[name] == value for name, value in values.items()):
                yield row

    def plant(self, fault: str, row: Row, name: str, note: str) -> None:
        """Remember that a row was spoilt on purpose."""
        self.planted.append(Planted(fault, row, name, note))

    def plant_file(self, fault: str, file: str, name: str, note: str, sheet: str = "", line: int = 0) -> None:
        """Remember that a file, sheet or row without a record was spoilt on purpose."""
        self.planted.append(Planted(fault, None, name, note, file, sheet, line))


TABLES = (
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
)


def contract_fields(table: str) -> list[str]:
    """Columns of a table in the order of the contract."""
    schema = json.loads((CONTRACT / f"{table}.schema.json").read_text(encoding="utf-8"))
    return [entry["name"] for entry in schema["fields"]]


def plain(value: Value) -> str:
    """The text that the contract asks for: ISO dates, yes and no, a point as decimal sign."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, dt.date):
        return value.isoformat()
    if isinstance(value, dt.time):
        return value.strftime("%H:%M")
    if isinstance(value, float):
        return str(int(value)) if value.is_integer() else repr(value)
    return str(value)
