"""Tube sizes as sites write them, to the outside diameter of a tube that exists."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from witnessmark.intake.cell import CellValue
from witnessmark.intake.number_reader import read_number
from witnessmark.intake.readings import Fault, Read, answer, shown, text_of, unusable, yaml_scalar

KNOWN_DIAMETERS = (12.0, 15.0, 16.0, 18.0, 22.0, 28.0, 35.0, 42.0, 54.0, 64.0, 66.7, 76.1, 88.9, 108.0)
"""Outside diameters of press-jointed tube [mm]: EN 1057, EN 10312 and EN 10305-3; a caller with a table of its own
passes that."""

# Nominal pipe size in inches to DN: EN ISO 6708 and common practice (from memory).
_INCHES = {"1/2": 15, "3/4": 20, "1": 25, "1 1/4": 32, "1 1/2": 40, "2": 50, "2 1/2": 65, "3": 80, "4": 100}
_FRACTIONS = {"½": "1/2", "¾": "3/4", "¼": "1/4"}
_DN = re.compile(r"(?:DN|NB|NW)\s*[-.]?\s*(\d{1,3})\Z|(\d{1,3})\s*(?:DN|NB)\Z", re.IGNORECASE)
_INCH = re.compile(r"(\d?\s*-?\s*(?:\d/\d)?|\d\.\d{1,2})\s*(?:\"|″|''|”|in\.?|inch(?:es)?)\Z", re.IGNORECASE)
_PAIR = re.compile(r"(.+?)\s*(?:x|×|X|\*|/)\s*(.+)\Z")
_ONE = re.compile(
    r"(?:Ø|ø|⌀|Φ|φ|OD|dia\.?|d\s*=?)?\s*(\d+(?:[.,]\d+)?)\s*(?:mm)?\s*(?:OD|o/d|dia\.?|Ø|ø)?\Z", re.IGNORECASE
)


@dataclass(frozen=True, slots=True)
class TubeSize:
    """A tube's outside diameter [mm], and its wall thickness [mm] where the record gives it."""

    outside_diameter: float
    wall: float | None = None


def read_size(
    value: CellValue,
    *,
    column: str,
    known: Sequence[float] = KNOWN_DIAMETERS,
    material: str | None = None,
    nominal: Mapping[tuple[str, int], float] | None = None,
    answered: Mapping[str, float] | None = None,
) -> Read[TubeSize] | Fault:
    """Read a tube size.

    ``known`` are the outside diameters there are [mm]. 'DN20' and inch sizes say no diameter of themselves: they are
    read only with a ``material`` and through ``nominal``, which maps (material, DN) to the outside diameter [mm].
    ``answered`` maps sizes as written to outside diameters by the project's own word and wins.
    """
    fault = unusable(value)
    if fault is not None:
        return fault
    if isinstance(value, str):
        text = " ".join(text_of(value).split())
    elif isinstance(value, int | float) and not isinstance(value, bool):
        text = text_of(value)
    else:
        return _not_a_size(text_of(value))
    for written, diameter in (answered or {}).items():
        if " ".join(str(written).split()).casefold() == text.casefold():
            return Read(TubeSize(float(diameter)), f"read {shown(text)} as {diameter:g} mm, as project.yml says")
    dn = _nominal_size(text)
    if dn == 0:
        return _not_a_size(text)
    if dn is not None:
        return _from_nominal(text, dn, material, nominal or {}, column, known)
    pair = _PAIR.match(text)
    if pair:
        return _from_pair(text, pair.group(1), pair.group(2), column, known)
    return _outside(text, text, column, known)


def _nominal_size(text: str) -> int | None:
    """The DN of a nominal size; 0 for inches that are no pipe size, None for a text that is no nominal size."""
    found = _DN.match(text)
    if found:
        return int(found.group(1) or found.group(2))
    spelled = text
    for sign, fraction in _FRACTIONS.items():
        spelled = spelled.replace(sign, f" {fraction}")
    inch = _INCH.match(spelled.strip())
    if not inch:
        return None
    size = " ".join(inch.group(1).replace("-", " ").split())
    decimals = {"0.5": "1/2", "0.75": "3/4", "1.25": "1 1/4", "1.5": "1 1/2", "2.5": "2 1/2"}
    return _INCHES.get(decimals.get(size, size), 0)


def _from_nominal(
    text: str,
    dn: int,
    material: str | None,
    nominal: Mapping[tuple[str, int], float],
    column: str,
    known: Sequence[float],
) -> Read[TubeSize] | Fault:
    if material is None:
        return Fault(
            "size-needs-material",
            f"{shown(text)} is a nominal size and the material is not known, so it could be more than one diameter",
            "write the outside diameter in mm, or the material of the tube",
        )
    diameter = nominal.get((material, dn))
    if diameter is None:
        return Fault(
            "size-unknown",
            f"no outside diameter is listed for DN{dn} in {material}",
            "write the outside diameter in mm",
        )
    # DN15 tube is 18 mm outside by the standards, and many write DN15 for 15 mm tube.
    if diameter != dn and dn in known:
        return Fault(
            "size-could-be-two",
            f"{shown(text)} in {material} could be {dn} mm tube or {diameter:g} mm tube, which is DN{dn}",
            f"write the outside diameter in mm, or {_size_answer(column, text, dn)} (or {diameter:g})",
        )
    return Read(TubeSize(diameter), f"read {shown(text)} in {material} as {diameter:g} mm outside diameter")


def _from_pair(text: str, left: str, right: str, column: str, known: Sequence[float]) -> Read[TubeSize] | Fault:
    outside = _outside(left, text, column, known)
    if isinstance(outside, Fault):
        return outside
    second = _ONE.match(right.strip())
    if not second:
        return _not_a_size(text)
    wall = float(second.group(1).replace(",", "."))
    diameter = outside.value.outside_diameter
    if not 0.3 <= wall <= diameter / 6 or "/" in text:
        return Fault(
            "size-is-two",
            f"{shown(text)} gives two sizes, and {right.strip()} is no wall thickness of a {diameter:g} mm tube",
            "write one size to a cell; give each end of a reducing fitting its own row",
        )
    return Read(TubeSize(diameter, wall), f"read {shown(text)} as {diameter:g} mm outside diameter, {wall:g} mm wall")


def _outside(part: str, text: str, column: str, known: Sequence[float]) -> Read[TubeSize] | Fault:
    found = _ONE.match(part.strip())
    if not found:
        return _not_a_size(text)
    number = read_number(found.group(1).replace(",", "."), column=column)
    if isinstance(number, Fault):
        return _not_a_size(text)
    diameter = _known(number.value, known)
    if diameter is None:
        if not known:
            return _not_a_size(text)
        nearest = sorted(known, key=lambda size: (abs(size - number.value), size))[:2]
        listed = " and ".join(f"{size:g}" for size in nearest)
        return Fault(
            "size-unknown",
            f"{number.value:g} mm is no outside diameter of press-jointed tube; the nearest are {listed} mm",
            f"correct the size, or {_size_answer(column, part, nearest[0])}",
        )
    plain = text == f"{diameter:g}"
    return Read(TubeSize(diameter), None if plain else f"read {shown(text)} as {diameter:g} mm")


def _size_answer(column: str, written: str, diameter: float) -> str:
    return answer(column, "sizes", f"{{{yaml_scalar(written.strip())}: {diameter:g}}}")


def _known(number: float, known: Sequence[float]) -> float | None:
    if number in known:
        return float(number)
    # Sites round 76.1, 88.9 and 66.7 to whole millimetres; a diameter is taken only where one alone rounds to it.
    rounded = [size for size in known if number.is_integer() and abs(size - number) < 0.5]
    return float(rounded[0]) if len(rounded) == 1 else None


def _not_a_size(text: str) -> Fault:
    return Fault("not-a-size", f"{shown(text)} is not a tube size", "write the outside diameter in mm, such as 22")
