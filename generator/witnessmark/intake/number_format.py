"""What a workbook's number format shows beside the stored number: per cent, a unit, leading zeros."""

from __future__ import annotations

import re
from functools import lru_cache

from witnessmark.intake.cell import cell_text
from witnessmark.intake.units import looks_like_unit

_LITERAL = re.compile(r'"([^"]*)"|\\(.)')
_ZEROS = re.compile(r"0{2,20}\Z")


def as_shown(value: int | float, number_format: str) -> int | float | str:
    """The number itself, or its text where the format shows per cent, a unit in words, or leading zeros.

    >>> as_shown(0.05, "0%"), as_shown(6.5, '0.0" bar"'), as_shown(14, "0000"), as_shown(14, "0.00")
    ('5%', '6.5 bar', '0014', 14)
    """
    kind, detail = _kind(number_format)
    if kind == "number":
        return value
    if kind == "percent":
        return f"{float(f'{value * 100:.12g}'):.12g}%"
    if kind == "zeros":
        return f"{int(value):0{detail}d}" if float(value).is_integer() and value >= 0 else value
    return f"{cell_text(value)} {detail}"


@lru_cache(maxsize=1024)
def _kind(number_format: str) -> tuple[str, str]:
    positive = number_format.split(";")[0]
    if positive == "General":
        return "number", ""
    literals = "".join(quoted or escaped for quoted, escaped in _LITERAL.findall(positive)).strip()
    bare = _LITERAL.sub("", positive).strip()
    if bare.endswith("%"):
        return "percent", ""
    if literals and looks_like_unit(literals):
        return "unit", literals
    if _ZEROS.match(bare) and not literals:
        return "zeros", str(len(bare))
    return "number", ""
