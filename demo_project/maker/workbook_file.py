"""A workbook as bytes that never change: fixed dates, stored without compression, and cached results of formulas."""

from __future__ import annotations

import datetime as dt
import io
import re
import zipfile
from collections.abc import Mapping

from openpyxl import Workbook

SAVED = dt.datetime(2026, 6, 22, 16, 20)
_STAMP = b"2026-06-22T16:20:00Z"
_APP = (
    b'<?xml version="1.0" encoding="UTF-8" standalone="yes"?>'
    b'<Properties xmlns="http://schemas.openxmlformats.org/officeDocument/2006/extended-properties">'
    b"<Application>Spreadsheet</Application></Properties>"
)

Cached = Mapping[tuple[str, str], float | str]
"""Sheet and cell of a formula to the result that the spreadsheet program stored with it."""


def workbook_bytes(book: Workbook, cached: Cached) -> bytes:
    """The workbook; results of formulas are put in where a spreadsheet program would have left them."""
    book.properties.creator = "Site office"
    book.properties.created = SAVED
    book.properties.modified = SAVED
    raw = io.BytesIO()
    book.save(raw)
    parts = {f"xl/worksheets/sheet{n}.xml": name for n, name in enumerate(book.sheetnames, start=1)}
    fixed = io.BytesIO()
    with zipfile.ZipFile(raw) as source, zipfile.ZipFile(fixed, "w", zipfile.ZIP_STORED) as target:
        for member in sorted(source.namelist()):
            data = source.read(member)
            if member == "docProps/core.xml":
                data = re.sub(rb"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ", _STAMP, data)
            elif member == "docProps/app.xml":
                data = _APP
            elif member in parts:
                data = _with_results(
                    data, {cell: value for (sheet, cell), value in cached.items() if sheet == parts[member]}
                )
            # A fixed system number: it is 0 on one kind of machine and 3 on another.
            info = zipfile.ZipInfo(member, (2026, 6, 22, 16, 20, 0))
            info.create_system = 3
            info.external_attr = 0o644 << 16
            target.writestr(info, data)
    return fixed.getvalue()


def _with_results(sheet: bytes, results: Mapping[str, float | str]) -> bytes:
    for cell, value in results.items():
        pattern = rf'(<c r="{cell}"[^>]*)>(<f>[^<]*</f>)<v\s*/>|(<c r="{cell}"[^>]*)>(<f>[^<]*</f>)<v></v>'.encode()
        kind = b' t="str"' if isinstance(value, str) else b""

        def put(found: re.Match[bytes], kind: bytes = kind, value: float | str = value) -> bytes:
            head, formula = (found.group(1), found.group(2)) if found.group(1) else (found.group(3), found.group(4))
            return head + kind + b">" + formula + b"<v>" + str(value).encode() + b"</v>"

        sheet, count = re.subn(pattern, put, sheet)
        if count != 1:
            raise ValueError(f"no formula in {cell} to give a result to")
    return sheet
