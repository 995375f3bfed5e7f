"""A pressure that fits nowhere as typed, and which unit would explain it: a question to ask, never a repair."""

from witnessmark.engineering.inputs import finite, positive

# One bar in each unit; NIST SP 811 (2008), conversion factors for pressure (from memory).
BAR_IN = {"psi": 14.5037738, "kPa": 100.0, "MPa": 0.1, "mbar": 1000.0, "metres of water": 10.1972}


def units_that_fit(value: float, lowest: float, highest: float) -> tuple[str, ...]:
    """Return the units in which a figure typed as bar would lie within lowest and highest, [bar]; () if it fits as bar.

    >>> units_that_fit(130.5, 5, 12)
    ('psi',)
    """
    typed = finite("pressure", value)
    low, high = (
        positive("lowest pressure expected", lowest, "bar"),
        positive("highest pressure expected", highest, "bar"),
    )
    if low <= typed <= high:
        return ()
    return tuple(unit for unit, per_bar in BAR_IN.items() if low <= typed / per_bar <= high)
