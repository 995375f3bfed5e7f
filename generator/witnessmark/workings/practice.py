"""Rules of practice that are data: shares of a gauge's span, the leak to be found, trapped air, flushing."""

import csv
from dataclasses import dataclass
from functools import cache

from witnessmark.model.bundled import shared_path
from witnessmark.workings.calculation import Known, given


@dataclass(frozen=True, slots=True)
class PracticeRule:
    """One figure with its unit and where it is from."""

    value: float
    unit: str
    basis: str

    def known(self, name: str) -> Known:
        """The figure as an input of a working."""
        return given(self.value, name, "" if self.unit == "1" else self.unit, self.basis)


@cache
def _table(name: str) -> dict[str, PracticeRule]:
    with shared_path(f"reference/{name}.csv").open(encoding="utf-8", newline="") as handle:
        return {
            row["rule"]: PracticeRule(float(row["value"]), row["unit"], f"{row['source']} ({row['standing']})")
            for row in csv.DictReader(handle)
        }


def gauge_rule(name: str) -> PracticeRule:
    """A rule of ``gauge_rules.csv``."""
    return _table("gauge_rules")[name]


def leak_rule(name: str) -> PracticeRule:
    """A rule of ``leaks.csv``."""
    return _table("leaks")[name]


def flushing_rule(name: str) -> PracticeRule:
    """A rule of ``flushing.csv``."""
    return _table("flushing")[name]
