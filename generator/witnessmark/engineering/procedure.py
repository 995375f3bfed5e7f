"""A pressure test against its procedure: what was required, and what the record shows, figure by figure.

Procedures are data (`shared/reference/procedures.csv`): codes differ, change, and are amended on site.
Every answer is yes, no, or None for 'cannot tell', never yes for want of a record.
"""

from typing import NamedTuple

from witnessmark.engineering.errors import BadProcedureError
from witnessmark.engineering.inputs import finite, not_negative, positive, result


class Requirement(NamedTuple):
    """One stage as this system needs it.

    pressure : float  at the highest point, [bar g]; settle, hold : float  [min]; allowed_drop : float  [bar].
    """

    pressure: float
    settle: float
    hold: float
    allowed_drop: float


class Reading(NamedTuple):
    """What the record gives; None for what it leaves out.

    start, end : float  at the highest point, [bar g]; settle, hold : float  [min]; topped_up : bool;
    temperature_drop : float  the drop that temperature and barometer account for, [bar]; uncertainty : float  of the
    difference of two readings, [bar], at least the resolution of the gauge.
    """

    start: float | None = None
    end: float | None = None
    settle: float | None = None
    hold: float | None = None
    topped_up: bool | None = None
    temperature_drop: float | None = None
    uncertainty: float | None = None


class Verdict(NamedTuple):
    """Yes, no or None (cannot tell) for each thing a stage must show, and the unexplained drop, [bar]."""

    pressure_reached: bool | None
    readings_present: bool
    settled_long_enough: bool | None
    held_long_enough: bool | None
    not_topped_up: bool | None
    drop_within_tolerance: bool | None
    unexplained_drop: float | None

    @property
    def passed(self) -> bool | None:
        """Whether all of it is shown: False if anything fails, None if nothing fails but something cannot be told."""
        answers = self[:6]
        if any(answer is False for answer in answers):
            return False
        return None if any(answer is None for answer in answers) else True


def required_pressure(
    basis_pressure: float, factor: float, *, cap: float | None = None, least: float | None = None
) -> float:
    """Return the pressure a test must reach at the highest point, [bar g].

    Factor times the basis, between least and cap. Parameters: basis_pressure, [bar g]: the maximum operating pressure
    or the maximum design pressure, as the procedure says (they are not the same: by one reading of EN 806-4, 1.1 x
    MDP is 1.65 x MOP); factor, [1]; cap, least, [bar g].

    >>> required_pressure(5, 1.5)
    7.5
    """
    asked = positive("basis pressure", basis_pressure, "bar") * positive("test factor", factor, "")
    if least is not None:
        asked = max(asked, positive("least test pressure", least, "bar"))
    if cap is None:
        return result("required pressure", asked)
    ceiling = positive("highest test pressure", cap, "bar")
    if least is not None and least > ceiling:
        raise BadProcedureError(f"its least pressure of {least:g} bar is above its highest of {ceiling:g} bar")
    return min(asked, ceiling)


def is_capped(basis_pressure: float, factor: float, cap: float) -> bool:
    """Whether the cap keeps the test under factor times the basis: the test then proves less than the factor says."""
    return required_pressure(basis_pressure, factor) > positive("highest test pressure", cap, "bar")


def required_hold(base: float, *, volume: float = 0, free_volume: float = 0, extra_per_100_litres: float = 0) -> float:
    """Return the hold that a procedure asks of a volume, [min]: base, and more for every 100 L begun above free_volume.

    Parameters: base, [min]; volume, free_volume, [L]; extra_per_100_litres, [min].

    >>> required_hold(120, volume=600, free_volume=100, extra_per_100_litres=20)
    220.0
    """
    minutes = not_negative("hold", base, "min")
    above = not_negative("volume", volume, "L") - not_negative("volume without extra hold", free_volume, "L")
    hundreds = -(-max(0.0, above) // 100)
    return result("hold", minutes + hundreds * not_negative("extra hold", extra_per_100_litres, "min"))


def judge(requirement: Requirement, reading: Reading) -> Verdict:
    """Judge one stage.

    The pressure must be reached at the start. The drop, less the share of temperature where that is given, must be
    within tolerance; beyond it by no more than the uncertainty, or a rise that nothing accounts for, is 'cannot tell'.
    """
    needed = positive("required pressure", requirement.pressure, "bar")
    allowed = not_negative("allowed drop", requirement.allowed_drop, "bar")
    start = None if reading.start is None else finite("start reading", reading.start)
    end = None if reading.end is None else finite("end reading", reading.end)
    drop = None if start is None or end is None else start - end
    unexplained = drop
    if drop is not None and reading.temperature_drop is not None:
        unexplained = drop - finite("drop by temperature", reading.temperature_drop)
    blur = 0.0 if reading.uncertainty is None else not_negative("uncertainty", reading.uncertainty, "bar")
    return Verdict(
        pressure_reached=None if start is None else start >= needed - _ROUNDING,
        readings_present=start is not None and end is not None,
        settled_long_enough=_long_enough("settling time", reading.settle, requirement.settle),
        held_long_enough=_long_enough("hold", reading.hold, requirement.hold),
        not_topped_up=None if reading.topped_up is None else not reading.topped_up,
        drop_within_tolerance=_within_tolerance(unexplained, allowed, blur),
        unexplained_drop=unexplained,
    )


def zero_drop_is_implausible(
    drop: float, temperature_change: float, least_bar_per_kelvin: float, resolution: float
) -> bool:
    """Whether an unchanged reading is implausible, given a real change of temperature.

    Parameters: drop, [bar]; temperature_change, [K]; least_bar_per_kelvin : float  the softest likely section, with its
    trapped air, [bar/K]; resolution, [bar]. The reading should have moved by at least two steps of the gauge, and
    stayed within half a step. Implausible is no proof of anything: air, a stuck gauge, a copied figure, or good luck.
    """
    step = positive("resolution", resolution, "bar")
    expected = abs(finite("change of temperature", temperature_change) * finite("bar per kelvin", least_bar_per_kelvin))
    return expected >= 2 * step and abs(finite("drop", drop)) <= step / 2


_ROUNDING = 1e-9  # [bar]: 0.15 * 1000 mbar and 150 mbar must compare equal


def _within_tolerance(drop: float | None, allowed: float, blur: float) -> bool | None:
    if drop is None or drop < -max(allowed, blur) - _ROUNDING:
        return None
    if drop <= allowed + _ROUNDING:
        return True
    return None if drop <= allowed + blur + _ROUNDING else False


def _long_enough(name: str, recorded: float | None, needed: float) -> bool | None:
    minutes = not_negative(f"{name} of the procedure", needed, "min")
    if recorded is None:
        return True if minutes == 0 else None
    return not_negative(name, recorded, "min") >= minutes - _ROUNDING
