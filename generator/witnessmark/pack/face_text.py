"""Text as it can be printed: what would leave no ink, or the wrong ink, is settled before any width is measured."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable
from functools import lru_cache

BOX = "□"

_BLANKS = re.compile(r"\s+")
# They shape or join their neighbours and print nothing themselves: soft hyphen, zero-width characters, byte order
# mark, variation selectors.
_INKLESS = re.compile("[\u00ad\u200b-\u200d\u2060\ufe00-\ufe0f\ufeff]")


def printable(text: str, has_glyph: Callable[[str], bool]) -> str:
    """One line of text that can be set in a font: blanks collapsed, control and direction marks shown as a box.

    Direction marks are shown instead of obeyed, because an unseen one can reverse a number on a tag. Characters for
    which has_glyph is false become the same box, so that a reader sees that something stood there.
    """
    line = _BLANKS.sub(" ", text).strip()
    if line.isascii() and line.isprintable():
        return line
    return _with_boxes(line, has_glyph)


@lru_cache(maxsize=4096)
def _with_boxes(line: str, has_glyph: Callable[[str], bool]) -> str:
    composed = unicodedata.normalize("NFC", _INKLESS.sub("", line))
    return "".join(
        BOX if unicodedata.category(each).startswith("C") or not has_glyph(each) else each for each in composed
    )
