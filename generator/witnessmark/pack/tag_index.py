"""The list of printed tags, tags.csv: what each tag is, and where on the sheets it was printed."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from witnessmark.pack.csv_writer import Cell, write_csv
from witnessmark.pack.sheet_layout import SheetLayout
from witnessmark.pack.tag_layout import TagDrawing
from witnessmark.pack.tag_svg import svg_name

TAG_INDEX_COLUMNS = (
    "code",
    "address",
    "section",
    "form",
    "version",
    "level",
    "module_mm",
    "svg_file",
    "sheet",
    "sheet_row",
    "sheet_column",
)


def tag_index_row(drawing: TagDrawing, index: int, layout: SheetLayout) -> tuple[Cell, ...]:
    """The row of the tag that was printed at this index, counted from 0; columns as TAG_INDEX_COLUMNS."""
    return (
        drawing.face.code,
        drawing.face.address,
        drawing.face.section_id,
        drawing.form,
        drawing.symbol.version,
        drawing.symbol.level,
        drawing.module,
        svg_name(drawing.face),
        *layout.place(index),
    )


def write_tag_index(path: Path, rows: Iterable[tuple[Cell, ...]]) -> int:
    """Write tags.csv; returns the number of tags."""
    return write_csv(path, TAG_INDEX_COLUMNS, rows)
