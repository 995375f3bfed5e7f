"""Room for heated water: what it gains, and the vessel that takes it up."""

from witnessmark.engineering.errors import NoPressureRiseError
from witnessmark.engineering.inputs import STANDARD_ATMOSPHERE, absolute_of_gauge, not_negative, result
from witnessmark.engineering.water import volume_growth


def expanded_litres(
    volume: float, cold_temperature: float, hot_temperature: float, pressure: float = STANDARD_ATMOSPHERE
) -> float:
    """Return what a volume of plain water gains dV = V (v2/v1 - 1), [L]; the growth of the pipe is left out.

    Parameters: volume : float  V, cold, [L]; temperatures, [°C], 0 to 110; pressure, absolute, [bar]. Glycol gains
    more.
    """
    return result(
        "gain in volume",
        not_negative("volume", volume, "L") * volume_growth(cold_temperature, hot_temperature, pressure),
    )


def vessel_volume(gain: float, cold_gauge: float, hot_gauge: float, atmosphere: float) -> float:
    """Return the least volume of a vessel dV/(1 - p1/p2), [L], p1 and p2 absolute (in common use, from memory).

    Parameters: gain : float  dV, [L]; cold_gauge : float  at the vessel when cold, its charge, [bar g]; hot_gauge :
    float highest, [bar g]; atmosphere, absolute, [bar]. No water reserve: plant design follows its own standard (EN
    12828).
    """
    cold = absolute_of_gauge("cold pressure", cold_gauge, atmosphere)
    hot = absolute_of_gauge("hot pressure", hot_gauge, atmosphere)
    if hot <= cold:
        raise NoPressureRiseError(cold_gauge, hot_gauge)
    return result("vessel volume", not_negative("gain in volume", gain, "L") / (1 - cold / hot))
