"""Dosing and glycol: how much product a volume of water needs."""

from witnessmark.engineering.errors import CannotReachConcentrationError
from witnessmark.engineering.inputs import not_negative, positive, result, within


def dose(volume: float, dose_percent: float) -> float:
    """Return the product for a first dose V x/100, [L], from V, [L], and the data sheet's dose by volume, [%]."""
    share = within("dose", dose_percent, 0, 100, "%") / 100
    return result("dose", not_negative("volume", volume, "L") * share)


def top_up(volume: float, now: float, target: float, product: float) -> float:
    """Return the product to add after draining as much V (Ct - Cn)/(Cp - Cn), [L]; 0 where the target is met.

    Parameters: volume, [L]; now Cn, target Ct and product Cp in one unit of concentration. Full mixing.
    """
    have = not_negative("present concentration", now, "")
    want = not_negative("target concentration", target, "")
    pure = positive("concentration of the product", product, "")
    if want <= have:
        return 0.0
    if pure < want:
        raise CannotReachConcentrationError(want, pure)
    return result("top-up", not_negative("volume", volume, "L") * (want - have) / (pure - have))


def concentration_after(volume: float, now: float, product: float, added: float) -> float:
    """Return the concentration after draining and adding so much product, in the unit of the inputs."""
    litres = positive("volume", volume, "L")
    share = within("product added", added, 0, litres, "L") / litres
    have = not_negative("present concentration", now, "")
    return have + share * (not_negative("concentration of the product", product, "") - have)


def glycol_by_volume(volume: float, percent_by_volume: float) -> float:
    """Return the glycol in a filling V x/100, [L]; the slight shrinking on mixing is left out."""
    return dose(volume, percent_by_volume)


def glycol_by_mass(volume: float, percent_by_mass: float, specific_gravity: float) -> float:
    """Return the glycol in a filling from its share by mass P, V/(1 + SG (1 - P)/P), [L].

    Parameters: volume, [L]; percent_by_mass : float  100 P, [%]; specific_gravity : float  SG of pure glycol, [1].
    """
    litres = not_negative("volume", volume, "L")
    gravity = positive("specific gravity of the glycol", specific_gravity, "")
    share = within("share of glycol by mass", percent_by_mass, 0, 100, "%") / 100
    return result("glycol", litres * share / (share + gravity * (1 - share)))


def percent_by_mass(percent_by_volume: float, specific_gravity: float) -> float:
    """Return the share of glycol by mass, [%], from its share by volume, [%], and its specific gravity, [1]."""
    share = within("share of glycol by volume", percent_by_volume, 0, 100, "%") / 100
    gravity = positive("specific gravity of the glycol", specific_gravity, "")
    return result("share by mass", 100 * share * gravity / (share * gravity + 1 - share))
