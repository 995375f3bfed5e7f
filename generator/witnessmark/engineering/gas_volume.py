"""The volume of a gas installation, from which its test and purge figures follow.

The rule that fittings add a tenth of the pipe, and that a purge takes one and a half times the whole, is that of
IGEM/UP/1B (edition 4, 2026, public excerpts); other rules use other shares, so both are arguments.
"""

from witnessmark.engineering.inputs import not_negative, positive, result


def installation_volume(pipe: float, fittings_share: float, meter: float) -> float:
    """Return the volume of an installation, pipe times (1 + share of fittings) and the meter, [L].

    Parameters: pipe : float  volume of the pipe alone, [L]; fittings_share : float  [1]; meter : float  [L].

    >>> round(installation_volume(9 * 0.14, 0.1, 8), 3)
    9.386
    """
    with_fittings = not_negative("volume of the pipe", pipe, "L") * (
        1 + not_negative("share of fittings", fittings_share, "")
    )
    return result("installation volume", with_fittings + not_negative("volume of the meter", meter, "L"))


def purge_volume(installation: float, factor: float) -> float:
    """Return the gas a purge takes, [L], from the installation volume, [L], and a factor, [1]."""
    return result(
        "purge volume", positive("installation volume", installation, "L") * positive("purge factor", factor, "")
    )
