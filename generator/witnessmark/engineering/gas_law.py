"""A gas shut in at constant volume: what temperature and the barometer do to the gauge, and what a leak does.

Ideal gas at building pressures (air and nitrogen within 0.2 % up to 16 bar, near room temperature).
The atmosphere enters twice: the gas follows its absolute pressure, and the gauge reads against the air of the moment.
"""

from witnessmark.engineering.inputs import absolute, absolute_of_gauge, finite, kelvin, not_negative, positive, result


def gauge_after(
    start_gauge: float,
    start_temperature: float,
    end_temperature: float,
    *,
    start_atmosphere: float,
    end_atmosphere: float,
) -> float:
    """Return the gauge pressure a tight section would show, [bar g]: p2 = (p1 + pa1) T2/T1 - pa2.

    Parameters: start_gauge : float  p1, [bar g]; temperatures of the gas, [°C]; atmospheres pa1, pa2, absolute, [bar].
    Both atmospheres are asked for: a millibar outside is a millibar on the gauge.

    >>> round(1000 * gauge_after(0.150, 20, 19, start_atmosphere=1.01325, end_atmosphere=1.01325), 2)
    146.03
    """
    start = absolute_of_gauge("start pressure", start_gauge, start_atmosphere)
    ratio = kelvin("end temperature", end_temperature) / kelvin("start temperature", start_temperature)
    return result("gauge pressure", start * ratio - absolute("end atmospheric pressure", end_atmosphere))


def unexplained_drop(
    start_gauge: float,
    end_gauge: float,
    start_temperature: float,
    end_temperature: float,
    *,
    start_atmosphere: float,
    end_atmosphere: float,
) -> float:
    """Return the drop that neither temperature nor barometer accounts for, [bar]; negative for an unexplained rise."""
    tight = gauge_after(
        start_gauge,
        start_temperature,
        end_temperature,
        start_atmosphere=start_atmosphere,
        end_atmosphere=end_atmosphere,
    )
    absolute_of_gauge("end pressure", end_gauge, end_atmosphere)
    return tight - end_gauge


def leak_rate(volume: float, drop: float, minutes: float, atmosphere: float) -> float:
    """Return the leak that a corrected drop stands for, [L/h] of gas at atmospheric pressure: V dp/(pa t).

    Parameters: volume : float  V, [L]; drop : float  dp, [bar], corrected for temperature; minutes : float  t, [min];
    atmosphere : float  pa, absolute, [bar].
    """
    litres = positive("volume", volume, "L") * not_negative("drop", drop, "bar")
    hours = positive("hold", minutes, "min") / 60
    return result("leak rate", litres / absolute("atmospheric pressure", atmosphere) / hours)


def pressure_per_kelvin(gauge: float, temperature: float, atmosphere: float) -> float:
    """Return the pressure change per kelvin of a shut-in gas (p + pa)/T, [bar/K]: what an unread degree may hide."""
    bar = absolute_of_gauge("pressure", gauge, atmosphere)
    return result("pressure per kelvin", bar / kelvin("temperature", finite("temperature", temperature)))
