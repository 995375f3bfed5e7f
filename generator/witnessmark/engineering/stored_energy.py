"""Energy stored in a section under test, and the distance a published repair standard draws from it.

Printed as information beside a pressure test. A pneumatic test stores hundreds to thousands of times the energy of a
water test: local codes, a written system of work and licensed practice decide whether and how it may be done.
ASME PCC-2 (2008 text, Article 501, Appendices II and III, public excerpt) is a repair standard of the United States;
its least distance of 30 m is more than most buildings have.
"""

from witnessmark.engineering.inputs import absolute_of_gauge, not_negative, positive, result

PCC2_ATMOSPHERE = 1.01  # [bar], as the standard fixes it
PCC2_EXPONENT = 0.286
PCC2_TNT = 4_266_920.0  # [J/kg], as the standard fixes it
PCC2_SCALED_DISTANCE = 20.0  # [m/kg^(1/3)]
PCC2_STEPS = ((135.5e6, 30.0), (271e6, 60.0))  # up to this energy, [J], at least this distance, [m]


def of_water(gauge: float, volume: float, compressibility: float, wall_compliance: float) -> float:
    """Return the energy in a pressed, air-free water-filled pipe p² V (kappa + c)/2, [J].

    Parameters: gauge : float  p, [bar g]; volume : float  V, [L]; compressibility kappa and wall_compliance c, [1/bar];
    c of zero leaves the stretch of the wall out. Trapped air adds its own energy as a gas.
    """
    bar = not_negative("gauge pressure", gauge, "bar")
    softness = positive("compressibility", compressibility, "1/bar") + not_negative(
        "compliance", wall_compliance, "1/bar"
    )
    return result("stored energy", bar * bar * positive("volume", volume, "L") * softness / 2 * 100)


def of_gas(gauge: float, volume: float) -> float:
    """Return the energy of air or nitrogen by ASME PCC-2, E = 2.5 Pt V (1 - (Pa/Pt)^0.286), [J].

    Parameters: gauge, [bar g]; volume : float  V, [L]. Pt is absolute, with Pa the 101 000 Pa of the standard.

    >>> round(of_gas(3, 100) / 1000, 2)
    32.67
    """
    bar = absolute_of_gauge("test pressure", not_negative("gauge pressure", gauge, "bar"), PCC2_ATMOSPHERE)
    expansion = 1 - (PCC2_ATMOSPHERE / bar) ** PCC2_EXPONENT
    return result("stored energy", 2.5 * bar * positive("volume", volume, "L") * float(expansion) * 100)


def of_gas_by_brode(gauge: float, volume: float) -> float:
    """Return the energy of a gas by Brode's formula p V/(k - 1) with k = 1.4, [J]; an upper bound for comparison.

    H. L. Brode, Phys. Fluids 2 (1959) 217 (from memory). Parameters: gauge, [bar g]; volume, [L].
    """
    return result(
        "stored energy", not_negative("gauge pressure", gauge, "bar") * positive("volume", volume, "L") / 0.4 * 100
    )


def tnt_equivalent(energy: float) -> float:
    """Return the mass of TNT of the same energy by ASME PCC-2, [kg], from E, [J]."""
    return not_negative("stored energy", energy, "J") / PCC2_TNT


def distance_by_formula(energy: float) -> float:
    """Return R = 20 (2 TNT)^(1/3), [m], from E, [J], without the least distance of the standard."""
    return float(PCC2_SCALED_DISTANCE * (2 * tnt_equivalent(energy)) ** (1 / 3))


def distance(energy: float) -> float:
    """Return the distance of ASME PCC-2, [m], from E, [J]: the formula, and at least 30 m, or 60 m above 135.5 MJ."""
    formula = distance_by_formula(energy)
    for limit, least in PCC2_STEPS:
        if energy <= limit:
            return max(least, formula)
    return formula
