"""Which error correction level reads best at equal printed width.

A higher level repairs more but needs more modules, so at one printed width each module is smaller. This renders the
same tag addresses at every level, 25 mm wide without the quiet zone, spoils each picture in the ways a plant room does,
and counts what zxing-cpp reads. Seeded: two runs print the same table.

    python tests/benchmarks/qr_level_measure.py [--codes 12] [--width-mm 25] [--pixels-per-mm 6]
"""

from __future__ import annotations

import argparse
from collections.abc import Callable, Iterator
from math import pi
from typing import Any, get_args

import numpy as np
import zxingcpp
from numpy.typing import NDArray
from PIL import Image, ImageDraw, ImageFilter

from witnessmark.pack.qr_symbol import Level, qr_symbol

Picture = Image.Image
Distortion = Callable[[Picture, float, np.random.Generator], Picture]

ALPHABET = "2346789FHKLMRTWXY"
STRENGTHS = tuple(step / 10 for step in range(1, 11))
TUBES_MM = (22.0, 28.0, 35.0, 42.0, 54.0, 108.0)
CYLINDER_TURNS_DEG = (-15.0, -10.0, -5.0, 0.0, 5.0, 10.0, 15.0)


def printed(text: str, level: Level, width_mm: float, pixels_per_mm: float) -> tuple[Picture, float]:
    """The symbol on white with room around it; (picture, side of a module in pixels)."""
    rows = np.pad(np.array(qr_symbol(text, level).rows), 4)
    module = width_mm * pixels_per_mm / (len(rows) - 8)
    fine = np.kron(np.where(rows, 0, 255).astype(np.uint8), np.ones((16, 16), np.uint8))
    side = round(len(rows) * module)
    symbol = Image.fromarray(fine).resize((side, side), Image.Resampling.BOX)
    room = round(12 * pixels_per_mm)
    sheet = Image.new("L", (side + 2 * room, side + 2 * room), 235)
    sheet.paste(symbol, (room, room))
    return sheet, module


def blur(picture: Picture, strength: float, _: np.random.Generator) -> Picture:
    return picture.filter(ImageFilter.GaussianBlur(strength * 4.0))


def rotation(picture: Picture, strength: float, rng: np.random.Generator) -> Picture:
    turned = picture.rotate(float(rng.uniform(5, 85)), Image.Resampling.BICUBIC, expand=True, fillcolor=235)
    return turned.filter(ImageFilter.GaussianBlur(strength * 4.0))


def perspective(picture: Picture, strength: float, rng: np.random.Generator) -> Picture:
    """Seen aslant: the far edge is narrower and lower than the near one."""
    width, height = picture.size
    narrow = strength * 0.35 * width
    target = [
        (narrow, 0.0),
        (width - narrow, 0.0),
        (width, height * (1 - 0.75 * strength)),
        (0.0, height * (1 - 0.75 * strength)),
    ]
    quarter_turns = int(rng.integers(4))
    source = [(0.0, 0.0), (width, 0.0), (width, height), (0.0, height)]
    turned = picture.rotate(90 * quarter_turns)
    return turned.transform(
        picture.size, Image.Transform.PERSPECTIVE, homography(target, source), Image.Resampling.BICUBIC, fillcolor=235
    )


def homography(at: list[tuple[float, float]], source: list[tuple[float, float]]) -> list[float]:
    lines: list[list[float]] = []
    for (x, y), (u, v) in zip(at, source, strict=True):
        lines.append([x, y, 1, 0, 0, 0, -u * x, -u * y])
        lines.append([0, 0, 0, x, y, 1, -v * x, -v * y])
    values = [value for corner in source for value in corner]
    return [float(value) for value in np.linalg.solve(np.array(lines), np.array(values))]


def dirt(picture: Picture, strength: float, rng: np.random.Generator) -> Picture:
    """Dark and light blobs over up to a twentieth of the symbol."""
    spoiled = picture.copy()
    pen = ImageDraw.Draw(spoiled)
    side = picture.size[0]
    low, high = side * 0.22, side * 0.78
    covered, goal = 0.0, 0.05 * strength * (high - low) ** 2
    while covered < goal:
        radius = float(rng.uniform(0.006, 0.02)) * side
        x, y = rng.uniform(low, high, 2)
        pen.ellipse((x - radius, y - radius, x + radius, y + radius), fill=int(rng.choice([30, 225])))
        covered += pi * radius**2
    return spoiled


def lost_finder(picture: Picture, strength: float, rng: np.random.Generator) -> Picture:
    """One of the three finder corners is scratched off, from a quarter of it to all of it."""
    from_left, from_top = [(0, 0), (1, 0), (0, 1)][int(rng.integers(3))]
    dark = np.flatnonzero((np.asarray(picture) < 60).any(axis=0))
    first, last = int(dark[0]), int(dark[-1])
    reach = (last - first) * 0.26 * strength
    x = last - reach if from_left else first
    y = last - reach if from_top else first
    spoiled = picture.copy()
    ImageDraw.Draw(spoiled).rectangle((x - 1, y - 1, x + reach + 1, y + reach + 1), fill=235)
    return spoiled


def wrapped(picture: Picture, tube_mm: float, turn_deg: float, pixels_per_mm: float) -> Picture:
    """Wrapped round a tube and seen from far: what lies at an angle is narrower, what lies behind is hidden."""
    pixels = np.asarray(picture)
    radius = tube_mm / 2 * pixels_per_mm
    x = np.arange(-int(radius), int(radius) + 1)
    along = radius * (np.arcsin(np.clip(x / radius, -1, 1)) + np.radians(turn_deg)) + pixels.shape[1] / 2
    column = np.round(along).astype(int)
    seen = (column >= 0) & (column < pixels.shape[1])
    view = np.full((pixels.shape[0], len(x)), 235, np.uint8)
    view[:, seen] = pixels[:, column[seen]]
    shade = 1 - 0.5 * (x / radius) ** 4
    return Image.fromarray(np.pad((view * shade).astype(np.uint8), ((0, 0), (40, 40)), constant_values=120))


FLAT: dict[str, Distortion] = {
    "blur": blur,
    "rotation with blur": rotation,
    "seen aslant": perspective,
    "dirt": dirt,
    "lost finder corner": lost_finder,
}


def spoiled_pictures(
    text: str, level: Level, seed: int, width_mm: float, pixels_per_mm: float
) -> Iterator[tuple[str, Picture]]:
    """Every distortion of one code. Every level meets the same random numbers."""
    picture, _ = printed(text, level, width_mm, pixels_per_mm)
    for number, (name, distort) in enumerate(FLAT.items()):
        for step, strength in enumerate(STRENGTHS):
            yield name, distort(picture, strength, np.random.default_rng([seed, number, step]))
    for tube in TUBES_MM:
        for turn in CYLINDER_TURNS_DEG:
            yield f"round {tube:g} mm", wrapped(picture, tube, turn, pixels_per_mm)


def is_read(picture: Picture, text: str) -> bool:
    pixels: NDArray[Any] = np.asarray(picture)
    return any(read.text == text for read in zxingcpp.read_barcodes(pixels, formats=zxingcpp.BarcodeFormat.QRCode))


def main() -> None:
    parser = argparse.ArgumentParser(description="QR read rates by error correction level at equal printed width")
    parser.add_argument("--codes", type=int, default=12)
    parser.add_argument("--width-mm", type=float, default=25.0)
    parser.add_argument("--pixels-per-mm", type=float, default=6.0)
    options = parser.parse_args()
    rng = np.random.default_rng(18004)
    texts = [
        f"HTTPS://HANDOVER.QUARRYWHARF.EXAMPLE/T/{''.join(rng.choice(list(ALPHABET), 7))}/"
        for _ in range(options.codes)
    ]
    levels = get_args(Level)
    rates: dict[str, dict[str, list[bool]]] = {}
    for level in levels:
        for seed, text in enumerate(texts):
            for name, picture in spoiled_pictures(text, level, seed, options.width_mm, options.pixels_per_mm):
                rates.setdefault(name, {}).setdefault(level, []).append(is_read(picture, text))
    symbols = {level: qr_symbol(texts[0], level) for level in levels}
    print(
        f"{options.codes} codes, {options.width_mm:g} mm wide, {options.pixels_per_mm:g} pixels a mm, read by zxing-cpp"
    )
    print(f"{'':22}" + "".join(f"{level:>8}" for level in levels))
    print(f"{'version':22}" + "".join(f"{symbols[level].version:8d}" for level in levels))
    print(f"{'module, mm':22}" + "".join(f"{options.width_mm / symbols[level].size:8.2f}" for level in levels))
    for name, by_level in rates.items():
        print(f"{name:22}" + "".join(f"{100 * np.mean(by_level[level]):7.0f}%" for level in levels))
    for title, chosen in (("all flat", list(FLAT)), ("all round", [name for name in rates if name not in FLAT])):
        means = [100 * np.mean([np.mean(rates[name][level]) for name in chosen]) for level in levels]
        print(f"{title:22}" + "".join(f"{mean:7.0f}%" for mean in means))


if __name__ == "__main__":
    main()
