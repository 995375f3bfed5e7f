"""Photos of the demo: small grey pictures of a tube in a fitting, and of valves."""

from __future__ import annotations

import math
import struct
import zlib

from .model import Dice


def png_bytes(number: int, width: int = 96, height: int = 64) -> bytes:
    """A grey picture of a tube in a fitting with its depth mark, stored without compression: its bytes never change."""
    dice = Dice("photo", number)
    middle, half, mouth = dice.whole(26, 38), dice.whole(8, 13), dice.whole(36, 56)
    rows = bytearray()
    for y in range(height):
        rows.append(0)
        for x in range(width):
            grow = 4 if x < mouth else 0
            across = abs(y - middle) / (half + grow)
            if across > 1:
                shade = 60 + (x * 7 + y * 3) % 9
            else:
                shade = 90 + int(140 * math.cos(across * math.pi / 2)) - (70 if x == mouth + 2 else 0)
            rows.append(max(0, min(255, shade)))
    return _png(struct.pack(">IIBBBBB", width, height, 8, 0, 0, 0, 0), bytes(rows))


def _png(header: bytes, rows: bytes) -> bytes:
    chunks = [(b"IHDR", header), (b"IDAT", _stored(rows)), (b"IEND", b"")]
    body = b"".join(
        struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data)) for kind, data in chunks
    )
    return b"\x89PNG\r\n\x1a\n" + body


def valve_picture(name: str, width: int = 96, height: int = 64) -> bytes:
    """A picture of four greys of a lever on a pipe, no two names alike."""
    dice = Dice("valve photo", name)
    middle, half, at, slope = dice.whole(24, 40), dice.whole(5, 10), dice.whole(30, 66), dice.between(-0.6, 0.6, 2)
    rows = bytearray()
    for y in range(height):
        rows.append(0)
        for first in range(0, width, 4):
            packed = 0
            for x in range(first, first + 4):
                pipe, lever = abs(y - middle) <= half, abs(x - at - slope * (y - middle)) <= 3 and y < middle + half
                dust = 1 if dice.chance(0.02) else 0
                packed = packed << 2 | min(3, 3 if lever else (2 if pipe else dust))
            rows.append(packed)
    return _png(struct.pack(">IIBBBBB", width, height, 2, 0, 0, 0, 0), bytes(rows))


def _stored(data: bytes) -> bytes:
    """Zlib's stored form: compressors of different versions write different bytes, this never does."""
    if len(data) > 0xFFFF:
        raise ValueError("a picture of the demo must fit one stored block")
    block = b"\x01" + struct.pack("<HH", len(data), len(data) ^ 0xFFFF) + data
    return b"\x78\x01" + block + struct.pack(">I", zlib.adler32(data))
