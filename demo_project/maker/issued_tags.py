"""Tag codes that issue P01 gave out: they hang on the pipes and stand for ever."""

from __future__ import annotations

import csv
from pathlib import Path

from .model import Building

CODES = Path(__file__).with_name("issued_tags_P01.csv")
"""The tag register as the build of issue P01 wrote it."""


def add_issued_tags(building: Building) -> None:
    """One row a code of issue P01."""
    with CODES.open(encoding="utf-8", newline="") as handle:
        for row in csv.DictReader(handle):
            building.add("issued_tags", issue="P01", code=row["code"], section_id=row["section_id"])
