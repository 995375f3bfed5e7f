"""Water on the move: draining, flushing, flow at a velocity, a leak through a hole."""

from math import pi, sqrt

from witnessmark.engineering.inputs import STANDARD_GRAVITY, not_negative, positive, result, within


def drain_time(bore_area: float, height: float, drain_bore: float, discharge_coefficient: float) -> float:
    """Return the least time in which a vertical column runs out t = 2A/(Cd a) sqrt(h/2g), [s].

    Parameters: bore_area : float  A, [mm2]; height : float  h, [m]; drain_bore : float  bore of the open drain, [mm];
    discharge_coefficient : float  Cd, [1]. At least: no friction, no hose, one straight column, vent at the top open.

    >>> round(drain_time(2042.8, 30, 13, 0.6))
    63
    """
    hole = _circle("bore of the drain", drain_bore)
    coefficient = _coefficient(discharge_coefficient)
    root = sqrt(not_negative("height", height, "m") / (2 * STANDARD_GRAVITY))
    return result("drain time", 2 * positive("bore area", bore_area, "mm2") / (coefficient * hole) * root)


def hole_leak(hole_diameter: float, gauge: float, density: float, discharge_coefficient: float) -> float:
    """Return the flow of liquid through a hole Q = Cd A sqrt(2 p/rho), [L/min].

    Parameters: hole_diameter, [mm]; gauge : float  p, [bar g], outside at atmosphere; density : float  rho, [kg/m3];
    discharge_coefficient : float  Cd, [1], about 0.61 for a sharp edge. Liquids only; the supply holds its pressure.
    """
    speed = sqrt(2e5 * not_negative("gauge pressure", gauge, "bar") / positive("density", density, "kg/m3"))
    area = _circle("diameter of the hole", hole_diameter)
    return result("leak", _coefficient(discharge_coefficient) * area * speed * 0.06)


def flow_at_velocity(bore_area: float, velocity: float) -> float:
    """Return the flow A v, [L/s], from the bore area, [mm2], and the mean velocity, [m/s]."""
    return result("flow", positive("bore area", bore_area, "mm2") * not_negative("velocity", velocity, "m/s") / 1000)


def velocity_at_flow(bore_area: float, flow: float) -> float:
    """Return the mean velocity, [m/s], from the bore area, [mm2], and the flow, [L/s]."""
    return result("velocity", not_negative("flow", flow, "L/s") * 1000 / positive("bore area", bore_area, "mm2"))


def flush_time(volume: float, changes: float, flow: float) -> float:
    """Return the time for so many changes of water n V/Q, [s], from V, [L], n, [1], and Q, [L/s].

    Plug flow: what dead legs hold is not changed.
    """
    litres = positive("volume", volume, "L") * not_negative("number of water changes", changes, "")
    return result("flushing time", litres / positive("flow", flow, "L/s"))


def flush_volume(volume: float, changes: float) -> float:
    """Return the water that so many changes take, [L]."""
    return result(
        "flushing volume", positive("volume", volume, "L") * not_negative("number of water changes", changes, "")
    )


def _circle(name: str, diameter: float) -> float:
    return pi / 4 * positive(name, diameter, "mm") ** 2


def _coefficient(value: float) -> float:
    return within("discharge coefficient", value, 0.01, 1, "")
