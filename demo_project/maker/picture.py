"""Photos of the demo: small grey pictures of a tube in a fitting."""

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
    header = struct.pack(">IIBBBBB", width, height, 8, 0, 0, 0, 0)
    chunks = [(b"IHDR", header), (b"IDAT", _stored(bytes(rows))), (b"IEND", b"")]
    body = b"".join(
        struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data)) for kind, data in chunks
    )
    return b"\x89PNG\r\n\x1a\n" + body


def _stored(data: bytes) -> bytes:
    """Zlib's stored form: compressors of different versions write different bytes, this never does."""
    if len(data) > 0xFFFF:
        raise ValueError("a picture of the demo must fit one stored block")
    block = b"\x01" + struct.pack("<HH", len(data), len(data) ^ 0xFFFF) + data
    return b"\x78\x01" + block + struct.pack(">I", zlib.adler32(data))
