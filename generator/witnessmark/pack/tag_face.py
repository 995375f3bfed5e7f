"""What a tag says to somebody without a phone.

A face never carries a revision, a date or a person: the tag outlives all three.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Literal, get_args

FlowArrow = Literal["right", "left", "up", "down", "both", "none"]

_SRGB = re.compile(r"#[0-9A-Fa-f]{6}")
_CODE = re.compile(r"[0-9A-Z]{4,16}")


class UnreadableBandColour(ValueError):
    """A colour band whose colour is not written as #RRGGBB."""

    def __init__(self, name: str, srgb: str) -> None:
        super().__init__(
            f"The colour band {name!r} gives its colour as {srgb!r}; write it as #RRGGBB, for example #6A6C3C."
        )


class UnusableTagCode(ValueError):
    """A tag code that could not be a file name or be typed."""

    def __init__(self, code: str) -> None:
        super().__init__(
            f"The tag code {code!r} is not 4 to 16 of the characters A-Z and 0-9; let the tag register assign the code."
        )


class UnknownFlowArrow(ValueError):
    """An arrow that nobody can draw."""

    def __init__(self, code: str, arrow: str) -> None:
        super().__init__(f"Tag {code} has the flow arrow {arrow!r}; use one of {', '.join(get_args(FlowArrow))}.")


@dataclass(frozen=True, slots=True)
class Band:
    """One block of the colour band: the colour's name in words and its approximate sRGB value, '#RRGGBB'."""

    name: str
    srgb: str

    def __post_init__(self) -> None:
        if not _SRGB.fullmatch(self.srgb):
            raise UnreadableBandColour(self.name, self.srgb)


@dataclass(frozen=True, slots=True)
class TagFace:
    """The words, colours and address of one tag.

    code: tag code with its check character, no separators.  address: what the QR symbol holds, upper case.
    flow_words: where the flow goes to or comes from.  limits: pressure and temperature with units, or that there is
    no data.  duty: the number to call.  od_mm: outside diameter of the pipe, [mm]; None where the records do not say.
    """

    code: str
    address: str
    section_id: str
    section_name: str
    service: str
    flow_words: str
    flow_arrow: FlowArrow
    band: tuple[Band, ...]
    limits: str
    duty: str
    od_mm: float | None

    def __post_init__(self) -> None:
        if not _CODE.fullmatch(self.code):
            raise UnusableTagCode(self.code)
        if self.flow_arrow not in get_args(FlowArrow):
            raise UnknownFlowArrow(self.code, self.flow_arrow)


def typed_code(code: str) -> str:
    """The code as printed and read aloud: 'KM74XR2' gives 'KM7-4XR2'. The hyphen is no part of the code."""
    half = len(code) // 2
    return f"{code[:half]}-{code[half:]}"
