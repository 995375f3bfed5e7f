"""CSV files as grids: encoding and delimiter found from the content, every record kept.

A row's number is the number of its record, counted from 1 and blank lines included. That is what a spreadsheet shows
when it opens the file: a quoted line break does not start a new row.
"""

from __future__ import annotations

import csv
import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from io import StringIO
from itertools import chain
from pathlib import Path

from witnessmark.intake.file_bytes import LARGEST_FILE, file_bytes
from witnessmark.intake.grid import Grid, Remark
from witnessmark.intake.text_encoding import decode
from witnessmark.intake.unreadable_file import UnreadableFile

DELIMITERS = {",": "comma", ";": "semicolon", "\t": "tab", "|": "vertical bar"}

_END = "\x03end of file\x03"
_SAMPLE_CHARACTERS = 200_000
_SEPARATOR_LINE = re.compile(r"\A\"?sep=(.)\"?[ ]*(?:\r\n|\n|\r|\Z)", re.IGNORECASE)
_NUMBER_LIKE = re.compile(r"\s*[-+]?[\d.,:/; \t|-]*\d[\d.,:/; \t|-]*\s*\Z")


@dataclass(frozen=True, slots=True)
class CsvReading:
    """The cells of a CSV file and what had to be found out or put right on the way."""

    grid: Grid
    remarks: tuple[Remark, ...]
    encoding: str
    delimiter: str


def read_csv(
    path: Path,
    file_label: str,
    *,
    encoding: str | None = None,
    delimiter: str | None = None,
    max_bytes: int = LARGEST_FILE,
) -> CsvReading:
    """Read a CSV file; every cell stays text.

    ``encoding`` and ``delimiter`` settle what is otherwise found from the content. Raises ``UnreadableFile`` for a
    missing, empty or too large file, a wrong encoding, or a quotation mark that is never closed.
    """
    text, encoding_name, remarks = decode(file_bytes(path, file_label, max_bytes), file_label, encoding)
    if not text.strip():
        raise UnreadableFile(
            file_label, "file-empty", "the file holds no rows", "save the table again, or remove the file"
        )
    hint = _SEPARATOR_LINE.match(text)
    if hint:
        text = text[hint.end() :]
        remarks.append(
            Remark("separator-line", "the first line only names the separator; rows count from the line below")
        )
    chosen = delimiter or (hint.group(1) if hint else find_delimiter(text))
    if len(chosen) != 1 or chosen in '"\r\n':
        raise UnreadableFile(
            file_label, "delimiter-wrong", f"{chosen!r} cannot separate cells", "name one of comma, semicolon, tab or |"
        )
    rows, lines = _records(text, chosen, file_label)
    if lines > len(rows):
        remarks += _swallowed_rows(rows, chosen)
    grid = Grid(file=file_label, sheet=None, rows=[tuple(row) for row in rows], notes=tuple(remarks))
    return CsvReading(grid, tuple(remarks), encoding_name, chosen)


def find_delimiter(text: str) -> str:
    """The delimiter that splits the text into the most even table; comma when no candidate splits it at all.

    Quoted cells count as one cell. A candidate wins by the share of records that have its usual width; a decimal
    comma loses, because it splits the numbers and leaves the heading whole.
    """
    sample = text[:_SAMPLE_CHARACTERS]
    if len(text) > len(sample):
        sample = sample[: sample.rfind("\n") + 1] or sample
    best, best_score = ",", (0.0, -2, 0)
    for candidate in (";", "\t", "|", ","):
        score = _evenness(sample, candidate)
        if score > best_score:
            best, best_score = candidate, score
    return best


def _evenness(sample: str, delimiter: str) -> tuple[float, int, int]:
    records = [row for row in csv.reader(StringIO(sample, newline=""), delimiter=delimiter) if any(row)]
    widths = Counter(len(row) for row in records if len(row) > 1)
    if not widths:
        return 0.0, -2, 0
    width = max(widths, key=lambda w: (widths[w], w))
    share = sum(count for w, count in widths.items() if w == width) / len(records)
    first = next(row for row in records if len(row) >= max(2, 0.6 * width))
    # A heading row is words. Numbers in the first full record show a split that cuts decimal commas and leaves the
    # heading whole; under the other delimiters only a row made mostly of numbers does.
    numbers = sum(1 for cell in first if _NUMBER_LIKE.match(cell))
    if numbers > (0 if delimiter == "," else len(first) // 2):
        share *= 0.5
    # Lists inside the cells of one column split nearly as evenly as the table does: only its heading stays whole.
    odd = sum(1 for row in records if len(row) != width)
    return round(share, 2), -min(odd, 2), width


def _records(text: str, delimiter: str, file_label: str) -> tuple[list[list[str]], int]:
    """The records and the count of lines they were read from."""
    csv.field_size_limit(max(csv.field_size_limit(), len(text) + 1))
    lines: Iterator[str] = StringIO(text, newline="")
    # The end line is swallowed by a quotation mark still open at the end of the file: the csv module keeps no count
    # of it.
    try:
        reader = csv.reader(chain(lines, [_END]), delimiter=delimiter)
        rows = list(reader)
    except csv.Error as error:
        raise UnreadableFile(
            file_label, "csv-broken", f"the file is not well-formed CSV ({error})", "save it again as CSV UTF-8"
        ) from None
    if rows.pop() != [_END]:
        raise UnreadableFile(
            file_label,
            "quote-not-closed",
            "a quotation mark opened in this row is never closed",
            "close it, or write inch marks as two quotation marks inside a quoted cell",
            row=len(rows) + 1,
        )
    return rows, reader.line_num - 1


def _swallowed_rows(rows: list[list[str]], delimiter: str) -> list[Remark]:
    remarks = []
    for number, row in enumerate(rows, start=1):
        for column, cell in enumerate(row):
            if "\n" in cell and len(row) > 1:
                whole = sum(1 for line in cell.split("\n")[1:] if line.count(delimiter) >= 2)
                if whole:
                    remarks.append(
                        Remark(
                            "rows-inside-a-cell",
                            f"one quoted cell holds {whole} lines that look like rows of the table",
                            "look for a missing quotation mark in this row",
                            row=number,
                            column=column,
                        )
                    )
    return remarks
