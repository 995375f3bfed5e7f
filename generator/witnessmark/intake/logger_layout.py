"""Where the columns of a logger file are: its separator, its heading, its first reading."""

import csv
import io
import re
from collections import Counter
from dataclasses import dataclass

from witnessmark.intake.logger_times import is_clock, is_day, is_moment

SEPARATORS = ("\t", ";", ",", "|")
_SAMPLE_LINES = 400
_NUMBER = re.compile(r"[+-]?(?:\d{1,3}(?:[.,' ]\d{3})+|\d+)(?:[.,]\d+)?(?:[eE][+-]?\d+)?\Z")
_ELAPSED = re.compile(r"(?:elapsed|time|zeit|temps|tijd|t)\b.*?[\[(]\s*(s|sec|min|h)\s*[\])]", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class LoggerLayout:
    """Columns from 0; ``first_line`` from 0 is the line of the first reading."""

    separator: str
    headings: tuple[str, ...]
    first_line: int
    width: int
    moment: int | None
    day: int | None
    clock: int | None
    elapsed: tuple[int, str] | None
    """Column of elapsed time and its unit, where no moment is logged."""
    numbers: tuple[int, ...]
    sample: tuple[tuple[str, ...], ...]


def find_layout(text: str, separator: str = "", time_heading: str = "") -> LoggerLayout | None:
    """The layout of a logger file; ``None`` where no column of times stands beside a column of numbers."""
    lines = text.split("\n", _SAMPLE_LINES)[:_SAMPLE_LINES]
    best: tuple[int, LoggerLayout] | None = None
    for candidate in (separator,) if separator else SEPARATORS:
        found = _with_separator(lines, candidate, time_heading)
        if found is not None and (best is None or found[0] > best[0]):
            best = found
    return best[1] if best is not None else None


def _with_separator(lines: list[str], separator: str, time_heading: str) -> tuple[int, LoggerLayout] | None:
    rows: list[tuple[int, list[str]]] = []
    for number, line in enumerate(lines):
        try:
            cells = next(csv.reader(io.StringIO(line.rstrip("\r")), delimiter=separator), [])
        except csv.Error:
            return None
        rows.append((number, [cell.strip() for cell in cells]))
    lengths = Counter(len(cells) for _, cells in rows if len(cells) > 1 and any(map(_is_value, cells)))
    if not lengths:
        return None
    width = max(lengths, key=lambda length: (lengths[length], length))
    data = [(n, cells) for n, cells in rows if len(cells) == width and sum(map(_is_value, cells)) >= 2]
    if not data:
        return None
    body = data[len(data) // 2 :]
    headings = next(
        (cells for n, cells in reversed(rows) if n < data[0][0] and len(cells) >= 2 and not any(map(_is_value, cells))),
        [],
    )
    headings = [*headings, *[""] * (width - len(headings))][:width]

    def columns(test: object) -> list[int]:
        return [c for c in range(width) if sum(test(cells[c]) for _, cells in body) > len(body) / 2]  # type: ignore[operator]  # a function of a text

    moments, days, clocks = columns(is_moment), columns(is_day), columns(is_clock)
    if time_heading:
        named = [c for c, heading in enumerate(headings) if heading.casefold() == time_heading.casefold()]
        moments = [c for c in moments if c in named]
    elapsed = next(
        ((c, found.group(1).lower()) for c, heading in enumerate(headings) if (found := _ELAPSED.search(heading))), None
    )
    if not moments and not (days and clocks) and elapsed is None:
        return None
    numbers = tuple(c for c in columns(lambda cell: bool(_NUMBER.match(cell))) if elapsed is None or c != elapsed[0])
    if not numbers:
        # A channel without any reading is still a channel.
        return None
    layout = LoggerLayout(
        separator=separator,
        headings=tuple(headings),
        first_line=data[0][0],
        width=width,
        moment=moments[0] if moments else None,
        day=days[0] if days and not moments else None,
        clock=clocks[0] if clocks and not moments else None,
        elapsed=elapsed if not moments and not (days and clocks) else None,
        numbers=numbers,
        sample=tuple(tuple(cells) for _, cells in data),
    )
    return len(data) * (1 + len(numbers)), layout


def _is_value(cell: str) -> bool:
    return bool(_NUMBER.match(cell)) or is_moment(cell) or is_day(cell) or is_clock(cell)
