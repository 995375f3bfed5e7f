"""Headings as sites write them, brought to a form that can be looked up."""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache

from witnessmark.intake.units import looks_like_unit, strip_brackets

_BRACKETS = re.compile(r"[(\[{]([^()\[\]{}]*)[)\]}]")
_TRAILING_UNIT = re.compile(r"^(.*?)(?:\s*[,/]\s*|\s+in\s+|\s+)(\S+(?:\s\S{1,5})?)$", re.IGNORECASE)
_GAUGE = re.compile(r"[(\[]?\b(m?bar|psi|[km]?pa)\s*\(\s*g\s*\)[)\]]?", re.IGNORECASE)
_NOT_WORDS = re.compile(r"[^\w%]+")


@lru_cache(maxsize=65536)
def normalise_heading(text: str) -> str:
    """The heading for look-up: case folded, accents kept, brackets with a unit split off, punctuation and line breaks
    as one space.

    >>> normalise_heading("Test\\nPressure [bar g]")
    'test pressure'
    """
    return _words(split_unit(text)[0])


@lru_cache(maxsize=65536)
def split_unit(text: str) -> tuple[str, str | None]:
    """The heading without its unit, and the unit as written: 'Length (m)' and 'Length, m' both give ('Length', 'm')."""
    flat = _GAUGE.sub(r"(\1 g)", " ".join(unicodedata.normalize("NFC", text).split()))
    for found in _BRACKETS.finditer(flat):
        if looks_like_unit(found.group(1)):
            return (flat[: found.start()] + " " + flat[found.end() :]).strip(), found.group(1).strip()
    return flat, None


@lru_cache(maxsize=65536)
def heading_keys(text: str) -> tuple[tuple[str, str | None], ...]:
    """Every (key, unit) to look the heading up by, surest first: whole, without brackets, without a unit at its end."""
    bare, unit = split_unit(text)
    keys = [(_words(bare), unit)]
    without = _BRACKETS.sub(" ", bare)
    if without != bare:
        keys.append((_words(without), unit))
    if unit is None:
        trailing = _TRAILING_UNIT.match(bare)
        if trailing and looks_like_unit(trailing.group(2)):
            keys.append((_words(trailing.group(1)), trailing.group(2)))
        elif trailing and looks_like_unit(trailing.group(2).split()[-1]):
            last = trailing.group(2).split()
            keys.append((_words(f"{trailing.group(1)} {' '.join(last[:-1])}"), last[-1]))
    return tuple((key, found) for key, found in keys if key)


_FILLERS = frozenset(
    {
        "",
        "-",
        "–",
        "—",
        "text",
        "date",
        "id",
        "yes/no",
        "y/n",
        "number",
        "no",
        "no.",
        "none",
        "n/a",
        "whole number",
        "word",
        "list",
    }
    | {
        "time",
        "unit",
        "units",
        "yyyy-mm-dd",
        "dd/mm/yyyy",
        "dd/mm/yy",
        "mm/dd/yyyy",
        "dd.mm.yyyy",
        "hh:mm",
        "choice",
        "date and time",
    }
)


def is_units_row(texts: list[str]) -> bool:
    """True when every filled cell is a unit or a word for 'no unit', and at least one is a unit."""
    filled = [strip_brackets(text).casefold() for text in texts if text.strip()]
    units = [text for text in filled if looks_like_unit(text) and text not in _FILLERS]
    return bool(units) and all(text in _FILLERS or looks_like_unit(text) for text in filled)


def unit_of(text: str) -> str | None:
    """The unit in a cell of the units row; None for a word that stands for 'no unit'."""
    bare = strip_brackets(text)
    return None if bare.casefold() in _FILLERS or not looks_like_unit(bare) else bare


def _words(text: str) -> str:
    return _NOT_WORDS.sub(" ", text.casefold().replace("_", " ").replace("№", " no ").replace("#", " no ")).strip()
