"""The workbook to fill in: one sheet a table with heading, units, choices to pick from and example rows."""

from __future__ import annotations

import datetime
import io
from typing import Any

from openpyxl import Workbook
from openpyxl.styles import Alignment, Font, PatternFill
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.datavalidation import DataValidation
from openpyxl.worksheet.worksheet import Worksheet

from witnessmark.model.contract import FILLED_IN, Field, Table, contract
from witnessmark.pack.fixed_zip import fixed_zip
from witnessmark.pack.starter_rows import example_rows

LAST_ROW = 5000
_SHOWN_UNITS = {"degC": "°C"}
_BOLD = Font(bold=True)
_GREY = Font(italic=True, color="FF595959")
_MUST = PatternFill("solid", fgColor="FFFFF2CC")
_READ_ME = (
    "How to fill in this workbook",
    "Every sheet is one table. The first row names the columns, the row below gives their units where a table has any. "
    "Your records follow; delete the example rows, whose ids begin with EX-.",
    "One row of the sheet joints is ONE press end: an elbow has two rows, a tee has three.",
    "One row of the sheet tests is one stage of one attempt. Failed attempts stay in; the next one has a new number.",
    "An empty cell means: not known. Never write a dash, a tick from memory or a value that nobody recorded.",
    "Columns with a coloured heading must be filled in; without them the row cannot be used.",
    "Ids are yours. Use each once, and write it the same everywhere: 'PT-02' and 'PT 2' are two tools.",
    "Pressures are gauge pressures in bar, lengths in metres, tube sizes outside diameters in millimetres, dates "
    "year-month-day.",
    "To use it, save a copy in the folder records/ of the project and delete the CSV files of the same tables there; "
    "otherwise the rows are read twice.",
    "The tag register tags.csv is written by the build. It is not in this workbook; never edit it.",
)  # fmt: skip


def starter_workbook() -> bytes:
    """The workbook as the bytes of an XLSX file, the same every time."""
    book = Workbook()
    _read_me(book.worksheets[0])
    for name in FILLED_IN:
        _table(book.create_sheet(name), contract()[name])
    book.properties.creator = "Witnessmark"
    stream = io.BytesIO()
    book.save(stream)
    return fixed_zip(stream.getvalue())


def _read_me(sheet: Worksheet) -> None:
    sheet.title = "Read me"
    sheet.column_dimensions["A"].width = 100
    for number, sentence in enumerate(_READ_ME, start=1):
        cell = sheet.cell(number, 1, sentence)
        cell.alignment = Alignment(wrap_text=True, vertical="top")
        if number == 1:
            cell.font = Font(bold=True, size=14)
    for number, name in enumerate(FILLED_IN, start=len(_READ_ME) + 2):
        cell = sheet.cell(number, 1, f"{name}: {contract()[name].description}")
        cell.alignment = Alignment(wrap_text=True, vertical="top")


def _table(sheet: Worksheet, table: Table) -> None:
    examples = example_rows(table.name)
    # A row that names no unit could not be told from a record when the sheet is read.
    units = any(field.unit for field in table.fields)
    first = 3 if units else 2
    for column, field in enumerate(table.fields, start=1):
        letter = get_column_letter(column)
        heading = sheet.cell(1, column, field.title)
        heading.font = _BOLD
        heading.alignment = Alignment(wrap_text=True, vertical="top")
        if field.required:
            heading.fill = _MUST
        if units:
            below = sheet.cell(2, column, _unit(field))
            below.font = _GREY
        sheet.column_dimensions[letter].width = _width(field, [row[field.name] for row in examples])
        sheet.column_dimensions[letter].number_format = _number_format(field)
        for number, row in enumerate(examples, start=first):
            value = _value(field, row[field.name])
            if value is not None:
                sheet.cell(number, column, value).number_format = _number_format(field)
        choices = ("yes", "no") if field.type == "boolean" else field.enum
        if choices:
            _drop_down(sheet, f"{letter}{first}:{letter}{LAST_ROW}", choices)
    sheet.freeze_panes = f"B{first}"


def _drop_down(sheet: Worksheet, cells: str, choices: tuple[str, ...]) -> None:
    rule = DataValidation(type="list", formula1=f'"{",".join(choices)}"', allow_blank=True)
    # A warning, not a stop: the words of a site can be explained in project.yml.
    rule.errorStyle = "warning"
    rule.errorTitle = "Not in the list"
    rule.error = "The list has the words that are understood without an answer in project.yml."
    sheet.add_data_validation(rule)
    rule.add(cells)


def _unit(field: Field) -> str:
    if field.unit:
        return _SHOWN_UNITS.get(field.unit, field.unit)
    return {"date": "yyyy-mm-dd", "boolean": "yes/no", "time": "hh:mm"}.get(field.type, "text")


def _number_format(field: Field) -> str:
    # Text columns are text from the start, so that the spreadsheet program does not turn '3-4' into a day.
    return {"date": "yyyy-mm-dd", "time": "hh:mm", "number": "General", "integer": "0"}.get(field.type, "@")


def _width(field: Field, examples: list[str]) -> float:
    longest = max([len(text) for text in examples], default=0)
    return float(min(40, max(10, len(field.title) + 2, longest + 2)))


def _value(field: Field, text: str) -> Any:
    if not text:
        return None
    match field.type:
        case "number":
            return float(text)
        case "integer":
            return int(text)
        case "date":
            return datetime.date.fromisoformat(text)
        case "time":
            return datetime.time.fromisoformat(text)
        case _:
            return text
