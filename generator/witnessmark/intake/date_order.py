"""What the dates of a column show together about the order in which they are written."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass

from witnessmark.intake.cell import CellValue
from witnessmark.intake.date_reader import FIGURES, without_time
from witnessmark.intake.readings import Fault, shown


@dataclass(frozen=True, slots=True)
class DateOrderEvidence:
    """How many distinct texts of a column can only be day first, only month first, year first, or could be two."""

    dmy: int
    mdy: int
    ymd: int
    could_be_two: int


def date_order_in(texts: Iterable[str]) -> DateOrderEvidence:
    """What the texts of a column show about their order; for the words of a finding, not a licence to choose."""
    counts = {"dmy": 0, "mdy": 0, "ymd": 0, "two": 0}
    for text in texts:
        found = FIGURES.match(without_time(text.strip())[0])
        if not found:
            continue
        first, second = int(found.group(1)), int(found.group(3))
        if len(found.group(1)) > 2:
            counts["ymd"] += 1
        elif first > 12 >= second:
            counts["dmy"] += 1
        elif second > 12 >= first:
            counts["mdy"] += 1
        elif first != second and first <= 12:
            counts["two"] += 1
    return DateOrderEvidence(counts["dmy"], counts["mdy"], counts["ymd"], counts["two"])


def dates_perhaps_swapped(values: Iterable[CellValue]) -> Fault | None:
    """The fault of a column in which a spreadsheet of the other order has turned day and month of some dates round.

    The sign: typed dates that all have a day up to 12, beside texts in figures with a day above 12, which that
    spreadsheet could not take for dates. Needs two distinct typed dates or more.
    """
    typed: set[tuple[int, int, int]] = set()
    left = ""
    for value in values:
        if isinstance(value, dt.date):
            typed.add((value.year, value.month, value.day))
        elif isinstance(value, str) and not left:
            found = date_order_in([value])
            left = value.strip() if found.dmy or found.mdy else ""
    if not left or len(typed) < 2 or any(day > 12 for _, _, day in typed):
        return None
    return Fault(
        "dates-perhaps-swapped",
        f"all {len(typed)} typed dates have a day up to 12, and {shown(left)} stayed text: "
        "a spreadsheet set to the other order may have turned day and month round",
        "check the typed dates against the paper, and type every date as YYYY-MM-DD",
    )
