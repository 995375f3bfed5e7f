"""One SVG file per tag, in millimetres, for engravers and label printers."""

from __future__ import annotations

from html import escape
from pathlib import Path

from witnessmark.pack.face_text import printable
from witnessmark.pack.font_metrics import has_glyph, stated
from witnessmark.pack.tag_face import TagFace, typed_code
from witnessmark.pack.tag_layout import Line, Mark, Polygon, Rect, Symbol, TagDrawing, Text

# The widths were measured in the first; the next two share its widths. textLength holds any other font to them.
_FAMILY = "'DejaVu Sans','Bitstream Vera Sans',Verdana,sans-serif"
_ANCHORS = {"start": "", "middle": ' text-anchor="middle"', "end": ' text-anchor="end"'}


def svg_name(face: TagFace) -> str:
    """File name of a tag: its code."""
    return f"{face.code}.svg"


def write_tag_svg(folder: Path, drawing: TagDrawing) -> Path:
    """Write CODE.svg into folder, which must exist; returns its path."""
    path = folder / svg_name(drawing.face)
    path.write_bytes(tag_svg(drawing).encode())
    return path


def tag_svg(drawing: TagDrawing) -> str:
    """The whole SVG document."""
    width, height = _n(drawing.width), _n(drawing.height)
    title, description = face_in_words(drawing.face)
    marks = "\n".join([_mark(mark) for mark in drawing.marks])
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm" '
        f'viewBox="0 0 {width} {height}" role="img">\n'
        f"<title>{_x(title)}</title>\n<desc>{_x(description)}</desc>\n"
        f'<rect width="{width}" height="{height}" fill="#fff"/>\n'
        f'<g font-family="{_FAMILY}" stroke-width="0.15">\n{marks}\n</g>\n</svg>\n'
    )


def face_in_words(face: TagFace) -> tuple[str, str]:
    """(title, description) for whoever hears the tag instead of seeing it."""
    arrow = "no arrow" if face.flow_arrow == "none" else f"arrow {face.flow_arrow}"
    colours = ", ".join([stated(block.name, "colour") for block in face.band]) or "colour: no data"
    name = printable(face.section_name, has_glyph)
    parts = [
        *([name] if name else []),
        stated(face.service, "service"),
        f"{stated(face.flow_words, 'flow')} ({arrow})",
        colours,
        stated(face.limits, "limits"),
        f"call {stated(face.duty, 'duty number')}",
        face.address,
    ]
    return f"Tag {typed_code(face.code)}, section {stated(face.section_id, 'section')}", "; ".join(parts)


def _mark(mark: Mark) -> str:
    match mark:
        case Text(x, y, text, size, weight, anchor, width, fill):
            bold = ' font-weight="700"' if weight == "bold" else ""
            return (
                f'<text x="{_n(x)}" y="{_n(y)}" font-size="{_n(size)}"{bold}{_ANCHORS[anchor]} fill="{fill}" '
                f'textLength="{_n(width)}" lengthAdjust="spacingAndGlyphs">{_x(text)}</text>'
            )
        case Rect(x, y, width, height, rect_fill, stroke):
            outline = f' stroke="{stroke}"' if stroke else ""
            place = f'x="{_n(x)}" y="{_n(y)}" width="{_n(width)}" height="{_n(height)}"'
            return f'<rect {place} fill="{rect_fill or "none"}"{outline}/>'
        case Line(x1, y1, x2, y2, dashed):
            dashes = ' stroke-dasharray="1 1"' if dashed else ""
            return f'<path d="M{_n(x1)} {_n(y1)}L{_n(x2)} {_n(y2)}" stroke="#8C8C8C"{dashes}/>'
        case Polygon(points):
            return f'<path d="M{"L".join([f"{_n(x)} {_n(y)}" for x, y in points])}z"/>'
        case Symbol(x, y, module, _, dark):
            runs = "".join([f"M{column} {row}h{length}v1h-{length}z" for column, row, length in dark])
            place = f"translate({_n(x)} {_n(y)}) scale({_n(module)})"
            return f'<path transform="{place}" shape-rendering="crispEdges" d="{runs}"/>'


def _n(value: float) -> str:
    return f"{value:.6g}"


def _x(text: str) -> str:
    return escape(text, quote=True)
