"""Workbooks of the untidy state besides the heating log: one sheet a table, title lines, site headings, date cells."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field

from openpyxl import Workbook
from openpyxl.utils.datetime import CALENDAR_MAC_1904

from .cells import size_words
from .csv_sources import of_systems
from .file_names import CHILLED_LOG, HEATING_TESTS, LAGGING, REGISTER, VALVES, WATER_LOG
from .model import Building, Row, Value, contract_fields, plain
from .pressure_units import PRESSURES, psi
from .workbook_file import workbook_bytes

Format = Callable[[Value], Value]


@dataclass(frozen=True)
class SheetStyle:
    """How a sheet is laid out; a field without a heading of its own is headed by its name."""

    headings: Mapping[str, str] = field(default_factory=dict)
    titles: Sequence[str] = ()
    left_out: frozenset[str] = frozenset()
    formats: Mapping[str, Format] = field(default_factory=dict)
    units: Mapping[str, str] = field(default_factory=dict)


def workbooks(building: Building) -> dict[str, bytes]:
    """Content by file; rows learn where they stand."""
    chilled = _book()
    chilled.epoch = CALENDAR_MAC_1904
    rows = of_systems(building["joints"], "CHW-F", "CHW-R")
    _sheet(chilled, "CHW joints", CHILLED_LOG, rows, CHILLED_STYLE)
    valves = _book()
    _sheet(valves, "Valves", VALVES, list(building.where("nodes", kind="valve")), VALVE_STYLE)
    _spare_discs(building, valves)
    tests = _book()
    rows = of_systems(building["tests"], "LTHW-F", "LTHW-R")
    _sheet(tests, "Pressure tests", HEATING_TESTS, rows, HEATING_TEST_STYLE)
    register = _book()
    for table, style in REGISTER_STYLES.items():
        _sheet(register, table.replace("_", " ").capitalize(), REGISTER, building[table], style)
    water = _book()
    _sheet(water, "Flushing", WATER_LOG, building["flushings"], FLUSHING_STYLE)
    _sheet(water, "Treatment", WATER_LOG, building["treatments"], TREATMENT_STYLE)
    lagging = _book()
    _sheet(lagging, "Lagging", LAGGING, building["insulations"], LAGGING_STYLE)
    books = {
        CHILLED_LOG: chilled,
        VALVES: valves,
        HEATING_TESTS: tests,
        REGISTER: register,
        WATER_LOG: water,
        LAGGING: lagging,
    }
    return {file: workbook_bytes(book, {}) for file, book in books.items()}


def _book() -> Workbook:
    book = Workbook()
    del book["Sheet"]
    return book


def _sheet(book: Workbook, title: str, file: str, rows: Sequence[Row], style: SheetStyle) -> None:
    sheet = book.create_sheet(title)
    fields = [name for name in contract_fields(rows[0].table) if name not in style.left_out]
    line = 0
    for text in style.titles:
        line += 1
        sheet.cell(line, 1, text)
    line += 2 if style.titles else 1
    for column, name in enumerate(fields, start=1):
        sheet.cell(line, column, style.headings.get(name, name.replace("_", " ").capitalize()))
    if style.units:
        line += 1
        for column, name in enumerate(fields, start=1):
            if name in style.units:
                sheet.cell(line, column, style.units[name])
    for row in rows:
        line += 1
        row.place = (file, title, line)
        for column, name in enumerate(fields, start=1):
            value = row.cell(name)
            if name in style.formats and name not in row.written and value is not None:
                value = style.formats[name](value)
            if value is None:
                continue
            cell = sheet.cell(line, column, plain(value) if isinstance(value, bool) else value)
            if isinstance(value, dt.date):
                cell.number_format = "dd/mm/yyyy"


def _spare_discs(building: Building, book: Workbook) -> None:
    """A second table under the first, as an office adds it: nothing to do with nodes."""
    sheet = book["Valves"]
    building.settings["last_valve_row"] = sheet.max_row
    line = sheet.max_row + 3
    for column, text in enumerate(("Spare discs", "Engraved", "Ordered by", "Quantity"), start=1):
        sheet.cell(line, column, text)
    for n, disc in enumerate(("blank, brass", "blank, stainless"), start=1):
        for column, text in enumerate((disc, "no", "MC-1", "12"), start=1):
            sheet.cell(line + n, column, text)
    building.plant_file("second-table", VALVES, "", "a list of spare discs stands under the table", "Valves", line)


def _word(**words: str) -> Format:
    return lambda value: words.get(str(value), value)


CHILLED_STYLE = SheetStyle(
    titles=("Chilled water flow and return, press joints", "SUB-2"),
    left_out=frozenset({"unit_of_count", "level", "joint_type", "drawing", "drawing_revision", "material_fitting"}),
    headings={
        "joint_id": "Joint ref",
        "section_id": "Pipe section",
        "fitting_kind": "Fitting type",
        "od_mm": "Dia",
        "material_tube": "Pipe material",
        "system_family": "Fitting system",
        "press_profile": "Jaw profile",
        "seal": "Sealing ring",
        "fitting_batch_id": "Lot",
        "tube_batch_id": "Cast no",
        "operative_id": "Installer",
        "tool_id": "Machine",
        "jaw_id": "Collar",
        "press_date": "Date made",
        "checker_id": "Inspected by",
        "check_date": "Date checked",
        "pressed_check": "Visual check",
        "seal_present": "Seal OK",
        "tube_to_next_mm": "To next (mm)",
    },
    formats={"od_mm": lambda value: size_words(value, f"{value}"), "material_tube": _word(carbon_steel="Carbon")},
)
VALVE_STYLE = SheetStyle(
    titles=("Valve schedule, as on the discs",),
    headings={
        "node_id": "Valve no",
        "kind": "Type",
        "system_id": "System",
        "name": "Description",
        "od_mm": "Size",
        "level": "Floor",
        "location": "Where",
        "elevation_m": "Height",
        "normal_position": "Normally",
        "close_by": "How to close",
        "remarks": "Notes",
    },
    formats={"kind": lambda _: "LSV", "normal_position": lambda _: "N.O."},
    units={"od_mm": "mm", "elevation_m": "m"},
)
HEATING_TEST_STYLE = SheetStyle(
    titles=("Heating, pressure tests", "SUB-1 form T-02"),
    left_out=frozenset({"barometer_start_mbar", "barometer_end_mbar"}),
    headings={
        "test_id": "Test no",
        "attempt": "Attempt no",
        "stage": "Type",
        "section_ids": "Extent",
        "medium": "Filled with",
        "required_pressure_bar": "Required pressure (psi)",
        "start_pressure_bar": "Start pressure (psi)",
        "end_pressure_bar": "End pressure (psi)",
        "relief_set_bar": "Relief setting (psi)",
        "date": "Date tested",
        "hold_min": "Hold (min)",
        "settle_min": "Settle (min)",
        "ambient_start_c": "Ambient start (°C)",
        "ambient_end_c": "Ambient end (°C)",
        "pipe_start_c": "Water temp start (°C)",
        "pipe_end_c": "Water temp end (°C)",
        "instrument_id": "Gauge no",
        "gauge_elevation_m": "Gauge height (m)",
        "tester": "Test engineer",
        "result": "Pass/fail",
        "made_safe": "After test",
    },
    formats={
        **dict.fromkeys(PRESSURES, psi),
        "stage": _word(visual="Vis", leak="LP", strength="Hydro"),
        "result": lambda value: "P" if value == "pass" else "F",
        "made_safe": _word(left_full_treated="Left full treated", drained_dried="Drained"),
    },
)
FLUSHING_STYLE = SheetStyle(
    titles=("Flushing, cleaning and disinfection", "MC-1 form C-04"),
    headings={
        "flushing_id": "Record",
        "kind": "What",
        "section_ids": "Extent",
        "flow_l_s": "Flow (L/s)",
        "velocity_m_s": "Velocity (m/s)",
        "duration_min": "Duration (min)",
        "water_changes": "Changes",
        "concentration_mg_l": "Dose (mg/L)",
        "contact_min": "Contact (min)",
        "done_by_role": "By",
    },
)
TREATMENT_STYLE = SheetStyle(
    titles=("Filling, treatment, samples and circulation", "MC-1 form C-05"),
    headings={
        "treatment_id": "Record",
        "kind": "What",
        "system_id": "System",
        "date": "On",
        "from_date": "From",
        "conductivity_us_cm": "Conductivity (µS/cm)",
        "chloride_mg_l": "Chloride (mg/L)",
        "iron_mg_l": "Iron (mg/L)",
        "oxygen_mg_l": "Dissolved oxygen (mg/L)",
        "colonies_cfu_ml": "Colony count (cfu/mL)",
        "legionella_cfu_l": "Legionella (cfu/L)",
        "hours_per_day": "Hours a day (h)",
        "inhibitor_mg_l": "Inhibitor (mg/L)",
        "done_by_role": "By",
    },
)
LAGGING_STYLE = SheetStyle(
    titles=("Lagging: applied and inspected",),
    headings={
        "insulation_id": "Sheet",
        "section_ids": "Sections",
        "thickness_mm": "Thickness (mm)",
        "vapour_barrier": "Vapour barrier",
        "joints_sealed": "Seams sealed",
        "applied_on": "Lagged on",
        "inspected_on": "Seen on",
        "inspected_by_role": "Seen by",
    },
)
REGISTER_STYLES = {
    "instruments": SheetStyle(
        headings={
            "instrument_id": "Gauge no",
            "kind": "Type",
            "serial": "Serial no",
            "range_min_bar": "Range min (bar)",
            "range_max_bar": "Full scale (bar)",
            "class_percent": "Class (%)",
            "resolution_bar": "Division (bar)",
        }
    ),
    "calibrations": SheetStyle(
        headings={
            "instrument_id": "Gauge no",
            "certificate_no": "Cert no",
            "calibrated_on": "Cal date",
            "due_on": "Cal due",
            "laboratory": "Lab",
            "error_found_bar": "As found (bar)",
        }
    ),
    "tools": SheetStyle(
        headings={
            "tool_id": "Tool no",
            "kind": "Type",
            "serial": "Serial no",
            "od_mm": "Size",
            "force_kn": "Force (kN)",
        }
    ),
    "tool_services": SheetStyle(
        headings={
            "tool_id": "Tool no",
            "serviced_on": "Last service",
            "due_on": "Next due",
            "cycle_count": "Cycle counter",
        }
    ),
}
