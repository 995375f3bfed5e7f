"""What a pressure test could have shown: the smallest leak its record could reveal, against one drop a second.

    q = V (kappa + c + f/p) dp / t        water
    q = V dp / (pa t)                     gas, as gas at atmospheric pressure

dp is the smallest drop the record can tell from none: the resolution of the gauge or the tolerance of the procedure,
whichever is larger. Trapped air makes a section soft, and a soft section hides leaks; the share of air is never known,
so give the answer for a low and a high share. Holds once temperatures have settled, and for a leak that is steady: a
joint that seals until it is knocked is not found by any pressure test. Eyes on every joint see more than the gauge
does.
"""

from typing import NamedTuple

from witnessmark.engineering.closed_pipe import Contents, Wall, litres_per_bar, softness
from witnessmark.engineering.inputs import absolute, not_negative, positive, result


class Sensitivity(NamedTuple):
    """What a test could show, for one share of trapped air.

    smallest_leak : float  q, [mL/min];  shows_reference : bool  whether that is no more than the leak asked about;
    hold_needed : float  [min];  volume_needed : float  [L];  drop_needed : float  [bar]: each alone would show that
    leak.
    """

    smallest_leak: float
    shows_reference: bool
    hold_needed: float
    volume_needed: float
    drop_needed: float


def smallest_visible_drop(resolution: float, allowed_drop: float) -> float:
    """Return the smallest drop that counts, [bar], from the gauge's resolution and the procedure's tolerance, [bar]."""
    return max(positive("resolution", resolution, "bar"), not_negative("allowed drop", allowed_drop, "bar"))


def water_test(
    volume: float,
    contents: Contents,
    wall: Wall,
    *,
    pressure: float,
    air_share: float,
    visible_drop: float,
    hold: float,
    reference_leak: float,
) -> Sensitivity:
    """Return what a water test could show.

    Parameters: volume : float  V, [L]; pressure : float  p, absolute, [bar]; air_share : float  f, share of the
    volume at p, [1]; visible_drop : float  dp, [bar]; hold : float  t, [min]; reference_leak : float  [mL/min], one
    drop a second is about 3 mL/min (common practice, no published source).
    """
    softness = litres_per_bar(volume, contents, wall, pressure=pressure, air_share=air_share)
    return _sensitivity(volume, softness * 1000, visible_drop, hold, reference_leak)


def gas_test(
    volume: float, *, atmosphere: float, visible_drop: float, hold: float, reference_leak: float
) -> Sensitivity:
    """Return what a gas test could show, leaks as gas at atmospheric pressure.

    Parameters: volume, [L]; atmosphere, absolute, [bar]; visible_drop, [bar]; hold, [min]; reference_leak, [mL/min].
    The drop is the one left after correction for temperature and barometer.
    """
    litres_a_bar = positive("volume", volume, "L") / absolute("atmospheric pressure", atmosphere)
    return _sensitivity(volume, litres_a_bar * 1000, visible_drop, hold, reference_leak)


def highest_air_share(
    volume: float,
    contents: Contents,
    wall: Wall,
    *,
    pressure: float,
    visible_drop: float,
    hold: float,
    reference_leak: float,
) -> float | None:
    """Return the largest share of trapped air with which a water test would still have shown the leak, [1].

    Parameters as for `water_test`. None when even a section without air would have hidden it; 0.2 at most, the limit of
    the model.
    """
    litres = positive("leak to be found", reference_leak, "mL/min") * positive("hold", hold, "min") / 1000
    soft_enough = litres / (positive("volume", volume, "L") * positive("smallest visible drop", visible_drop, "bar"))
    to_spare = soft_enough - softness(contents, wall, pressure=pressure, air_share=0)
    if to_spare < 0:
        return None
    return min(0.2, to_spare * absolute("absolute pressure", pressure))


def _sensitivity(
    volume: float, millilitres_per_bar: float, visible_drop: float, hold: float, reference_leak: float
) -> Sensitivity:
    drop = positive("smallest visible drop", visible_drop, "bar")
    minutes = positive("hold", hold, "min")
    reference = positive("leak to be found", reference_leak, "mL/min")
    smallest = result("smallest leak", millilitres_per_bar * drop / minutes)
    share = reference / smallest
    return Sensitivity(
        smallest_leak=smallest,
        shows_reference=smallest <= reference,
        hold_needed=result("hold", minutes / share),
        volume_needed=result("volume", volume * share),
        drop_needed=result("drop", drop * share),
    )
