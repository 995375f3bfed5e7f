"""Pressure rating of a tube from its hoop stress, on the mean diameter.

    p = 20 S t / (D - t)      [bar] with S in [MPa], D and t in [mm]

EN 13480-3, 6.1, straight pipe under internal pressure with a joint coefficient of 1, for Do/Di up to 1.7 (from memory).
The public table of working pressures of EN 1057 Table X tube, half hard, at 65 °C follows it with S = 60 MPa.
Plain tube at rest only: no fitting, no thread, no bend thinned, no fatigue, no corrosion allowance unless the wall has
been lowered by it. The allowable stress S belongs to the material, temper and temperature, and must be stated.
"""

from witnessmark.engineering.errors import WallTooThickForThinWallFormulaError
from witnessmark.engineering.inputs import finite, positive, result
from witnessmark.engineering.tube import bore

LARGEST_DIAMETER_RATIO = 1.7  # Do/Di


def rating(outside_diameter: float, wall: float, allowable_stress: float) -> float:
    """Return the pressure that brings the wall to its allowable stress, [bar g].

    Parameters: D, [mm]; t, [mm]; allowable_stress : float  S, [MPa], at the temperature in question.

    >>> round(rating(22, 0.9, 60))
    51
    """
    _thin(outside_diameter, wall)
    stress = positive("allowable stress", allowable_stress, "MPa")
    return result("rating", 20 * stress * wall / (outside_diameter - wall))


def stress(outside_diameter: float, wall: float, gauge: float) -> float:
    """Return the hoop stress p (D - t)/(20 t), [MPa], at a gauge pressure, [bar g]; negative under vacuum."""
    _thin(outside_diameter, wall)
    return result("hoop stress", finite("gauge pressure", gauge) * (outside_diameter - wall) / (20 * wall))


def _thin(outside_diameter: float, wall: float) -> None:
    if outside_diameter / bore(outside_diameter, wall) > LARGEST_DIAMETER_RATIO:
        raise WallTooThickForThinWallFormulaError(outside_diameter, wall, LARGEST_DIAMETER_RATIO)
