"""Sampling by attributes: how many of a lot to look at, and how many faults to accept; tables are handed in.

Source: ISO 2859-1, single sampling, normal inspection. The operating characteristic is the binomial distribution.
"""

import math
from collections.abc import Iterable
from typing import NamedTuple

from witnessmark.engineering.errors import EngineeringError
from witnessmark.engineering.inputs import within

LARGEST_SAMPLE = 10_000
"""Beyond the samples of the tables, which end at 2,000 units."""
LEVELS = ("I", "II", "III")
"""General inspection levels."""


class NoSamplingPlan(EngineeringError):
    """The tables hold no plan for what was asked."""

    def __init__(self, asked: str, known: Iterable[str]) -> None:
        super().__init__(f"The sampling tables hold no {asked}; they hold {', '.join(known)}.")


class LetterRow(NamedTuple):
    """Sample size code letters of a range of lot sizes, by level; ``lot_to`` is None for the last range."""

    lot_from: int
    lot_to: int | None
    letters: tuple[str, str, str]
    """At the levels I, II and III."""


class PlanRow(NamedTuple):
    """The plan of a letter at an AQL, with its arrow resolved: the size, accept and reject numbers to be used."""

    letter: str
    aql: str
    arrow: str
    """'down' or 'up' where the table sends to the plan below or above, '' where it has one of its own."""
    size: int
    accept: int
    reject: int


class SamplingPlan(NamedTuple):
    """What to look at: the letter and plan, and the size that the lot allows."""

    letter: str
    plan: PlanRow
    size: int
    """The size of the plan, or the whole lot where that is smaller."""

    @property
    def whole_lot(self) -> bool:
        """Whether every unit is looked at."""
        return self.size < self.plan.size


def code_letter(rows: Iterable[LetterRow], lot: int, level: str) -> str:
    """Return the sample size code letter of a lot, [units], at a general inspection level.

    Raises NoSamplingPlan for a lot of fewer than two units or a level other than I, II and III.
    """
    if level not in LEVELS:
        raise NoSamplingPlan(f"level '{level}'", LEVELS)
    for row in rows:
        if row.lot_from <= lot and (row.lot_to is None or lot <= row.lot_to):
            return row.letters[LEVELS.index(level)]
    raise NoSamplingPlan(f"letter for a lot of {lot}", ("lots of two and more",))


def plan_for(letters: Iterable[LetterRow], plans: Iterable[PlanRow], lot: int, level: str, aql: str) -> SamplingPlan:
    """Return the plan for a lot, [units], at a level and an AQL, [%] as the table writes it ('2.5').

    Where the sample would be as large as the lot or larger, the whole lot is looked at. Raises NoSamplingPlan.
    """
    plans = list(plans)
    letter = code_letter(letters, lot, level)
    for row in plans:
        if row.letter == letter and row.aql == aql:
            return SamplingPlan(letter, row, min(row.size, lot))
    raise NoSamplingPlan(f"AQL '{aql}'", dict.fromkeys(row.aql for row in plans))


def acceptance_probability(size: int, accept: int, fraction: float) -> float:
    """Return the probability of accepting a lot of which ``fraction``, [-], is faulty: P(X <= accept), X binomial.

    Raises EngineeringError for a fraction outside 0 to 1, or numbers outside those of sampling tables.
    """
    share = within("faulty fraction", fraction, 0.0, 1.0, "")
    units = int(within("sample size", size, 1, LARGEST_SAMPLE, "units"))
    most = int(within("accept number", accept, 0, units, "units"))
    return math.fsum(
        math.comb(units, faults) * share**faults * (1.0 - share) ** (units - faults) for faults in range(most + 1)
    )
