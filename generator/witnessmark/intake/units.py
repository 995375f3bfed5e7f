"""Unit spellings of site records, and factors between units through the pint library."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

# label: (pint expression, spellings besides the label). Spellings are matched after `_key`.
_UNITS: dict[str, tuple[str, tuple[str, ...]]] = {
    "bar g": ("bar", ("bar", "barg", "bars", "bar gauge", "bar (g)", "barü", "bar ü")),
    "mbar": ("millibar", ("mbarg", "mbar g", "millibar")),
    "psi g": ("psi", ("psi", "psig", "lb/in2", "lbf/in2", "lbs/in2", "p.s.i.")),
    "kPa": ("kPa", ("kpag", "kpa g", "kn/m2")),
    "MPa": ("MPa", ("mpag", "mpa g", "n/mm2")),
    "Pa": ("Pa", ("pascal",)),
    "mH2O": ("100 * cmH2O", ("mwg", "m wg", "mwc", "mws", "m h2o", "m head", "m of water")),
    "mm": ("mm", ("millimetre", "millimetres", "millimeter", "millimeters", "mms")),
    "cm": ("cm", ("centimetre", "centimetres")),
    "m": ("m", ("metre", "metres", "meter", "meters", "mtr", "mtrs", "lm", "lin m", "linear m")),
    "ft": ("foot", ("feet", "foot", "'")),
    "in": ("inch", ("inch", "inches", "ins", '"', "″")),
    "L": ("L", ("ltr", "ltrs", "litre", "litres", "liter", "liters", "lit")),
    "mL": ("mL", ("millilitre", "millilitres")),
    "m3": ("m**3", ("cu m", "cum", "cubic metre", "cubic metres")),
    "gal (US)": ("gallon", ("us gal", "usg", "gal us", "us gallon", "us gallons")),
    "gal (UK)": ("imperial_gallon", ("uk gal", "imp gal", "gal uk", "gal imp", "imperial gallon", "imperial gallons")),
    "°C": ("degC", ("c", "degc", "deg c", "celsius", "degree c", "degrees c", "oc", "º c", "ºc")),
    "°F": ("degF", ("f", "degf", "deg f", "fahrenheit", "degree f", "degrees f", "ºf")),
    "K": ("kelvin", ("kelvin",)),
    "s": ("s", ("sec", "secs", "second", "seconds")),
    "min": ("min", ("mins", "minute", "minutes")),
    "h": ("hour", ("hr", "hrs", "hour", "hours")),
    "d": ("day", ("day", "days")),
    "hh:mm": ("min", ("h:mm", "hh:mm:ss", "h:mm:ss", "hrs:mins", "h:min")),
    "L/s": ("L/s", ("lps", "ltr/s", "litres/s", "l/sec", "litres per second")),
    "L/min": ("L/min", ("lpm", "ltr/min", "litres per minute", "litres/min")),
    "L/h": ("L/hour", ("lph", "ltr/h", "l/hr", "litres per hour")),
    "m3/h": ("m**3/hour", ("cmh", "m3/hr", "cu m/h")),
    "m/s": ("m/s", ("m/sec", "metres per second")),
    "kg": ("kg", ("kgs", "kilogram", "kilograms")),
    "g": ("g", ("gram", "grams")),
    "mg/L": ("mg/L", ("mg/ltr", "mg/litre", "ppm", "g/m3")),
    "µS/cm": ("microsiemens/cm", ("us/cm", "μs/cm", "microsiemens/cm")),
    "cfu/mL": ("count/mL", ("cfu/ml", "colonies/ml", "kbe/ml")),
    "cfu/100 mL": ("count/(100 * mL)", ("cfu/100ml", "kbe/100 ml")),
    "cfu/L": ("count/L", ("cfu/litre", "cfu/l")),
    "%": ("percent", ("percent", "per cent", "pct", "vol %", "% vol", "%fs", "% fs", "% of full scale")),
    "kN": ("kN", ("kilonewton",)),
    "kW": ("kW", ("kilowatt",)),
}
_ABSOLUTE = frozenset(
    {"bara", "bar a", "bar abs", "bar absolute", "psia", "psi a", "psi abs", "kpa a", "kpa abs", "mbar a"}
)
_COULD_BE_TWO = {
    "gal": ("gal (US)", "gal (UK)"),
    "gals": ("gal (US)", "gal (UK)"),
    "gallon": ("gal (US)", "gal (UK)"),
    "gallons": ("gal (US)", "gal (UK)"),
}
_GAUGE_IN_BRACKETS = re.compile(r"\b(m?bar|psi|[km]?pa)\s*\(\s*g\s*\)", re.IGNORECASE)
_TEMPERATURES = frozenset({"°C", "°F", "K"})
_SUPERSCRIPTS = str.maketrans({"²": "2", "³": "3", "₂": "2", "\u00a0": " ", "\u202f": " ", "’": "'", "”": '"'})


class UnitFault(Exception):
    """A unit that cannot be used: ``kind`` is its slug, ``str()`` the fact, ``options`` the units that may be meant."""

    def __init__(self, kind: str, message: str, options: tuple[str, ...] = ()) -> None:
        self.kind = kind
        self.options = options
        super().__init__(message)


@dataclass(frozen=True, slots=True)
class Conversion:
    """value in the target unit = value x factor + offset."""

    source: str
    target: str
    factor: float
    offset: float

    def apply(self, value: float) -> float:
        """The value in the target unit."""
        return value * self.factor + self.offset

    @property
    def changes(self) -> bool:
        """False when source and target are one unit."""
        return self.source != self.target


def _key(text: str) -> str:
    spaced = " ".join(text.translate(_SUPERSCRIPTS).replace("^", "").split()).casefold()
    return re.sub(r"\s*/\s*", "/", _GAUGE_IN_BRACKETS.sub(r"\1 g", spaced))


_SPELLINGS: dict[str, str] = {}
for _label, (_, _others) in _UNITS.items():
    for _spelling in (_label, *_others):
        _SPELLINGS[_key(_spelling)] = _label


def looks_like_unit(text: str) -> bool:
    """True when the text is a unit this module knows of, brackets or not, ambiguous and absolute ones included."""
    key = _key(strip_brackets(text))
    return key in _SPELLINGS or key in _ABSOLUTE or key in _COULD_BE_TWO


def strip_brackets(text: str) -> str:
    """The text without spaces and without one pair of brackets round it: ``[bar g]`` is ``bar g``."""
    bare = text.translate(_SUPERSCRIPTS).strip()
    if len(bare) > 1 and (bare[0], bare[-1]) in {("(", ")"), ("[", "]"), ("{", "}"), ("<", ">")}:
        return bare[1:-1].strip()
    return bare


@lru_cache(maxsize=4096)
def unit_label(text: str) -> str:
    """The label of a unit as this project writes it: 'barg' is 'bar g', 'ltr' is 'L'.

    Raises ``UnitFault`` for a unit that is unknown, absolute pressure, or could be two.
    """
    key = _key(strip_brackets(text))
    if key in _COULD_BE_TWO:
        first, second = _COULD_BE_TWO[key]
        raise UnitFault("unit-could-be-two", f"'{text}' could be {first} or {second}", (first, second))
    if key in _ABSOLUTE:
        raise UnitFault(
            "pressure-is-absolute", f"'{text}' is absolute pressure, and records are kept as gauge pressure", ("bar g",)
        )
    label = _SPELLINGS.get(key)
    if label is None:
        raise UnitFault("unit-unknown", f"'{text}' is not a unit this program knows")
    return label


@lru_cache(maxsize=1024)
def conversion(source: str, target: str, *, difference: bool = False) -> Conversion:
    """How to bring a value from one unit to another; ``difference`` treats temperatures as differences (no offset).

    Gauge pressure stays gauge pressure. Raises ``UnitFault`` for units that are unknown or of another kind.
    """
    from_label, to_label = unit_label(source), unit_label(target)
    if from_label == to_label:
        return Conversion(from_label, to_label, 1.0, 0.0)
    registry = _registry()
    start, end = _UNITS[from_label][0], _UNITS[to_label][0]
    if from_label in _TEMPERATURES and to_label in _TEMPERATURES:
        zero = registry.Quantity(0.0, start).to(end).magnitude
        hundred = registry.Quantity(100.0, start).to(end).magnitude
        return Conversion(
            from_label, to_label, _rounded((hundred - zero) / 100.0), 0.0 if difference else _rounded(zero)
        )
    one = registry.parse_expression(start)
    other = registry.parse_expression(end)
    one, other = registry.Quantity(one), registry.Quantity(other)
    if not one.is_compatible_with(other):
        raise UnitFault("unit-of-other-kind", f"'{source}' does not measure what '{target}' measures", (to_label,))
    return Conversion(from_label, to_label, _rounded((one / other).to("dimensionless").magnitude), 0.0)


def _rounded(factor: float) -> float:
    # Twelve figures: exact factors such as 0.3048 come out exact, whatever order the library multiplied in.
    return float(f"{factor:.12g}")


@lru_cache(maxsize=1)
def _registry() -> Any:
    import pint  # loading takes a third of a second, and most projects need no conversion

    return pint.UnitRegistry()
