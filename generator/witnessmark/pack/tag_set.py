"""Everything a contractor prints: one SVG per tag, the sheets and the list, drawn in one pass over the faces."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from pathlib import Path

from witnessmark.pack.csv_writer import Cell
from witnessmark.pack.label_sheet import SheetReport, write_label_sheets
from witnessmark.pack.qr_symbol import USUAL_MASK, Level
from witnessmark.pack.sheet_layout import SheetLayout
from witnessmark.pack.tag_face import TagFace
from witnessmark.pack.tag_index import tag_index_row, write_tag_index
from witnessmark.pack.tag_layout import FLAG_BELOW_MM, Form, TagDrawing, draw_tag
from witnessmark.pack.tag_svg import write_tag_svg

SHEETS_FILE = "label-sheets.pdf"
INDEX_FILE = "tags.csv"


class CodeUsedTwice(ValueError):
    """Two faces with one code: the second would overwrite the first."""

    def __init__(self, code: str, first: str, second: str) -> None:
        super().__init__(
            f"The tag code {code} is given to section {first!r} and to section {second!r}; each section needs its own."
        )


def write_tag_set(
    folder: Path,
    faces: Iterable[TagFace],
    layout: SheetLayout,
    level: Level = "Q",
    form: Form | None = None,
    mask: int | None = USUAL_MASK,
    flag_below_mm: float = FLAG_BELOW_MM,
) -> SheetReport:
    """Write CODE.svg for each face, label-sheets.pdf and tags.csv into folder, made if it is missing.

    form None gives a flag to each pipe below flag_below_mm, [mm], or of unknown size, and a plate to any other.
    Raises CodeUsedTwice, LabelTooSmall or what `qr_symbol` raises.
    """
    folder.mkdir(parents=True, exist_ok=True)
    rows: list[tuple[Cell, ...]] = []
    report = write_label_sheets(
        folder / SHEETS_FILE, _drawn(folder, faces, layout, level, form, mask, flag_below_mm, rows), layout
    )
    write_tag_index(folder / INDEX_FILE, rows)
    return report


def _drawn(
    folder: Path,
    faces: Iterable[TagFace],
    layout: SheetLayout,
    level: Level,
    form: Form | None,
    mask: int | None,
    flag_below_mm: float,
    rows: list[tuple[Cell, ...]],
) -> Iterator[TagDrawing]:
    sections: dict[str, str] = {}
    for index, face in enumerate(faces):
        if face.code in sections:
            raise CodeUsedTwice(face.code, sections[face.code], face.section_id)
        sections[face.code] = face.section_id
        wide = face.od_mm is not None and face.od_mm >= flag_below_mm
        drawing = draw_tag(
            face, form or ("plate" if wide else "flag"), layout.label_width_mm, layout.label_height_mm, level, mask
        )
        write_tag_svg(folder, drawing)
        rows.append(tag_index_row(drawing, index, layout))
        yield drawing
