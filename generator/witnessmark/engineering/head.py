"""Static head: pressure at one height from a gauge at another."""

from witnessmark.engineering.inputs import STANDARD_GRAVITY, finite, positive, result


def static_head(height: float, density: float) -> float:
    """Return the pressure of a column rho g h, [bar], from its height, [m], and density, [kg/m3].

    A negative height gives a negative head. At rest, one density all the way. Standard gravity 9.80665 m/s2.

    >>> round(static_head(40, 998.2), 2)
    3.92
    """
    bar = positive("density", density, "kg/m3") * STANDARD_GRAVITY * finite("height", height) / 1e5
    return result("static head", bar)


def gauge_at(elevation: float, gauge: float, gauge_elevation: float, density: float) -> float:
    """Return the gauge pressure at an elevation p(z) = p_gauge + rho g (z_gauge - z), [bar g].

    Parameters: elevations, [m], above one datum; gauge, [bar g], read at gauge_elevation; density, [kg/m3].
    At rest. For a gas the head is small, and its density that at the test pressure.
    """
    fall = finite("elevation of the gauge", gauge_elevation) - finite("elevation", elevation)
    return result("pressure", finite("gauge pressure", gauge) + static_head(fall, density))


def metres_per_bar(density: float) -> float:
    """Return the height of a column that makes one bar, [m], from its density, [kg/m3]."""
    return 1e5 / (positive("density", density, "kg/m3") * STANDARD_GRAVITY)
