"""The gate every input passes before a formula sees it: finite, in range, with a physical meaning."""

from math import isfinite

from witnessmark.engineering.errors import (
    BelowAbsoluteZeroError,
    ImplausibleSizeError,
    NegativeAbsolutePressureError,
    NegativeError,
    NotFiniteError,
    NotPositiveError,
    OutsideValidityError,
    ResultTooLargeError,
)

# No mm, bar, °C, litre or minute of a building comes near these; between them no formula here overflows.
LARGEST = 1e12
SMALLEST = 1e-12
ABSOLUTE_ZERO = -273.15  # [°C]
STANDARD_ATMOSPHERE = 1.01325  # [bar], ISO 2533:1975 (from memory)
STANDARD_GRAVITY = 9.80665  # [m/s2], ISO 80000-3:2006 (from memory)


def finite(name: str, value: float) -> float:
    """Return the value as a float, or refuse NaN and infinities."""
    try:
        number = float(value)
    except OverflowError:
        raise ImplausibleSizeError(name, LARGEST) from None
    if not isfinite(number):
        raise NotFiniteError(name, number)
    if abs(number) > LARGEST:
        raise ImplausibleSizeError(name, number)
    return number


def positive(name: str, value: float, unit: str) -> float:
    """Return a finite value above zero."""
    number = finite(name, value)
    if number <= 0:
        raise NotPositiveError(name, number, unit)
    if number < SMALLEST:
        raise ImplausibleSizeError(name, number)
    return number


def not_negative(name: str, value: float, unit: str) -> float:
    """Return a finite value of zero or more."""
    number = finite(name, value)
    if number < 0:
        raise NegativeError(name, number, unit)
    return number


def within(name: str, value: float, lowest: float, highest: float, unit: str) -> float:
    """Return a finite value inside a closed range of validity."""
    number = finite(name, value)
    if not lowest <= number <= highest:
        raise OutsideValidityError(name, number, lowest, highest, unit)
    return number


def kelvin(name: str, celsius: float) -> float:
    """Turn a temperature in [°C] into [K], refusing 0 K and below."""
    number = finite(name, celsius)
    if number <= ABSOLUTE_ZERO:
        raise BelowAbsoluteZeroError(name, number)
    return number - ABSOLUTE_ZERO


def absolute(name: str, pressure: float) -> float:
    """Return an absolute pressure in [bar], refusing vacuum and below."""
    number = finite(name, pressure)
    if number <= 0:
        raise NegativeAbsolutePressureError(name, number)
    return number


def absolute_of_gauge(name: str, gauge: float, atmosphere: float) -> float:
    """Return the absolute pressure [bar] of a gauge pressure [bar g] under an atmosphere [bar]."""
    return absolute(name, finite(name, gauge) + absolute("atmospheric pressure", atmosphere))


def result(name: str, value: float) -> float:
    """Return a result, refusing one that overflowed on the way."""
    if not isfinite(value):
        raise ResultTooLargeError(name)
    return value
