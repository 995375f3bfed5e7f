"""Tables as CSV, clean or as an office saved them."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from .model import Row, Value, contract_fields, plain

Format = Callable[[Value], str]


@dataclass(frozen=True)
class CsvStyle:
    """How a file is written."""

    encoding: str = "utf-8"
    delimiter: str = ","
    headings: dict[str, str] = field(default_factory=dict)
    """Contract field to the site's heading; without it the contract's own name."""
    columns: tuple[str, ...] = ()
    """Fields written, in order; without it all of the contract."""
    formats: dict[str, Format] = field(default_factory=dict)
    as_written: bool = True
    """Whether cells hold what the site wrote; otherwise the value behind it."""


def csv_bytes(file: str, table: str, rows: Sequence[Row], style: CsvStyle) -> bytes:
    """One table as CSV; every row learns where it stands."""
    columns = style.columns or tuple(contract_fields(table))
    buffer = io.StringIO()
    writer = csv.writer(buffer, delimiter=style.delimiter, lineterminator="\r\n")
    writer.writerow([style.headings.get(column, column) for column in columns])
    for number, row in enumerate(rows, start=2):
        row.place = (file, "", number)
        writer.writerow([_cell(row, column, style) for column in columns])
    return buffer.getvalue().encode(style.encoding)


def _cell(row: Row, column: str, style: CsvStyle) -> str:
    if style.as_written and column in row.written:
        return plain(row.written[column])
    value = row.values.get(column)
    if value is not None and column in style.formats:
        return style.formats[column](value)
    return plain(value)


def decimal_comma(value: Value) -> str:
    """A number with a comma."""
    return plain(value).replace(".", ",")
