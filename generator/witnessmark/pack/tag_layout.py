"""Where everything on a tag stands, in millimetres from the top left corner. SVG and PDF draw the same marks.

A plate is one flat face. A flag is folded in the middle round a cable tie: symbol and code on the front, code and words
on the back. On a pipe of less than 54 mm a label wrapped round the tube bends the symbol too far, a flag stays flat.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import floor
from typing import Literal, NamedTuple

from witnessmark.pack.font_metrics import CAP_HEIGHT_EM, Weight, fit, fit_lines, stated
from witnessmark.pack.qr_symbol import QUIET_ZONE_MODULES, USUAL_MASK, Level, QrSymbol, dark_runs, qr_symbol
from witnessmark.pack.tag_face import Band, TagFace, typed_code

Form = Literal["plate", "flag"]
Anchor = Literal["start", "middle", "end"]

SMALLEST_MODULE_MM = 0.75
FLAG_BELOW_MM = 54.0
LABEL_WIDTH_MM = 90.0
LABEL_HEIGHT_MM = 50.0

INK = "#000000"
SOFT_INK = "#4D4D4D"
HAIRLINE = "#8C8C8C"
_MARGIN = 3.0
_TIE_ZONE = 6.0
_DESIGN_HEIGHT = 50.0  # the label height for which the type sizes below are drawn


class Rect(NamedTuple):
    """Upper left corner and extent, [mm]; fill and stroke '#RRGGBB' or None."""

    x: float
    y: float
    width: float
    height: float
    fill: str | None
    stroke: str | None


class Line(NamedTuple):
    """A hairline, dashed or not, [mm]."""

    x1: float
    y1: float
    x2: float
    y2: float
    dashed: bool


class Polygon(NamedTuple):
    """A closed filled shape, corners in [mm]."""

    points: tuple[tuple[float, float], ...]


class Text(NamedTuple):
    """One line of text: anchor point on the base line, size and width in [mm]."""

    x: float
    y: float
    text: str
    size: float
    weight: Weight
    anchor: Anchor
    width: float
    fill: str


class Symbol(NamedTuple):
    """A QR symbol: upper left corner of its first module and side of a module, [mm]; dark runs as `dark_runs` gives."""

    x: float
    y: float
    module: float
    symbol: QrSymbol
    runs: list[tuple[int, int, int]]


Mark = Rect | Line | Polygon | Text | Symbol


@dataclass(frozen=True, slots=True)
class TagDrawing:
    """One tag, ready to be written: extent in [mm] and its marks from back to front."""

    face: TagFace
    form: Form
    width: float
    height: float
    symbol: QrSymbol
    module: float
    marks: tuple[Mark, ...]


class LabelTooSmall(ValueError):
    """A label on which a module would be too small to read."""

    def __init__(self, form: Form, width: float, height: float, symbol: QrSymbol, module: float) -> None:
        super().__init__(
            f"A {form} of {width:g} x {height:g} mm leaves {module:.2f} mm for a module of a version {symbol.version} "
            f"QR symbol, less than {SMALLEST_MODULE_MM} mm; make the label larger or the address shorter."
        )


def form_for(od_mm: float | None) -> Form:
    """The form for a pipe of this outside diameter, [mm].

    A flag reads on any pipe, so it also serves where no size is recorded.
    """
    return "plate" if od_mm is not None and od_mm >= FLAG_BELOW_MM else "flag"


def draw_tag(
    face: TagFace,
    form: Form | None = None,
    width: float = LABEL_WIDTH_MM,
    height: float = LABEL_HEIGHT_MM,
    level: Level = "Q",
    mask: int | None = USUAL_MASK,
) -> TagDrawing:
    """Lay one tag out on a label of width x height, [mm]. form None takes the form that suits the pipe.

    Raises LabelTooSmall, or what `qr_symbol` raises.
    """
    chosen = form or form_for(face.od_mm)
    symbol = qr_symbol(face.address, level, mask)
    draw = _plate if chosen == "plate" else _flag
    module, marks = draw(face, symbol, width, height)
    return TagDrawing(face, chosen, width, height, symbol, module, tuple(marks))


def _module_size(form: Form, symbol: QrSymbol, room: float, width: float, height: float) -> float:
    exact = room / (symbol.size + 2 * QUIET_ZONE_MODULES)
    # Steps of 0.05 mm: a printed size that can be checked with a rule, and paths without long fractions.
    module = floor(exact * 20 + 1e-9) / 20
    if module < SMALLEST_MODULE_MM:
        raise LabelTooSmall(form, width, height, symbol, exact)
    return module


def _plate(face: TagFace, symbol: QrSymbol, width: float, height: float) -> tuple[float, list[Mark]]:
    scale = height / _DESIGN_HEIGHT
    band_top = height - 6.5 * scale
    module = _module_size("plate", symbol, min(band_top, width * 0.43), width, height)
    block = (symbol.size + 2 * QUIET_ZONE_MODULES) * module
    inset = QUIET_ZONE_MODULES * module
    marks: list[Mark] = [Symbol(inset, (band_top - block) / 2 + inset, module, symbol, dark_runs(symbol))]
    left = block + 1.0 * scale
    marks += _words(face, left, 0.0, width - left - _MARGIN, scale)
    marks += _band(face.band, 0.0, band_top, width, height - band_top)
    return module, marks


def _flag(face: TagFace, symbol: QrSymbol, width: float, height: float) -> tuple[float, list[Mark]]:
    scale = height / _DESIGN_HEIGHT
    half = (width - _TIE_ZONE) / 2
    back = half + _TIE_ZONE
    band_top = height - 5.5 * scale
    code_room = 7.0 * scale
    module = _module_size("flag", symbol, min(half, band_top - code_room), width, height)
    block = (symbol.size + 2 * QUIET_ZONE_MODULES) * module
    inset = QUIET_ZONE_MODULES * module
    marks: list[Mark] = [
        Symbol(
            (half - block) / 2 + inset, (band_top - code_room - block) / 2 + inset, module, symbol, dark_runs(symbol)
        )
    ]
    # Capitals of this size end where the quiet zone begins.
    code, size, code_width = fit(typed_code(face.code), "bold", 6.6 * scale, 1.0, half - 2 * _MARGIN)
    marks.append(Text(half / 2, band_top - 2.0 * scale, code, size, "bold", "middle", code_width, INK))
    marks += _band(face.band, 0.0, band_top, half, height - band_top)
    for x in (half, width / 2, back):
        marks.append(Line(x, 0.0, x, height, dashed=True))
    marks += _words(face, back + _MARGIN, 0.0, half - 2 * _MARGIN, band_top / 43.5)
    marks += _band(face.band, back, band_top, half, height - band_top)
    return module, marks


def _words(face: TagFace, left: float, top: float, room: float, scale: float) -> list[Mark]:
    """The words of a face, top to bottom: what to type, which section, what flows, its limits, whom to call."""
    marks: list[Mark] = []

    def line(text: str, baseline: float, size: float, weight: Weight, *, fill: str = INK, width: float = room) -> None:
        # A service cut short could be another: 'return' must stand whole, however small.
        shown, fitted, length = fit(text, weight, size * scale, size * scale * 0.5, width)
        marks.append(Text(left, top + baseline * scale, shown, fitted, weight, "start", length, fill))

    code, size, length = fit(typed_code(face.code), "bold", 8.6 * scale, 1.0, room)
    marks.append(Text(left, top + 9.8 * scale, code, size, "bold", "start", length, INK))
    marks.append(Line(left, top + 11.9 * scale, left + room, top + 11.9 * scale, dashed=False))
    line(stated(face.section_id, "section"), 17.2, 5.0, "bold")
    name = fit_lines(face.section_name, "regular", 2.7 * scale, room, 2) if face.section_name.strip() else []
    for index, (text, fitted, length) in enumerate(name):
        marks.append(Text(left, top + (20.8 + 3.2 * index) * scale, text, fitted, "regular", "start", length, SOFT_INK))
    arrow_room = 9.0 * scale if face.flow_arrow != "none" else 0.0
    line(stated(face.service, "service"), 29.0, 3.7, "bold", width=room - arrow_room)
    line(stated(face.flow_words, "flow"), 32.5, 2.7, "regular", width=room - arrow_room)
    if arrow_room:
        marks.append(_arrow(face, left + room - 4.2 * scale, top + 29.6 * scale, 4.2 * scale))
    line(stated(face.limits, "limits"), 37.2, 3.7, "bold")
    duty = stated(face.duty, "call")
    line(duty if duty == "call: no data" else f"Call {duty}", 41.0, 2.9, "regular")
    return marks


_ARROWS: dict[str, tuple[tuple[float, float], ...]] = {
    "right": ((-1, -0.28), (0.1, -0.28), (0.1, -0.75), (1, 0), (0.1, 0.75), (0.1, 0.28), (-1, 0.28)),
    "both": (
        (-1, 0), (-0.25, -0.7), (-0.25, -0.26), (0.25, -0.26), (0.25, -0.7),
        (1, 0), (0.25, 0.7), (0.25, 0.26), (-0.25, 0.26), (-0.25, 0.7),
    ),
}  # fmt: skip
_ARROWS["left"] = tuple((-x, y) for x, y in _ARROWS["right"])
_ARROWS["down"] = tuple((y, x) for x, y in _ARROWS["right"])
_ARROWS["up"] = tuple((y, -x) for x, y in _ARROWS["right"])


def _arrow(face: TagFace, x: float, y: float, reach: float) -> Polygon:
    return Polygon(tuple([(x + reach * dx, y + reach * dy) for dx, dy in _ARROWS[face.flow_arrow]]))


def _band(band: Sequence[Band], left: float, top: float, width: float, height: float) -> list[Mark]:
    """Equal blocks of colour with the colour's name inside: the name identifies, the colour repeats it."""
    blocks = band or (Band("", "#FFFFFF"),)
    step = width / len(blocks)
    marks: list[Mark] = []
    for index, block in enumerate(blocks):
        x = left + index * step
        marks.append(Rect(x, top, step, height, block.srgb, HAIRLINE))
        ink = _ink_on(block.srgb)
        for name, baseline, size, length in _colour_name(stated(block.name, "colour"), height, step - 0.8):
            marks.append(Text(x + step / 2, top + baseline, name, size, "bold", "middle", length, ink))
    return marks


def _colour_name(name: str, height: float, room: float) -> list[tuple[str, float, float, float]]:
    """A colour's name in its block, as (text, base line from the top of the block, size, width) of one or two lines.

    A cut name could be another colour, so a name of several words takes two lines before anything is cut.
    """
    text, size, length = fit(name, "bold", height * 0.5, height * 0.38, room)
    parts = name.replace("-", "- ").split(maxsplit=1)
    if text == name or len(parts) == 1:
        text, size, length = fit(name, "bold", height * 0.5, height * 0.25, room)
        return [(text, height / 2 + size * CAP_HEIGHT_EM / 2, size, length)]
    lines = [fit(part.replace("- ", "-"), "bold", height * 0.36, height * 0.24, room) for part in parts]
    return [(part, height * (0.43 + 0.42 * row), size, length) for row, (part, size, length) in enumerate(lines)]


def _ink_on(srgb: str) -> str:
    """Black or white, whichever contrasts more with the ground (WCAG 2 relative luminance)."""
    red, green, blue = (_linear(int(srgb[at : at + 2], 16) / 255) for at in (1, 3, 5))
    luminance = 0.2126 * red + 0.7152 * green + 0.0722 * blue
    return "#000000" if (luminance + 0.05) / 0.05 >= 1.05 / (luminance + 0.05) else "#FFFFFF"


def _linear(channel: float) -> float:
    return channel / 12.92 if channel <= 0.04045 else float(((channel + 0.055) / 1.055) ** 2.4)
