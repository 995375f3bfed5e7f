"""One table of the machine-readable export: its columns with their descriptors, written column by column.

Cells are made by whole columns, because a call per cell for its type alone would cost more than all the writing.
"""

from __future__ import annotations

import csv
import datetime
import json
import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any

from witnessmark.pack.csv_writer import NumberWithoutValue, text_cell

Written = str | int | float | datetime.date | None
Values = Callable[[Sequence[Any]], Iterable[Written]]
PROFILE = "https://datapackage.org/profiles/1.0/tableschema.json"


@dataclass(frozen=True, slots=True)
class DataColumn:
    """A column: its Table Schema field descriptor, and the cells it makes of all rows."""

    descriptor: dict[str, Any]
    values: Values

    @property
    def name(self) -> str:
        """Name of the column."""
        return str(self.descriptor["name"])


@dataclass(frozen=True, slots=True)
class ForeignKey:
    """A column whose every value is a key of another table of the export."""

    column: str
    table: str
    key: str


@dataclass(frozen=True, slots=True)
class DataTable:
    """A table of the export with its rows, any objects from which the columns read."""

    name: str
    title: str
    description: str
    primary_key: str
    columns: tuple[DataColumn, ...]
    rows: Sequence[Any]
    foreign_keys: tuple[ForeignKey, ...] = ()

    @property
    def file_name(self) -> str:
        """Name of the CSV file."""
        return f"{self.name}.csv"

    @property
    def schema_name(self) -> str:
        """Name of the Table Schema file."""
        return f"{self.name}.schema.json"

    def schema(self) -> dict[str, Any]:
        """The Table Schema."""
        schema: dict[str, Any] = {
            "$schema": PROFILE,
            "name": self.name,
            "title": self.title,
            "description": self.description,
            "fields": [column.descriptor for column in self.columns],
            "missingValues": [""],
            "primaryKey": [self.primary_key],
        }
        if self.foreign_keys:
            schema["foreignKeys"] = [
                {"fields": [key.column], "reference": {"resource": key.table, "fields": [key.key]}}
                for key in self.foreign_keys
            ]
        return schema

    def write(self, folder: Path) -> None:
        """Write NAME.csv and NAME.schema.json into ``folder``. Raises ``NumberWithoutValue``."""
        with (folder / self.file_name).open("w", encoding="utf-8", newline="") as stream:
            writer = csv.writer(stream, lineterminator="\r\n")
            writer.writerow([column.name for column in self.columns])
            writer.writerows(zip(*(column.values(self.rows) for column in self.columns), strict=True))
        write_json(folder / self.schema_name, self.schema())


def write_json(path: Path, document: object) -> None:
    """Write a JSON document: UTF-8, two spaces, keys in the order given, one line feed at the end."""
    path.write_bytes((json.dumps(document, ensure_ascii=False, indent=2) + "\n").encode("utf-8", "replace"))


@lru_cache(maxsize=1 << 16)
def _text(value: str | None) -> str | None:
    return None if value is None else text_cell(value)


def texts(get: Callable[[Any], str | None]) -> Values:
    """Cells of a text column, guarded once."""

    def values(rows: Sequence[Any]) -> Iterator[Written]:
        return texts_of(map(get, rows))

    return values


def texts_of(values: Iterable[str | None]) -> Iterator[Written]:
    """Cells of texts, guarded once."""
    return map(_text, values)


def plain(get: Callable[[Any], Written]) -> Values:
    """Cells of a column of whole numbers, days or words of our own, none of which a spreadsheet runs."""

    def values(rows: Sequence[Any]) -> Iterator[Written]:
        return map(get, rows)

    return values


def numbers(name: str, get: Callable[[Any], float | None]) -> Values:
    """Cells of a column of numbers, with every digit that distinguishes them."""

    def values(rows: Sequence[Any]) -> Iterator[Written]:
        for count, value in enumerate(map(get, rows), start=2):
            if value is not None and not math.isfinite(value):
                raise NumberWithoutValue(count, name)
            yield value

    return values


_YES_NO = {None: None, True: "yes", False: "no"}


def yes_no(get: Callable[[Any], bool | None]) -> Values:
    """Cells of a yes-or-no column."""

    def values(rows: Sequence[Any]) -> Iterator[Written]:
        return map(_YES_NO.__getitem__, map(get, rows))

    return values


@lru_cache(maxsize=2048)
def _time(value: datetime.time | None) -> str | None:
    return None if value is None else f"{value.hour:02d}:{value.minute:02d}"


def times(get: Callable[[Any], datetime.time | None]) -> Values:
    """Cells of a column of times, HH:MM."""

    def values(rows: Sequence[Any]) -> Iterator[Written]:
        return map(_time, map(get, rows))

    return values


def counted(name: str) -> Values:
    """Cells of a key column that numbers the rows: 'joints-000123'."""

    def values(rows: Sequence[Any]) -> Iterator[Written]:
        return (f"{name}-{count:06d}" for count in range(1, len(rows) + 1))

    return values


def values_for(descriptor: dict[str, Any], get: Callable[[Any], Any]) -> Values:
    """The cells that suit a descriptor's type."""
    match descriptor["type"]:
        case "number":
            return numbers(descriptor["name"], get)
        case "boolean":
            return yes_no(get)
        case "time":
            return times(get)
        case "integer" | "date":
            return plain(get)
        case _:
            return texts(get)


def figure(
    name: str, kind: str, title: str, description: str, get: Callable[[Any], Any], unit: str = "", **constraints: Any
) -> DataColumn:
    """A column that is no field of the contract: computed, or describing the row."""
    descriptor: dict[str, Any] = {"name": name, "type": kind, "title": title, "description": description}
    if kind == "boolean":
        descriptor |= {"trueValues": ["yes"], "falseValues": ["no"]}
    if kind == "date":
        descriptor["format"] = "%Y-%m-%d"
    if unit:
        descriptor["unit"] = unit
    if constraints:
        descriptor["constraints"] = constraints
    return DataColumn(descriptor, values_for(descriptor, get))
