"""Sheets of labels as PDF: vector marks and text only, the same bytes for the same tags."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from itertools import islice
from pathlib import Path
from typing import Any

from reportlab.lib.colors import Color
from reportlab.pdfgen.canvas import Canvas
from reportlab.pdfgen.pathobject import PDFPathObject

from witnessmark.pack.face_text import printable
from witnessmark.pack.font_metrics import fit, has_glyph, registered_font
from witnessmark.pack.qr_symbol import dark_runs
from witnessmark.pack.sheet_layout import SheetLayout
from witnessmark.pack.tag_layout import HAIRLINE, SOFT_INK, Line, Mark, Polygon, Rect, Symbol, TagDrawing, Text

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
    report = SheetReport()
    stream = iter(drawings)
    while sheet := list(islice(stream, layout.labels_a_sheet)):
        report.sheets += 1
        _print_sheet(canvas, sheet, layout, report)
    if not report.sheets:
        canvas.scale(MM, MM)
        _text(
            canvas,
            layout.height_mm,
            Text(15, 25, "No tags to print.", 4.0, "regular", "start", 0.0, SOFT_INK),
            0.0,
            0.0,
        )
        canvas.showPage()
    canvas.save()
    return report


def _print_sheet(canvas: Any, sheet: list[TagDrawing], layout: SheetLayout, report: SheetReport) -> None:
    canvas.scale(MM, MM)
    canvas.setLineWidth(_HAIRLINE_MM)
    for index, drawing in enumerate(sheet):
        if (drawing.width, drawing.height) != (layout.label_width_mm, layout.label_height_mm):
            raise LabelSizeDiffers(drawing, layout)
        left, top = layout.corner(layout.place(index))
        for mark in drawing.marks:
            _mark(canvas, layout.height_mm, mark, left, top)
        report.labels += 1
        if drawing.symbol.version > USUAL_VERSION:
            report.larger_versions[drawing.symbol.version] = report.larger_versions.get(drawing.symbol.version, 0) + 1
    if layout.cut_marks:
        canvas.setStrokeColor(_colour(HAIRLINE))
        canvas.lines([(x1, layout.height_mm - y1, x2, layout.height_mm - y2) for x1, y1, x2, y2 in layout.cut_lines()])
    _footer(canvas, sheet, layout, report.sheets)
    canvas.showPage()


def _footer(canvas: Any, sheet: list[TagDrawing], layout: SheetLayout, number: int) -> None:
    if layout.height_mm - layout.bottom_mm < _FOOTER_MM + _TICK_CLEARANCE_MM:
        return
    base = layout.height_mm - _FOOTER_MM
    rule_left, rule_right = layout.right_mm - 50.0, layout.right_mm
    room = rule_left - layout.margin_left_mm - 4.0 if rule_left - layout.margin_left_mm > 60.0 else 0.0
    first = f"Sheet {number}. Print at 100 %, not fitted to the page."
    if any(drawing.form == "flag" for drawing in sheet):
        first += " Fold flags on the middle line round a cable tie, faces outwards."
    for row, words in enumerate((first, _symbols_in_words(sheet))):
        shown, size, length = fit(words, "regular", 2.3, 1.6, room or layout.right_mm - layout.margin_left_mm)
        _text(
            canvas,
            layout.height_mm,
            Text(layout.margin_left_mm, base + 3.2 * row, shown, size, "regular", "start", length, SOFT_INK),
            0,
            0,
        )
    if room:
        canvas.setStrokeColor(_colour(SOFT_INK))
        y = layout.height_mm - base
        canvas.lines(
            [
                (rule_left, y, rule_right, y),
                (rule_left, y - 1, rule_left, y + 1),
                (rule_right, y - 1, rule_right, y + 1),
            ]
        )
        words = "Check of scale: this line is 50 mm long."
        _text(
            canvas, layout.height_mm, Text(rule_left, base + 3.2, words, 2.3, "regular", "start", 0.0, SOFT_INK), 0, 0
        )


def _symbols_in_words(sheet: list[TagDrawing]) -> str:
    kinds = sorted({(drawing.symbol.version, drawing.symbol.level, drawing.module) for drawing in sheet})
    words = (
        "; ".join([f"QR version {version}, level {level}, module {module:.2f} mm" for version, level, module in kinds])
        + "."
    )
    if kinds[-1][0] > USUAL_VERSION:
        words += " The address is long: a host of up to 28 characters and no path keeps level Q at version 3."
    return words


def _mark(canvas: Any, page: float, mark: Mark, left: float, top: float) -> None:
    match mark:
        case Text():
            _text(canvas, page, mark, left, top)
        case Rect(x, y, width, height, fill, stroke):
            if fill:
                canvas.setFillColor(_colour(fill))
            if stroke:
                canvas.setStrokeColor(_colour(stroke))
            canvas.rect(
                left + x, page - top - y - height, width, height, stroke=int(bool(stroke)), fill=int(bool(fill))
            )
        case Line(x1, y1, x2, y2, dashed):
            canvas.setStrokeColor(_colour(HAIRLINE))
            canvas.setDash([1, 1] if dashed else [])
            canvas.line(left + x1, page - top - y1, left + x2, page - top - y2)
            canvas.setDash([])
        case Polygon(points):
            path = canvas.beginPath()
            path.moveTo(left + points[0][0], page - top - points[0][1])
            for x, y in points[1:]:
                path.lineTo(left + x, page - top - y)
            path.close()
            canvas.setFillColor(_colour("#000000"))
            canvas.drawPath(path, stroke=0, fill=1)
        case Symbol(x, y, module, symbol):
            canvas.saveState()
            canvas.translate(left + x, page - top - y)
            canvas.scale(module, -module)
            canvas.setFillColor(_colour("#000000"))
            # Whole modules in the path and the size in the matrix: a third of the bytes, and no gaps between rows.
            runs = ["n"] + [f"{column} {row} {length} 1 re" for column, row, length in dark_runs(symbol)]
            canvas.drawPath(PDFPathObject(runs), stroke=0, fill=1)
            canvas.restoreState()


def _text(canvas: Any, page: float, mark: Text, left: float, top: float) -> None:
    canvas.setFillColor(_colour(mark.fill))
    canvas.setFont(registered_font(mark.weight), mark.size)
    x, y = left + mark.x, page - top - mark.y
    if mark.anchor == "middle":
        x -= mark.width / 2
    elif mark.anchor == "end":
        x -= mark.width
    canvas.drawString(x, y, mark.text)


_colours: dict[str, Color] = {}


def _colour(srgb: str) -> Color:
    if srgb not in _colours:
        red, green, blue = (int(srgb[at : at + 2], 16) / 255 for at in (1, 3, 5))
        _colours[srgb] = Color(red, green, blue)
    return _colours[srgb]
