"""Advance widths of the two bundled typefaces, so that text is fitted before it is drawn.

The same figures serve SVG and PDF. Widths come from the font files as reportlab reads them (units of 1/1000 em).
"""

from __future__ import annotations

from functools import lru_cache
from typing import Literal

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

from witnessmark.model.bundled import shared_path
from witnessmark.pack.face_text import printable

Weight = Literal["regular", "bold"]

FONT_NAMES: dict[Weight, str] = {"regular": "DejaVuSans", "bold": "DejaVuSans-Bold"}
CAP_HEIGHT_EM = 0.729
ELLIPSIS = "…"


@lru_cache(maxsize=2)
def registered_font(weight: Weight) -> str:
    """Name under which reportlab knows the bundled typeface of this weight; registers it on first use."""
    _widths(weight)
    return FONT_NAMES[weight]


@lru_cache(maxsize=2)
def _widths(weight: Weight) -> dict[int, float]:
    name = FONT_NAMES[weight]
    font = TTFont(name, str(shared_path(f"fonts/{name}.ttf")))
    pdfmetrics.registerFont(font)
    widths: dict[int, float] = font.face.charWidths
    return widths


def has_glyph(character: str) -> bool:
    """Whether both weights can draw this character."""
    return ord(character) in _widths("regular") and ord(character) in _widths("bold")


def stated(text: str, noun: str) -> str:
    """The text as it can be printed; where it is blank, that there is no data for this noun."""
    return printable(text, has_glyph) or f"{noun}: no data"


@lru_cache(maxsize=16384)
def width_em(text: str, weight: Weight) -> float:
    """Width of a line of text, [em]; text as `printable` leaves it."""
    widths = _widths(weight)
    return sum([widths[ord(each)] for each in text]) / 1000.0


def fit(text: str, weight: Weight, size: float, smallest: float, room: float) -> tuple[str, float, float]:
    """Text that stays within room: (text, size, width), all lengths in the unit of room.

    Shrinks from size down to smallest first, because a small word is still a word; only then cuts, with an ellipsis.
    """
    line = printable(text, has_glyph)
    width = width_em(line, weight)
    if width * size <= room:
        return line, size, width * size
    fitted = room / width
    if fitted >= smallest:
        return line, fitted, room
    return _cut(line, weight, smallest, room)


def fit_lines(text: str, weight: Weight, size: float, room: float, lines: int) -> list[tuple[str, float, float]]:
    """Text broken between words over at most so many lines at one size; the last line is cut where it must be."""
    words = printable(text, has_glyph).split(" ")
    filled: list[str] = []
    while words and len(filled) < lines - 1:
        count = len(words)
        while count > 1 and width_em(" ".join(words[:count]), weight) * size > room:
            count -= 1
        filled.append(" ".join(words[:count]))
        words = words[count:]
    if words:
        filled.append(" ".join(words))
    return [fit(line, weight, size, size, room) for line in filled]


def _cut(line: str, weight: Weight, size: float, room: float) -> tuple[str, float, float]:
    widths = _widths(weight)
    spent = widths[ord(ELLIPSIS)] / 1000.0 * size
    kept = 0
    for each in line:
        step = widths[ord(each)] / 1000.0 * size
        if spent + step > room:
            break
        spent += step
        kept += 1
    text = line[:kept].rstrip() + ELLIPSIS
    return text, size, min(width_em(text, weight) * size, room)
