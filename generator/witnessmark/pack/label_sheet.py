"""Sheets of labels as PDF: vector marks and text only, the same bytes for the same tags."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from itertools import islice
from pathlib import Path
from typing import Any

from reportlab import rl_config
from reportlab.lib.colors import HexColor
from reportlab.pdfgen.canvas import Canvas
from reportlab.pdfgen.pathobject import PDFPathObject

from witnessmark.pack.face_text import printable
from witnessmark.pack.font_metrics import fit, has_glyph, registered_font
from witnessmark.pack.sheet_layout import SheetLayout
from witnessmark.pack.tag_layout import HAIRLINE, INK, SOFT_INK, Line, Mark, Polygon, Rect, Symbol, TagDrawing, Text

MM = 72.0 / 25.4
USUAL_VERSION = 3
_FOOTER_MM = 8.0
_TICK_CLEARANCE_MM = 5.0
_HAIRLINE_MM = 0.15


class LabelSizeDiffers(ValueError):
    """A tag drawn for another label than the sheet holds."""

    def __init__(self, drawing: TagDrawing, layout: SheetLayout) -> None:
        super().__init__(
            f"Tag {drawing.face.code} was drawn {drawing.width:g} x {drawing.height:g} mm for a sheet of labels "
            f"{layout.label_width_mm:g} x {layout.label_height_mm:g} mm; draw it at the size of the sheet's labels."
        )


@dataclass(slots=True)
class SheetReport:
    """What was printed: labels, sheets, and the QR versions above 3 with the number of tags that need them."""

    labels: int = 0
    sheets: int = 0
    larger_versions: dict[int, int] = field(default_factory=dict)


def write_label_sheets(
    path: Path, drawings: Iterable[TagDrawing], layout: SheetLayout, title: str = "Tag labels"
) -> SheetReport:
    """Print the tags on sheets in their order. Drawings may be a generator: each is forgotten once it is printed.

    The PDF carries no clock: its dates are those reportlab writes for files that must not change, 1 January 2000.
    Without tags the file holds one sheet that says so. Raises LabelSizeDiffers.
    """
    report = SheetReport()
    stream = iter(drawings)
    with _binary_streams():
        canvas = Canvas(
            str(path),
            pagesize=(layout.width_mm * MM, layout.height_mm * MM),
            pageCompression=1,
            invariant=1,
            initialFontName=registered_font("regular"),
            lang="en-GB",
        )
        canvas.setTitle(printable(title, has_glyph))
        canvas.setAuthor("")
        canvas.setSubject("QR tags for pipe sections")
        canvas.setCreator("Witnessmark")
        canvas.setProducer("Witnessmark")
        while sheet := list(islice(stream, layout.labels_a_sheet)):
            report.sheets += 1
            _print_sheet(canvas, sheet, layout, report)
        if not report.sheets:
            canvas.scale(MM, MM)
            pen = _Pen(canvas, layout.height_mm)
            pen.draw(Text(15, 25, "No tags to print.", 4.0, "regular", "start", 0.0, SOFT_INK))
            pen.finish()
            canvas.showPage()
        canvas.save()
    return report


@contextmanager
def _binary_streams() -> Iterator[None]:
    """Pages as compressed bytes: reportlab's usual wrapping of them in ASCII costs a fifth of time and size."""
    before = rl_config.useA85
    rl_config.useA85 = 0
    try:
        yield
    finally:
        rl_config.useA85 = before


def _print_sheet(canvas: Any, sheet: list[TagDrawing], layout: SheetLayout, report: SheetReport) -> None:
    canvas.scale(MM, MM)
    canvas.setLineWidth(_HAIRLINE_MM)
    pen = _Pen(canvas, layout.height_mm)
    for index, drawing in enumerate(sheet):
        if (drawing.width, drawing.height) != (layout.label_width_mm, layout.label_height_mm):
            raise LabelSizeDiffers(drawing, layout)
        left, top = layout.corner(layout.place(index))
        for mark in drawing.marks:
            pen.draw(mark, left, top)
        report.labels += 1
        if drawing.symbol.version > USUAL_VERSION:
            report.larger_versions[drawing.symbol.version] = report.larger_versions.get(drawing.symbol.version, 0) + 1
    if layout.cut_marks:
        pen.lines(layout.cut_lines(), HAIRLINE)
    _footer(pen, sheet, layout, report.sheets)
    pen.finish()
    canvas.showPage()


def _footer(pen: _Pen, sheet: list[TagDrawing], layout: SheetLayout, number: int) -> None:
    if layout.height_mm - layout.bottom_mm < _FOOTER_MM + _TICK_CLEARANCE_MM:
        return
    base = layout.height_mm - _FOOTER_MM
    left, right = layout.margin_left_mm, layout.right_mm
    has_rule = right - left > 114.0
    room = right - left - (54.0 if has_rule else 0.0)
    first = f"Sheet {number}. Print at 100 %, not fitted to the page."
    if any(drawing.form == "flag" for drawing in sheet):
        first += " Fold flags on the middle line round a cable tie, faces outwards."
    for row, words in enumerate((first, _symbols_in_words(sheet))):
        shown, size, length = fit(words, "regular", 2.3, 1.6, room)
        pen.draw(Text(left, base + 3.2 * row, shown, size, "regular", "start", length, SOFT_INK))
    if has_rule:
        start = right - 50.0
        pen.lines([(start, base, right, base), *[(x, base - 1, x, base + 1) for x in (start, right)]], SOFT_INK)
        words = "Check of scale: this line is 50 mm long."
        pen.draw(Text(start, base + 3.2, words, 2.3, "regular", "start", 0.0, SOFT_INK))


def _symbols_in_words(sheet: list[TagDrawing]) -> str:
    kinds = sorted({(drawing.symbol.version, drawing.symbol.level, drawing.module) for drawing in sheet})
    words = (
        "; ".join([f"QR version {version}, level {level}, module {module:.2f} mm" for version, level, module in kinds])
        + "."
    )
    if kinds[-1][0] > USUAL_VERSION:
        words += " The address is long: a host of up to 28 characters and no path keeps level Q at version 3."
    return words


class _Pen:
    """Draws marks on a reportlab canvas that is scaled to millimetres; y counts down from the top of the page.

    Paths are written as operators here, since reportlab formats each number on its own, which took half the time of a
    sheet; colours are set only where they change.
    """

    def __init__(self, canvas: Any, page_height: float) -> None:
        self._canvas = canvas
        self._page = page_height
        self._fill = ""
        self._stroke = ""
        self._words = canvas.beginText()
        self._ink = ""

    def finish(self) -> None:
        """Write the words, above everything drawn so far: one text object a page, since each is slow to open."""
        self._canvas.drawText(self._words)

    def draw(self, mark: Mark, left: float = 0.0, top: float = 0.0) -> None:
        """One mark, its coordinates counted from left and top, [mm]."""
        base = self._page - top
        match mark:
            case Text(x, y, text, size, weight, anchor, width, fill):
                start = left + x - {"start": 0.0, "middle": width / 2, "end": width}[anchor]
                self._words.setFont(registered_font(weight), size)
                if fill != self._ink:
                    self._words.setFillColor(HexColor(fill))
                    self._ink = fill
                self._words.setTextOrigin(start, base - y)
                self._words.textOut(text)
            case Rect(x, y, width, height, fill_or_none, stroke):
                self._path(
                    fill_or_none, stroke, [f"{left + x:.3f} {base - y - height:.3f} {width:.3f} {height:.3f} re"]
                )
            case Line(x1, y1, x2, y2, dashed):
                self._canvas.setDash([1, 1] if dashed else [])
                self.lines([(left + x1, top + y1, left + x2, top + y2)], HAIRLINE)
                self._canvas.setDash([])
            case Polygon(points):
                corners = [f"{left + x:.3f} {base - y:.3f} l" for x, y in points]
                self._path(INK, None, [corners[0][:-1] + "m", *corners[1:], "h"])
            case Symbol(x, y, module, _, runs):
                self._canvas.saveState()
                # Whole modules in the path and the size in the matrix: a third of the bytes, and no gaps between rows.
                self._canvas.transform(module, 0, 0, -module, left + x, base - y)
                self._path(INK, None, [f"{column} {row} {length} 1 re" for column, row, length in runs])
                self._canvas.restoreState()
                self._fill = ""

    def lines(self, lines: Iterable[tuple[float, float, float, float]], stroke: str) -> None:
        """Straight lines (x1, y1, x2, y2) from the top left of the page, [mm]."""
        self._path(
            None, stroke, [f"{a:.3f} {self._page - b:.3f} m {c:.3f} {self._page - d:.3f} l" for a, b, c, d in lines]
        )

    def _path(self, fill: str | None, stroke: str | None, operators: list[str]) -> None:
        self._colours(fill, stroke)
        path = PDFPathObject(["n", *operators])
        self._canvas.drawPath(path, stroke=int(stroke is not None), fill=int(fill is not None))

    def _colours(self, fill: str | None, stroke: str | None) -> None:
        if fill is not None and fill != self._fill:
            self._canvas.setFillColor(HexColor(fill))
            self._fill = fill
        if stroke is not None and stroke != self._stroke:
            self._canvas.setStrokeColor(HexColor(stroke))
            self._stroke = stroke
