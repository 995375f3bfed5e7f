"""QR symbols of tag addresses (ISO/IEC 18004), by the qrcode library: alphanumeric, or numeric for digits alone."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from qrcode import QRCode
from qrcode.constants import ERROR_CORRECT_H, ERROR_CORRECT_L, ERROR_CORRECT_M, ERROR_CORRECT_Q
from qrcode.exceptions import DataOverflowError
from qrcode.util import MODE_ALPHA_NUM, MODE_NUMBER, QRData

Level = Literal["L", "M", "Q", "H"]

QUIET_ZONE_MODULES = 4  # ISO/IEC 18004: four modules on every side
ALPHANUMERIC = frozenset("0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:")
# ISO/IEC 18004 lets the encoder choose the mask by a penalty score, which costs seven times the whole encoding
# (4.4 ms against 0.6 ms). The mask is written in the symbol, so any decoder reads any of the eight.
USUAL_MASK = 2

_LEVELS: dict[str, int] = {"L": ERROR_CORRECT_L, "M": ERROR_CORRECT_M, "Q": ERROR_CORRECT_Q, "H": ERROR_CORRECT_H}


class NotAlphanumeric(ValueError):
    """An address that would need a denser mode and so a larger symbol."""

    def __init__(self, text: str, character: str) -> None:
        super().__init__(
            f"The tag address {text!r} holds {character!r}, which the alphanumeric mode of a QR symbol cannot carry; "
            "write the address in upper case with only letters, digits and $ % * + - . / : in it."
        )


class AddressTooLong(ValueError):
    """An address that no QR symbol holds."""

    def __init__(self, length: int, level: str) -> None:
        super().__init__(
            f"A tag address has {length} characters, more than a QR symbol of level {level} holds; "
            "use a shorter host or path."
        )


class UnknownLevel(ValueError):
    """An error correction level that is none of the four."""

    def __init__(self, level: str) -> None:
        super().__init__(f"The QR error correction level {level!r} is not one of L, M, Q, H.")


@dataclass(frozen=True, slots=True)
class QrSymbol:
    """One symbol without its quiet zone: rows from the top, True where a module is dark."""

    text: str
    level: Level
    version: int
    rows: tuple[tuple[bool, ...], ...]

    @property
    def size(self) -> int:
        """Modules along one side, quiet zone not counted."""
        return len(self.rows)


def qr_symbol(text: str, level: Level = "Q", mask: int | None = USUAL_MASK) -> QrSymbol:
    """The smallest symbol for text at this level. mask None leaves the choice to the penalty score.

    Raises NotAlphanumeric, AddressTooLong or UnknownLevel, each with a sentence that says what would fix it.
    """
    if level not in _LEVELS:
        raise UnknownLevel(level)
    for character in text:
        if character not in ALPHANUMERIC:
            raise NotAlphanumeric(text, character)
    digits = text.isdigit()
    code = QRCode(_version(len(text), digits, level), _LEVELS[level], border=0, mask_pattern=mask)
    code.add_data(
        QRData(text.encode("ascii"), mode=MODE_NUMBER if digits else MODE_ALPHA_NUM, check_data=False), optimize=0
    )
    code.make(fit=False)
    return QrSymbol(text, level, code.version, tuple([tuple(row) for row in code.modules]))


# The tags of a project have addresses of one length, so the search for the smallest version is done once.
@lru_cache(maxsize=256)
def _version(length: int, digits: bool, level: Level) -> int:
    code = QRCode(error_correction=_LEVELS[level])
    code.add_data(QRData(b"0" * length, mode=MODE_NUMBER if digits else MODE_ALPHA_NUM, check_data=False), optimize=0)
    try:
        return int(code.best_fit(start=1))
    # The library looks the version up before it counts, so text beyond version 40 shows as either of the two.
    except (DataOverflowError, ValueError) as failure:
        raise AddressTooLong(length, level) from failure


_DARK = re.compile(b"\x01+")


def dark_runs(symbol: QrSymbol) -> list[tuple[int, int, int]]:
    """Horizontal runs of dark modules as (column, row, length), row by row."""
    # A light module between the rows keeps a run from going on in the next one.
    line = b"\x00".join([bytes(row) for row in symbol.rows])
    step = symbol.size + 1
    return [(at.start() % step, at.start() // step, at.end() - at.start()) for at in _DARK.finditer(line)]
