"""Tube: bore, content and mass from outside diameter and wall, both recorded, never one assumed from the other."""

from math import pi

from witnessmark.engineering.errors import WallTooThickError
from witnessmark.engineering.inputs import not_negative, positive, result


def bore(outside_diameter: float, wall: float) -> float:
    """Return the nominal bore d = D - 2t, [mm].

    Parameters: outside_diameter : float  D, [mm];  wall : float  t, [mm].
    Holds for nominal sizes; tolerances of EN 1057 and EN 10312 are not taken into account.

    >>> round(bore(22, 0.9), 1)
    20.2
    """
    outside = positive("outside diameter", outside_diameter, "mm")
    thickness = positive("wall", wall, "mm")
    inside = outside - 2 * thickness
    if inside <= 0:
        raise WallTooThickError(outside, thickness)
    return inside


def bore_area(outside_diameter: float, wall: float) -> float:
    """Return the cross-section of the bore A = pi/4 d², [mm2], from D, [mm], and t, [mm]."""
    return result("bore area", pi / 4 * bore(outside_diameter, wall) ** 2)


def litres_per_metre(outside_diameter: float, wall: float) -> float:
    """Return the content of one metre of tube A/1000, [L/m], from D, [mm], and t, [mm].

    Published capacity tables differ by 2 to 3 % from the nominal bore (facts of EN 1057 sizes; reason not stated).

    >>> round(litres_per_metre(54, 1.5), 4)
    2.0428
    """
    return bore_area(outside_diameter, wall) / 1000


def volume(outside_diameter: float, wall: float, length: float) -> float:
    """Return the content of a length of tube V, [L], from D, [mm], t, [mm], and L, [m], without fittings and plant."""
    return result("volume", litres_per_metre(outside_diameter, wall) * not_negative("length", length, "m"))


def length_for_volume(outside_diameter: float, wall: float, litres: float) -> float:
    """Return the length of tube that holds a volume, [m], from D, [mm], t, [mm], and V, [L]."""
    return result("length", not_negative("volume", litres, "L") / litres_per_metre(outside_diameter, wall))


def empty_mass_per_metre(outside_diameter: float, wall: float, wall_density: float) -> float:
    """Return the mass of one metre of empty tube m' = pi (D - t) t rho, [kg/m].

    Parameters: D, [mm]; t, [mm]; wall_density : float  rho of the tube material, [kg/m3].
    Bare tube: no lagging, no fittings.
    """
    bore(outside_diameter, wall)
    density = positive("density of the tube", wall_density, "kg/m3")
    return result("mass per metre", pi * (outside_diameter - wall) * wall * density / 1e6)


def filled_mass_per_metre(outside_diameter: float, wall: float, wall_density: float, medium_density: float) -> float:
    """Return the mass of one metre of filled tube, [kg/m]: the load on its supports, without lagging or fittings.

    Parameters: D, [mm]; t, [mm]; wall_density, [kg/m3]; medium_density : float  density of the content, [kg/m3].
    """
    content = (
        litres_per_metre(outside_diameter, wall) * positive("density of the medium", medium_density, "kg/m3") / 1000
    )
    return result("mass per metre", empty_mass_per_metre(outside_diameter, wall, wall_density) + content)
