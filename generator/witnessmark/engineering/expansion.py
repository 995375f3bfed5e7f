"""Thermal expansion of pipe."""

from math import sqrt

from witnessmark.engineering.inputs import kelvin, not_negative, positive, result


def change_of_length(length: float, linear_expansion: float, start_temperature: float, end_temperature: float) -> float:
    """Return dL = alpha L dT, [mm], negative on cooling.

    Parameters: length : float  L, [m]; linear_expansion : float  alpha, [1e-6/K]; temperatures, [°C].
    alpha is a mean over the range for which its source gives it, mostly 20 to 100 °C.

    >>> round(change_of_length(10, 17, 20, 60), 2)
    6.8
    """
    alpha = positive("linear expansion", linear_expansion, "1e-6/K")
    rise = kelvin("end temperature", end_temperature) - kelvin("start temperature", start_temperature)
    return result("change of length", not_negative("length", length, "m") * alpha * rise / 1000)


def leg_length(outside_diameter: float, movement: float, leg_constant: float) -> float:
    """Return the length of a leg that can take up a movement Ls = C sqrt(D dL), [mm].

    Parameters: D, [mm]; movement : float  dL, [mm], its size; leg_constant : float  C, [1], declared for the material
    (copper about 61, steel about 45; from memory). Guided leg, no anchors within it.
    """
    product = positive("outside diameter", outside_diameter, "mm") * not_negative("movement", movement, "mm")
    return result("leg length", positive("constant of the leg", leg_constant, "") * sqrt(product))
