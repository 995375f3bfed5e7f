"""XLSX workbooks as grids, by openpyxl: values as last calculated, with what is merged, hidden or uncalculated.

The 1904 date base is openpyxl's to apply; a typed date arrives as a date whichever base the workbook uses.
"""

from __future__ import annotations

import re
import warnings
import zipfile
from dataclasses import dataclass
from io import BytesIO
from pathlib import Path
from typing import Any

import openpyxl
from openpyxl.worksheet.worksheet import Worksheet

from witnessmark.intake.file_bytes import LARGEST_FILE, file_bytes
from witnessmark.intake.grid import CellError, CellValue, Grid, MergedRange, Remark
from witnessmark.intake.number_format import as_shown
from witnessmark.intake.sheet_remarks import sheet_remarks
from witnessmark.intake.unreadable_file import UnreadableFile

LARGEST_UNPACKED = 400_000_000
"""Limit in bytes on everything inside the workbook; a small file that unpacks to more is not a site record."""

_OLE = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
_SAVE_AS = "open it in the program that made it and save it as .xlsx"
_REFUSED = {".xls", ".ods", ".numbers", ".xlsb"}
_FORMULA = re.compile(rb"<(?:\w+:)?f[ >/]")


@dataclass(frozen=True, slots=True)
class WorkbookReading:
    """Every worksheet in the order of its tab, and what had to be found out on the way."""

    grids: tuple[Grid, ...]
    remarks: tuple[Remark, ...]
    base_1904: bool

    def grid(self, sheet: str) -> Grid | None:
        """The sheet of that name, in any case and with any spaces round it; None when there is none."""
        wanted = sheet.strip().casefold()
        for grid in self.grids:
            if grid.sheet is not None and grid.sheet.strip().casefold() == wanted:
                return grid
        return None


def read_workbook(
    path: Path, file_label: str, *, max_bytes: int = LARGEST_FILE, max_unpacked: int = LARGEST_UNPACKED
) -> WorkbookReading:
    """Read every worksheet, hidden ones included.

    Raises ``UnreadableFile`` for a missing, too large, encrypted or broken workbook, and for other spreadsheet formats.
    """
    data = file_bytes(path, file_label, max_bytes)
    has_formulas = _inspect(data, path.suffix.lower(), file_label, max_unpacked)
    with warnings.catch_warnings(record=True) as caught:
        warnings.simplefilter("always")
        try:
            grids, remarks, base_1904 = _read(data, file_label, has_formulas)
        except Exception:  # openpyxl raises whatever the damaged part of the file leads to
            raise UnreadableFile(file_label, "workbook-broken", "the workbook is damaged", _SAVE_AS) from None
    said = sorted({" ".join(str(item.message).split()).rstrip(".") for item in caught})
    remarks = [Remark("workbook-warning", text) for text in said] + remarks
    if base_1904:
        remarks.append(Remark("base-1904", "the workbook counts dates from 1904; typed dates were read by that base"))
    if not any(grid.rows for grid in grids):
        raise UnreadableFile(file_label, "file-empty", "no sheet of the workbook holds a cell", "save it again")
    return WorkbookReading(tuple(grids), tuple(remarks), base_1904)


def _inspect(data: bytes, suffix: str, file_label: str, max_unpacked: int) -> bool:
    """Refuse what openpyxl must not be given; True when a sheet holds a formula."""
    if not data:
        raise UnreadableFile(file_label, "file-empty", "the file holds no bytes", "copy or save the workbook again")
    if data.startswith(_OLE):
        if "EncryptedPackage".encode("utf-16-le") in data:
            raise _encrypted(file_label)
        raise UnreadableFile(file_label, "format-not-read", "this is an .xls workbook of the old binary kind", _SAVE_AS)
    if suffix in _REFUSED:
        raise UnreadableFile(file_label, "format-not-read", f"{suffix} workbooks are not read", _SAVE_AS)
    try:
        with zipfile.ZipFile(BytesIO(data)) as archive:
            return _inspect_archive(archive, file_label, max_unpacked)
    except UnreadableFile:
        raise
    except Exception:  # zipfile and zlib raise half a dozen kinds for one thing: damage
        raise UnreadableFile(
            file_label, "workbook-broken", "the file is not a workbook, or is damaged", _SAVE_AS
        ) from None


def _encrypted(file_label: str) -> UnreadableFile:
    return UnreadableFile(
        file_label,
        "workbook-encrypted",
        "the workbook is protected by a password",
        "save a copy without the password",
    )


def _inspect_archive(archive: zipfile.ZipFile, file_label: str, max_unpacked: int) -> bool:
    members = archive.infolist()
    names = {member.filename for member in members}
    unpacked = sum(member.file_size for member in members)
    if unpacked > max_unpacked:
        raise UnreadableFile(
            file_label,
            "workbook-too-large",
            f"the workbook unpacks to {unpacked / 1e6:.0f} MB and the limit is {max_unpacked / 1e6:.0f} MB",
            "clear the unused rows and columns and save it again",
        )
    if any(member.flag_bits & 0x1 for member in members):
        raise _encrypted(file_label)
    if "xl/workbook.bin" in names:
        raise UnreadableFile(file_label, "format-not-read", "this is a binary .xlsb workbook", _SAVE_AS)
    if "content.xml" in names:
        raise UnreadableFile(file_label, "format-not-read", "this is an OpenDocument (.ods) spreadsheet", _SAVE_AS)
    if any(name.startswith("Index/") or name == "Index.zip" for name in names):
        raise UnreadableFile(file_label, "format-not-read", "this is a .numbers spreadsheet", _SAVE_AS)
    if "[Content_Types].xml" not in names:
        raise UnreadableFile(file_label, "workbook-broken", "the file is an archive but not a workbook", _SAVE_AS)
    sheets = [name for name in sorted(names) if name.startswith("xl/worksheets/") and name.endswith(".xml")]
    return any(_has_formula(archive, name) for name in sheets)


def _has_formula(archive: zipfile.ZipFile, name: str) -> bool:
    tail = b""
    with archive.open(name) as stream:
        while chunk := stream.read(1_000_000):
            if _FORMULA.search(tail + chunk):
                return True
            tail = chunk[-40:]
    return False


def _read(data: bytes, file_label: str, has_formulas: bool) -> tuple[list[Grid], list[Remark], bool]:
    # From memory, because openpyxl leaves a file open when it gives up on it, and Windows then locks the file.
    book = openpyxl.load_workbook(BytesIO(data), data_only=True)
    # Results and formulas need a load each; most records hold no formula.
    formulas = openpyxl.load_workbook(BytesIO(data)) if has_formulas else None
    untyped: Any = book
    strikes = any(font.strike for font in untyped._fonts)
    grids: list[Grid] = []
    remarks: list[Remark] = []
    for sheet in book.worksheets:
        twin = formulas[sheet.title] if formulas is not None else None
        grid = _grid(sheet, twin if isinstance(twin, Worksheet) else None, file_label, strikes=strikes)
        grids.append(grid)
        remarks += grid.notes
    remarks += [
        Remark("chart-sheet", "the sheet holds only a chart and was not read", sheet=chart.title)
        for chart in book.chartsheets
    ]
    base_1904 = book.epoch.year == 1904
    book.close()
    if formulas is not None:
        formulas.close()
    return grids, remarks, base_1904


def _grid(sheet: Worksheet, formulas: Worksheet | None, file_label: str, *, strikes: bool) -> Grid:
    rows: list[list[CellValue]] = []
    struck: set[int] = set()
    commented: set[tuple[int, int]] = set()
    # The sparse store: one stray format in the last corner makes iter_rows walk 17 thousand million cells.
    for (row, column), cell in sorted(_cells(sheet).items()):
        if cell.comment is not None:
            commented.add((row, column - 1))
        value = _value(cell)
        if value is None:
            continue
        if strikes and cell.font.strike:
            struck.add(row)
        while len(rows) < row:
            rows.append([])
        cells = rows[row - 1]
        cells.extend([None] * (column - len(cells)))
        cells[column - 1] = value
    uncached = _uncached(formulas, rows)
    hidden_rows = frozenset(
        number for number, row in sheet.row_dimensions.items() if row.hidden and number <= len(rows)
    )
    hidden_columns = _hidden_columns(sheet)
    hidden = sheet.sheet_state != "visible"
    notes = sheet_remarks(
        sheet.title,
        rows,
        hidden=hidden,
        hidden_rows=hidden_rows,
        hidden_columns=hidden_columns,
        uncached=uncached,
        struck=struck,
        commented=commented,
    )
    return Grid(
        file=file_label,
        sheet=sheet.title,
        rows=[tuple(row) for row in rows],
        hidden_rows=hidden_rows,
        hidden_columns=hidden_columns,
        merged=_merged(sheet),
        uncached_formulas=uncached,
        sheet_hidden=hidden,
        notes=tuple(notes),
    )


def _cells(sheet: Worksheet) -> dict[tuple[int, int], Any]:
    cells: dict[tuple[int, int], Any] = sheet._cells
    return cells


def _value(cell: Any) -> CellValue:
    value = cell.value
    if value is None or value == "":
        return None
    if cell.data_type == "e":
        return CellError(str(value))
    if isinstance(value, int | float) and not isinstance(value, bool):
        return as_shown(value, cell.number_format)
    if isinstance(value, CellValue):
        return value
    return str(value)


def _uncached(formulas: Worksheet | None, rows: list[list[CellValue]]) -> frozenset[tuple[int, int]]:
    if formulas is None:
        return frozenset()
    found = set()
    for (row, column), cell in _cells(formulas).items():
        if cell.data_type != "f":
            continue
        cells = rows[row - 1] if row <= len(rows) else []
        if column > len(cells) or cells[column - 1] is None:
            found.add((row, column - 1))
    return frozenset(found)


def _merged(sheet: Worksheet) -> tuple[MergedRange, ...]:
    found = [
        MergedRange(block.min_row, block.max_row, block.min_col - 1, block.max_col - 1)
        for block in sheet.merged_cells.ranges
    ]
    return tuple(sorted(found, key=lambda block: (block.first_row, block.first_column)))


def _hidden_columns(sheet: Worksheet) -> frozenset[int]:
    hidden: set[int] = set()
    for dimension in sheet.column_dimensions.values():
        if dimension.hidden and dimension.min and dimension.max:
            hidden.update(range(dimension.min - 1, min(dimension.max, 16_384)))
    return frozenset(hidden)
