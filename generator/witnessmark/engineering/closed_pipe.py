"""A closed pipe full of liquid: how pressure follows temperature, and how much liquid a pressure change stands for.

    dp/dT = (alpha_V - 3 alpha_L + f/T) / (kappa + c + f/p)

Balance of the volumes of liquid, wall and trapped air, all at one temperature; the air is an ideal gas that stays
undissolved. The balance without air is published (an engineering forum's paper on trapped liquids, and in outline
DNV-RP-F115); the compliance of a thin closed-end tube, and the air terms, are derived here.
The trapped air is never known on site: use the result as a range, to judge whether a record is plausible, and never to
excuse a drop. Not for a section with an open vessel, a hose or plastics in it: they give far more than the tube.
"""

from math import ceil
from typing import Literal, NamedTuple

from witnessmark.engineering import water
from witnessmark.engineering.inputs import absolute, finite, kelvin, positive, result, within
from witnessmark.engineering.tube import bore

Restraint = Literal["free", "axially_held", "diameter_over_wall"]


class Wall(NamedTuple):
    """What a tube wall brings to the balance.

    linear_expansion : float  alpha_L, [1/K];  compliance : float  c, relative growth of the bore volume, [1/bar].
    """

    linear_expansion: float
    compliance: float


class Contents(NamedTuple):
    """What the liquid brings: kappa, isothermal compressibility, [1/bar]; alpha_V, volumetric expansion, [1/K]."""

    compressibility: float
    volumetric_expansion: float


def wall_compliance(
    outside_diameter: float,
    wall: float,
    elastic_modulus: float,
    poisson_ratio: float,
    restraint: Restraint = "free",
) -> float:
    """Return c, the relative growth of the bore volume per pressure, [1/bar].

    Parameters: D, [mm]; t, [mm]; elastic_modulus : float  E, [GPa]; poisson_ratio : float  nu, [1], 0 to 0.5.
    restraint: 'free', closed ends and free to lengthen, c = d/(t E) (1.25 - nu); 'axially_held', c = d/(t E) (1 - nu²);
    'diameter_over_wall', the simple c = D/(t E) that published examples use. d is the bore. Thin walls, elastic.
    """
    inside = bore(outside_diameter, wall)
    modulus = positive("elastic modulus", elastic_modulus, "GPa") * 1e4
    nu = within("Poisson ratio", poisson_ratio, 0, 0.5, "")
    if restraint == "diameter_over_wall":
        return result("compliance", outside_diameter / (wall * modulus))
    shape = 1.25 - nu if restraint == "free" else 1 - nu * nu
    return result("compliance", inside / (wall * modulus) * shape)


def water_contents(temperature: float, pressure: float) -> Contents:
    """Return what water brings to the balance at a temperature, [°C], and absolute pressure, [bar]."""
    return Contents(water.compressibility(temperature, pressure), water.volumetric_expansion(temperature, pressure))


def pressure_per_kelvin(
    contents: Contents, wall: Wall, *, temperature: float, pressure: float, air_share: float
) -> float:
    """Return dp/dT of a closed pipe, [bar/K].

    Parameters: temperature, [°C]; pressure : float  p, absolute, [bar]; air_share : float  f, trapped air as a share of
    the volume at that pressure, [1], 0 up to 0.2. Water near 4 °C gives about zero, and below it a negative figure.
    """
    expansion = finite("volumetric expansion", contents.volumetric_expansion)
    share = within("share of trapped air", air_share, 0, 0.2, "")
    heated = expansion - 3 * finite("linear expansion", wall.linear_expansion)
    heated += share / kelvin("temperature", temperature)
    return result("pressure per kelvin", heated / softness(contents, wall, pressure=pressure, air_share=share))


def softness(contents: Contents, wall: Wall, *, pressure: float, air_share: float) -> float:
    """Return kappa + c + f/p, the share of its volume that a closed pipe takes in per pressure, [1/bar].

    Parameters: pressure : float  p, absolute, [bar]; air_share : float  f, share of the volume at p, [1], 0 up to 0.2.
    """
    share = within("share of trapped air", air_share, 0, 0.2, "")
    kappa = positive("compressibility", contents.compressibility, "1/bar")
    compliance = finite("compliance", wall.compliance)
    within("compliance", compliance, 0, 1, "1/bar")
    return kappa + compliance + share / absolute("absolute pressure", pressure)


def litres_per_bar(volume: float, contents: Contents, wall: Wall, *, pressure: float, air_share: float) -> float:
    """Return the liquid that a closed pipe loses or takes in per pressure V (kappa + c + f/p), [L/bar], from V, [L]."""
    litres = positive("volume", volume, "L")
    return result("litres per bar", litres * softness(contents, wall, pressure=pressure, air_share=air_share))


def water_pressure_change(
    start_temperature: float, end_temperature: float, wall: Wall, *, pressure: float, air_share: float
) -> float:
    """Return the pressure change of a closed pipe of water between two temperatures, [bar], by steps of 1 K at most.

    Parameters: temperatures, [°C]; pressure, absolute at the start, [bar]; air_share, [1], at the start.
    The trapped air is followed as an ideal gas of constant mass. A change that would pull the water to a vacuum, let
    the air grow past a fifth of the volume, or go past 100 bar, is refused.
    """
    start = within("start temperature", start_temperature, water.LOWEST, water.HIGHEST, "°C")
    change = within("end temperature", end_temperature, water.LOWEST, water.HIGHEST, "°C") - start
    steps = max(1, ceil(abs(change)))
    step = change / steps
    bar = absolute("absolute pressure", pressure)
    air = within("share of trapped air", air_share, 0, 0.2, "") * bar / kelvin("start temperature", start)
    for number in range(steps):
        celsius = start + number * step
        first = _water_rate(celsius, bar, air, wall)
        second = _water_rate(celsius + step / 2, bar + first * step / 2, air, wall)
        third = _water_rate(celsius + step / 2, bar + second * step / 2, air, wall)
        fourth = _water_rate(celsius + step, bar + third * step, air, wall)
        bar = absolute("absolute pressure", bar + (first + 2 * second + 2 * third + fourth) * step / 6)
    return bar - pressure


def litres_taken_by_air(air: float, start_pressure: float, end_pressure: float) -> float:
    """Return the water that enters as trapped air is pressed together at one temperature V (1 - p1/p2), [L].

    Parameters: air : float  V, its volume at the start, [L]; pressures, absolute, [bar]. Ideal gas (Boyle's law).
    """
    ratio = absolute("start pressure", start_pressure) / absolute("end pressure", end_pressure)
    return result("litres taken", positive("volume of trapped air", air, "L") * (1 - ratio))


def _water_rate(temperature: float, pressure: float, air: float, wall: Wall) -> float:
    bar = absolute("absolute pressure", pressure)
    share = air * kelvin("temperature", temperature) / bar
    # Adding up steps may overshoot the last degree by a rounding.
    contents = water_contents(max(water.LOWEST, min(temperature, water.HIGHEST)), bar)
    return pressure_per_kelvin(contents, wall, temperature=temperature, pressure=bar, air_share=share)
