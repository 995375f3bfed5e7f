"""The heating firm's joint log: a sheet a floor, laid out for the eye, with every habit of a site office."""

from __future__ import annotations

import datetime as dt
import re
from itertools import groupby

from openpyxl import Workbook
from openpyxl.styles import Alignment, Font
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.worksheet import Worksheet

from .cells import date_words, id_words, size_words
from .file_names import HEATING_LOG
from .model import Building, Dice, Row, Value
from .people import PEOPLE
from .workbook_file import workbook_bytes

COLUMNS = (
    # group, heading, unit, field
    ("Joint", "Jt No", "", "joint_id"),
    ("Joint", "Sect", "", "section_id"),
    ("Joint", "Where", "", "location"),
    ("Tube and fitting", "Size", "mm", "od_mm"),
    ("Tube and fitting", "Mat'l", "", "material_tube"),
    ("Tube and fitting", "Fitting", "", "fitting_kind"),
    ("Tube and fitting", "Family", "", "system_family"),
    ("Tube and fitting", "Contour", "", "press_profile"),
    ("Tube and fitting", "Ring", "", "seal"),
    ("Tube and fitting", "Batch", "", "fitting_batch_id"),
    ("Tube and fitting", "Heat no", "", "tube_batch_id"),
    ("Pressed", "Date", "", "press_date"),
    ("Pressed", "Time", "", "press_time"),
    ("Pressed", "Pressed by", "", "operative_id"),
    ("Pressed", "Gun", "", "tool_id"),
    ("Pressed", "Jaws", "", "jaw_id"),
    ("Pressed", "Presses", "", "press_count"),
    ("Pressed", "Lubricated", "", "lubricated"),
    ("Pressed", "Isolated", "", "tool_isolated"),
    ("Prep", "Square", "", "cut_square"),
    ("Prep", "Deburr", "", "deburred"),
    ("Prep", "Ring present", "", "seal_present"),
    ("Prep", "Depth mark", "", "depth_marked"),
    ("Prep", "Inserted", "", "fully_inserted"),
    ("Check", "Mark visible", "", "depth_mark_visible"),
    ("Check", "Closed", "", "fitting_closed"),
    ("Check", "Wiped", "", "excess_wiped"),
    ("Check", "Marked done", "", "marked_complete"),
    ("Check", "Visual", "", "pressed_check"),
    ("Check", "By", "", "checker_id"),
    ("Check", "On", "", "check_date"),
    ("", "State", "", "status"),
    ("", "Boundary", "", "boundary"),
    ("", "To next", "mm", "tube_to_next_mm"),
    ("", "Replaces", "", "replaces_joint"),
    ("", "Photo ref", "", "photo"),
    ("", "Drg", "", "drawing"),
    ("", "Drg rev", "", "drawing_revision"),
    ("", "Notes", "", "remarks"),
)
FIELDS = tuple(field for _, _, _, field in COLUMNS)
FITTINGS = {"coupling": "cplg", "elbow": "elb", "reducer": "red", "adaptor": "MI adaptor"}
MATERIALS = {"carbon_steel": "C/S", "copper": "Cu"}
STATES = {"tested": "tested", "cut_out": "cut out", "reworked": "rework", "checked": "checked"}
INITIALS = {person.code: person.initials for person in PEOPLE if person.initials != "JS"}
DITTO = ("tool_id",)
"""Columns in which a blank cell means: the same as above."""
TEXT_DATES, SERIALS, HIDDEN_ROWS, HEADING_AGAIN, HIDDEN_COLUMN = 1, 4, 2, 3, 0
"""Level of the sheet that shows the habit."""


def level_of(section: str) -> int:
    """The level of the sheet on which a section is logged."""
    found = re.search(r"-L(\d)", section)
    return int(found.group(1)) if found else (0 if section.endswith("-FOOT") else 5)


def heating_log(building: Building) -> bytes:
    """The workbook; rows learn where they stand, and the habits of each sheet are listed."""
    book = Workbook()
    del book["Sheet"]
    cached: dict[tuple[str, str], float | str] = {}
    joints = [row for row in building["joints"] if row.text("section_id").startswith("LTHW")]
    for level in range(6):
        sheet = book.create_sheet(f"Level {level}")
        _Sheet(building, sheet, level, cached).write([j for j in joints if level_of(j.text("section_id")) == level])
    return workbook_bytes(book, cached)


class _Sheet:
    def __init__(
        self, building: Building, sheet: Worksheet, level: int, cached: dict[tuple[str, str], float | str]
    ) -> None:
        self.building, self.sheet, self.level, self.cached = building, sheet, level, cached
        self.row = 0

    def write(self, joints: list[Row]) -> None:
        self._titles()
        header = self._headings()
        start = self.row + 1
        sections = [list(rows) for _, rows in groupby(joints, key=lambda joint: joint["section_id"])]
        for n, rows in enumerate(sections):
            if self.level == HEADING_AGAIN and n == len(sections) // 2:
                self._again()
            self._section(rows)
            self.row += 1
        self._notes()
        self._habits(header, start)

    def _plant(self, fault: str, line: int, note: str, field: str = "") -> None:
        self.building.plant_file(fault, HEATING_LOG, field, note, self.sheet.title, line)

    def _titles(self) -> None:
        for text in (
            "TALLOW YARD - PRESS JOINT LOG",
            f"Heating flow and return, level {self.level}",
            "Form F-07 rev B, SUB-1",
        ):
            self.row += 1
            self.sheet.cell(self.row, 1, text).font = Font(bold=self.row == 1)
        self.sheet.merge_cells(start_row=1, start_column=1, end_row=1, end_column=8)
        self.row += 1

    def _headings(self) -> int:
        self.row += 1
        first = 1
        for group, members in groupby(COLUMNS, key=lambda column: column[0]):
            width = len(list(members))
            self.sheet.cell(self.row, first, group or None).alignment = Alignment(horizontal="center")
            if group:
                self.sheet.merge_cells(
                    start_row=self.row, start_column=first, end_row=self.row, end_column=first + width - 1
                )
            first += width
        self.row += 1
        self._heading_row()
        self.row += 1
        for n, (_, _, unit, _) in enumerate(COLUMNS, start=1):
            if unit:
                self.sheet.cell(self.row, n, unit)
        self.sheet.freeze_panes = f"A{self.row + 1}"
        return self.row - 1

    def _heading_row(self) -> None:
        for n, (_, heading, _, _) in enumerate(COLUMNS, start=1):
            self.sheet.cell(self.row, n, heading).font = Font(bold=True)

    def _again(self) -> None:
        self.row += 1
        self._heading_row()
        self._plant("heading-halfway", self.row, "the heading row stands again in the middle of the table")

    def _section(self, rows: list[Row]) -> None:
        first = self.row + 1
        above: dict[str, Value] = {}
        for joint in rows:
            self.row += 1
            joint.place = (HEATING_LOG, self.sheet.title, self.row)
            for column, field in enumerate(FIELDS, start=1):
                value = self._cell(joint, field)
                if field in DITTO:
                    value, above[field] = (None if above.get(field) == value else value), value
                self._put(column, value)
        self._merge(rows, first, "section_id", "merged-section-cell")
        if self.level not in (TEXT_DATES, SERIALS):
            self._merge(rows, first, "press_date", "merged-date-cell")
        self._total(rows, first)

    def _put(self, column: int, value: Value) -> None:
        if value is None:
            return
        cell = self.sheet.cell(self.row, column, value)
        if isinstance(value, dt.date):
            cell.number_format = "dd/mm/yyyy"
        elif isinstance(value, dt.time):
            cell.number_format = "hh:mm"

    def _cell(self, joint: Row, field: str) -> Value:
        key = f"{joint['joint_id']}/{field}"
        if field in joint.written:
            return joint.written[field]
        value = joint.values.get(field)
        if value is None:
            return None
        if isinstance(value, bool):
            return ("✓" if Dice("tick", key).chance(0.08) else "yes") if value else "no"
        match field:
            case "joint_id" | "section_id":
                return id_words(value, key) if field == "joint_id" else value
            case "od_mm":
                return size_words(value, key)
            case "material_tube":
                return MATERIALS[str(value)]
            case "fitting_kind":
                return FITTINGS.get(str(value), value)
            case "status":
                return STATES[str(value)]
            case "operative_id":
                return INITIALS.get(str(value), str(value))
            case "press_date" if self.level == TEXT_DATES:
                return date_words(value, key)
            case "press_date" if self.level == SERIALS and isinstance(value, dt.date):
                return (value - dt.date(1899, 12, 30)).days
            case "press_count":
                return str(value) if Dice("count", key).chance(0.3) else value
        return value

    def _merge(self, rows: list[Row], first: int, field: str, fault: str) -> None:
        """Merge the cells of equal neighbours, as one does to save typing: the value stays in the top cell alone."""
        column = FIELDS.index(field) + 1
        line = first
        for _, members in groupby(rows, key=lambda row: row.cell(field)):
            count = len(list(members))
            if count > 1:
                self.sheet.merge_cells(start_row=line, start_column=column, end_row=line + count - 1, end_column=column)
                if count >= 12 and not any(p.fault == fault for p in self.building.planted):
                    self._plant(fault, line, f"one merged cell over {count} joints", field)
            line += count

    def _total(self, rows: list[Row], first: int) -> None:
        last = self.row
        self.row += 1
        self.sheet.cell(self.row, 1, f"Sub-total: {rows[0]['section_id']}")
        self.sheet.cell(self.row, 4, f"=COUNTA(A{first}:A{last})")
        self.cached[self.sheet.title, f"D{self.row}"] = len(rows)
        if not any(planted.fault == "sub-total-row" for planted in self.building.planted):
            self._plant(
                "sub-total-row", self.row, "a sub-total after every section, as a formula with its stored result"
            )

    def _notes(self) -> None:
        self.row += 1
        for text in (
            "Notes: sizes are outside diameters. Blank under Gun means the same as above.",
            "Checked by the foreman the day after pressing, before lagging.",
            "Signed: ____________________",
        ):
            self.row += 1
            self.sheet.cell(self.row, 1, text)
        self._plant("notes-below-the-table", self.row - 2, "three lines of notes below the table")

    def _habits(self, header: int, start: int) -> None:
        if self.level == HIDDEN_ROWS:
            for line in (start + 1, start + 2):
                self.sheet.row_dimensions[line].hidden = True
            self._plant("hidden-rows", start + 1, "two rows are hidden and count")
        if self.level == HIDDEN_COLUMN:
            self.sheet.column_dimensions[get_column_letter(FIELDS.index("drawing") + 1)].hidden = True
            self._plant("hidden-column", header, "the column Drg is hidden and counts", "drawing")
        if self.level == TEXT_DATES:
            self._plant("dates-as-text", start, "dates typed as text in four forms", "press_date")
        if self.level == SERIALS:
            self._plant("dates-as-serials", start, "dates shown as day numbers", "press_date")
        if self.level == 0:
            self._plant(
                "two-row-heading", header - 1, "group heading in merged cells over the headings, and a units row below"
            )
