"""Whether a filled row below the heading is a record, or a total, note, repeated heading or another table."""

from __future__ import annotations

import enum
import re
from collections.abc import Mapping, Sequence

from witnessmark.intake.cell import CellValue, cell_text, is_blank
from witnessmark.intake.heading import heading_keys, normalise_heading
from witnessmark.intake.heading_match import Column


class Verdict(enum.Enum):
    """What a row is; the value is the reason shown for a row that is set aside."""

    RECORD = "record"
    HEADING_AGAIN = "the heading row again"
    TOTAL = "a total or sub-total"
    NOTE = "a note or a heading between rows"
    EXAMPLE = "the example row of the form"
    COLUMN_NUMBERS = "the numbers of the columns"
    NOTHING_KNOWN = "no value under any heading that was recognised"
    SECOND_TABLE = "part of a second table on the sheet"


_TOTAL = re.compile(
    r"^\s*(?:sub|grand)[\s-]*totals?\b"
    r"|^\s*(?:totals?|sum|summe|gesamt|somme|totaal|count|average"
    r"|carried forward|brought forward|[cb]/f)"
    r"\s*(?:$|[:=]|\s(?:for|of|ends|joints|no)\b)",
    re.IGNORECASE,
)
_TOTAL_AT_END = re.compile(r"\S\s+(?:sub[\s-]*)?(?:total|count)\s*:?\s*$", re.IGNORECASE)
_NOTE = re.compile(
    r"^\s*(?:notes?|n\.?b\.?|remarks?|legend|key|signed|signature|prepared|checked by|approved|print name)\b",
    re.IGNORECASE,
)
_SIGNED = re.compile(
    r"^\s*(?:signed|signature|prepared by|checked by|approved by|print name|witnessed by)\b[^:]*:", re.IGNORECASE
)
_EXAMPLE = re.compile(r"^\s*(?:example|e\.g\.)(?:\s*(?:row)?\s*:.*|\s*(?:row)?\s*)$", re.IGNORECASE)
_OPENING = " \t\r\n\u00a0([<*#\"'"
_DIGIT = re.compile(r"\d")


class BodyRules:
    """Judges the rows of one table from the top down; it remembers what the rows above were like."""

    def __init__(self, columns: Sequence[Column], known: Mapping[str, str]) -> None:
        self._known = known
        self._width = max(1, sum(1 for column in columns if column.text))
        self._matched = frozenset(column.index for column in columns if column.field or column.contested)
        self._headings: dict[int, set[str]] = {}
        self._heading_words: set[str] = set()
        for column in columns:
            parts = [column.text, *column.text.split(" / ")]
            keys = {normalise_heading(part) for part in parts if part}
            self._headings[column.index] = keys
            self._heading_words |= keys
        self._beginnings = {column.text.lstrip(_OPENING)[:3].casefold() for column in columns if column.text}
        self._beginnings |= {part.lstrip(_OPENING)[:3].casefold() for c in columns for part in c.text.split(" / ")}
        self._after_blank = False
        self._records = 0
        self._with_digit: dict[int, int] = {}
        self.second_table_row: int | None = None

    def saw_blank(self) -> None:
        """Tell the rules that a blank row was passed."""
        self._after_blank = True

    def judge(self, number: int, row: tuple[CellValue, ...], filled: Sequence[CellValue]) -> Verdict:
        """The verdict on a row of the sheet that holds at least one value."""
        verdict = self._verdict(number, row, filled)
        self._after_blank = self._after_blank and verdict is Verdict.NOTE
        if verdict is Verdict.RECORD:
            self._records += 1
            if self._records <= 50:
                for index, value in enumerate(row):
                    if not isinstance(value, str) or _DIGIT.search(value):
                        self._with_digit[index] = self._with_digit.get(index, 0) + 1
        return verdict

    def _verdict(self, number: int, row: tuple[CellValue, ...], filled: Sequence[CellValue]) -> Verdict:
        if self.second_table_row is not None:
            return Verdict.SECOND_TABLE
        if self._records == 0 and _counts_columns(filled):
            return Verdict.COLUMN_NUMBERS
        first = filled[0]
        if isinstance(first, str):
            if self._is_heading_again(row, filled):
                return Verdict.HEADING_AGAIN
            if _EXAMPLE.match(first):
                return Verdict.EXAMPLE
            if self._after_blank and _SIGNED.match(first):
                return Verdict.NOTE
        if 2 * len(filled) > self._width and not (isinstance(first, str) and _TOTAL.match(first)):
            return self._full_row(number, row, filled)
        if any(isinstance(value, str) and (_TOTAL.match(value) or _TOTAL_AT_END.search(value)) for value in filled[:4]):
            return Verdict.TOTAL
        if self._is_note(row, filled):
            return Verdict.NOTE
        return self._full_row(number, row, filled)

    def _full_row(self, number: int, row: tuple[CellValue, ...], filled: Sequence[CellValue]) -> Verdict:
        if len(filled) >= 2 and self._begins_second_table(filled):
            self.second_table_row = number
            return Verdict.SECOND_TABLE
        if self._matched and all(index >= len(row) or is_blank(row[index]) for index in self._matched):
            return Verdict.NOTHING_KNOWN
        return Verdict.RECORD

    def _is_heading_again(self, row: tuple[CellValue, ...], filled: Sequence[CellValue]) -> bool:
        first = filled[0]
        # Nearly every record falls here: normalising each one's first cell would double the time of a long log.
        if not isinstance(first, str) or first.lstrip(_OPENING)[:3].casefold() not in self._beginnings:
            return False
        if normalise_heading(first[:200]) not in self._heading_words:
            return False
        same = sum(
            1
            for index, value in enumerate(row)
            if isinstance(value, str)
            and not is_blank(value)
            and normalise_heading(value[:200]) in self._headings.get(index, ())
        )
        return (same >= 2 and same >= 0.6 * len(filled)) or (same == 1 and self._width == 1)

    def _is_note(self, row: tuple[CellValue, ...], filled: Sequence[CellValue]) -> bool:
        first = filled[0]
        if not isinstance(first, str) or self._width < 3:
            return False
        if len(filled) > 1:
            return bool(_NOTE.match(first)) and self._after_blank
        index = next(i for i, value in enumerate(row) if not is_blank(value))
        # One short word under a matched heading is an unfinished record, and a record must not be lost.
        unfinished = index in self._matched and len(first.split()) == 1 and not first.rstrip().endswith(":")
        return not unfinished or bool(_NOTE.match(first))

    def _begins_second_table(self, filled: Sequence[CellValue]) -> bool:
        texts = []
        for value in filled:
            if not isinstance(value, str) or len(value) > 60 or _DIGIT.search(value):
                return False
            texts.append(value)
        fields = {self._known[key] for text in texts for key, _ in heading_keys(text)[:1] if key in self._known}
        if len(fields) >= 2 and 2 * len(fields) >= len(texts):
            return True
        if not self._after_blank or self._records < 2 or len(texts) < 3:
            return False
        numeric = sum(1 for count in self._with_digit.values() if count >= 0.8 * min(self._records, 50))
        return numeric >= 1 and 2 * len(texts) > self._width and self._first_column_numeric()

    def _first_column_numeric(self) -> bool:
        return self._with_digit.get(min(self._headings, default=0), 0) >= 0.8 * min(self._records, 50)


def _counts_columns(filled: Sequence[CellValue]) -> bool:
    """True for 1, 2, 3 and so on, which forms print under their headings."""
    return len(filled) >= 3 and all(
        cell_text(value).strip(" ().") == str(number) for number, value in enumerate(filled, start=1)
    )
