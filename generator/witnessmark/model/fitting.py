"""How many press ends a fitting has, from the bundled reference table."""

import csv
from functools import cache

from witnessmark.model.bundled import shared_path


@cache
def press_ends() -> dict[str, int]:
    """Fitting kind to its number of press ends; kinds that may have more than one number are not listed."""
    with shared_path("reference/fitting_ends.csv").open(encoding="utf-8", newline="") as handle:
        return {row["fitting_kind"]: int(row["press_ends"]) for row in csv.DictReader(handle)}
