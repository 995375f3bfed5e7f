"""How likely so many round readings are."""

import math


def binomial_tail(trials: int, hits: int, chance: float) -> float:
    """Chance of at least ``hits`` of ``trials``, each with ``chance`` from 0 to 1."""
    if hits <= 0:
        return 1.0
    return math.fsum(
        math.comb(trials, count) * chance**count * (1 - chance) ** (trials - count) for count in range(hits, trials + 1)
    )


def is_round(reading_bar: float) -> bool:
    """Whether a reading is a whole number of bar."""
    return abs(reading_bar - round(reading_bar)) < 1e-6
