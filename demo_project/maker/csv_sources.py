"""CSV files of the untidy state: encodings, separators, headings and words of four offices."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from itertools import groupby

from .csv_tables import CsvStyle, csv_bytes, decimal_comma
from .file_names import (
    AIR_LOG,
    BRACKETS,
    CHILLED_TESTS,
    COLD_WATER_LOG,
    DELIVERIES,
    GAS_LOG,
    GAS_TESTS,
    HOT_WATER_LOG,
    SNAGS,
    TUBES,
    VALVE_DISCS,
    WATER_TESTS,
)
from .model import Building, Row, Value, contract_fields, plain
from .pressure_units import PRESSURES, mbar_text, psi_text


def csv_sources(building: Building) -> dict[str, bytes]:
    """Content by file; rows learn where they stand."""
    joints, tests = building["joints"], building["tests"]
    others = [row for row in building["nodes"] if row["kind"] != "valve"]
    plan: list[tuple[str, str, Sequence[Row], CsvStyle]] = [
        (f"records/{table}.csv", table, building[table], CsvStyle())
        for table in (
            "systems",
            "operatives",
            "trainings",
            "ratings",
            "documents",
            "concessions",
            "alterations",
            "issued_tags",
        )
    ]
    plan += [
        ("records/sections.csv", "sections", building["sections"], CsvStyle(encoding="utf-8-sig")),
        ("records/nodes.csv", "nodes", others, CsvStyle()),
        (TUBES, "tubes", building["tubes"], TUBE_STYLE),
        (VALVE_DISCS, "valves", building["valves"], VALVE_DISC_STYLE),
        (SNAGS, "snags", building["snags"], SNAG_STYLE),
        (BRACKETS, "supports", building["supports"], BRACKET_STYLE),
        (DELIVERIES, "batches", building["batches"], DELIVERY_STYLE),
        (COLD_WATER_LOG, "joints", of_systems(joints, "MCW", "BCW"), CsvStyle()),
        (HOT_WATER_LOG, "joints", of_systems(joints, "DHW-F", "DHW-R"), HOT_WATER_STYLE),
        (AIR_LOG, "joints", of_systems(joints, "CA"), CsvStyle(encoding="utf-16", delimiter="\t")),
        (CHILLED_TESTS, "tests", of_systems(tests, "CHW-F", "CHW-R"), PSI_STYLE),
        (WATER_TESTS, "tests", of_systems(tests, "MCW", "BCW", "DHW-F", "DHW-R"), CsvStyle()),
        (GAS_TESTS, "tests", of_systems(tests, "CA", "NG"), MBAR_STYLE),
    ]
    files = {file: csv_bytes(file, table, rows, style) for file, table, rows, style in plan}
    files[GAS_LOG] = _gas_log(of_systems(joints, "NG"))
    return files


def of_systems(rows: Sequence[Row], *systems: str) -> list[Row]:
    """Joints or tests of some systems, by the section that they name first."""
    field = "section_ids" if rows and rows[0].table == "tests" else "section_id"
    return [row for row in rows if row.text(field).startswith(tuple(f"{system}-" for system in systems))]


def _gas_log(joints: list[Row]) -> bytes:
    """One row a fitting: the rows of its ends learn the same place."""
    whole: list[Row] = []
    members: list[list[Row]] = []
    for stem, group in groupby(joints, key=lambda joint: joint.text("joint_id").rstrip("ABC").rstrip("-")):
        ends = list(group)
        whole.append(Row("joints", {**ends[0].values, "joint_id": stem}))
        members.append(ends)
    columns = tuple(name for name in contract_fields("joints") if name != "unit_of_count")
    content = csv_bytes(GAS_LOG, "joints", whole, CsvStyle(columns=columns))
    for row, ends in zip(whole, members, strict=True):
        for end in ends:
            end.place = row.place
    return content


def _dotted(value: Value) -> str:
    return f"{value:%d.%m.%Y}" if isinstance(value, dt.date) else plain(value)


def _slashed(value: Value) -> str:
    return f"{value:%d/%m/%Y}" if isinstance(value, dt.date) else plain(value)


def _words(**words: str) -> dict[str, str]:
    return words


TUBE_MATERIALS = _words(copper="Cu", stainless_steel="St/St", carbon_steel="C-steel")
TUBE_SERIES = _words(table_x="Table X", series_1="Series 1", series_2="Series 2", press_carbon="EN 10305-3")
HOT_WATER_FITTINGS = _words(coupling="Coupler", elbow="90°", adaptor="FI adaptor")

TUBE_STYLE = CsvStyle(
    encoding="cp1252",
    delimiter=";",
    headings={
        "section_id": "Section",
        "material": "Material",
        "od_mm": "Ø mm",
        "wall_mm": "Wall mm",
        "tube_series": "Series",
        "length_m": "Length (m)",
        "batch_id": "Heat no",
    },
    formats={
        "material": lambda value: TUBE_MATERIALS[str(value)],
        "od_mm": decimal_comma,
        "wall_mm": decimal_comma,
        "length_m": decimal_comma,
        "tube_series": lambda value: TUBE_SERIES[str(value)],
    },
)
DELIVERY_STYLE = CsvStyle(
    encoding="utf-8-sig",
    headings={
        "batch_id": "Batch no",
        "item": "Goods",
        "description": "Goods description",
        "material": "Mat",
        "standard": "Spec",
        "od_mm": "Size",
        "wall_mm": "Wall (mm)",
        "tube_series": "Series",
        "system_family": "Press system",
        "press_profile": "Contour",
        "seal": "O-ring",
        "certificate_type": "EN 10204",
        "certificate_no": "Cert no",
        "delivery_note": "Delivery note no",
        "received_on": "Date received",
        "quantity": "Qty",
        "quarantined": "Hold",
        "potable_approval": "Approval",
        "document_id": "File",
    },
    formats={"received_on": _slashed, "item": lambda value: "Pipe" if value == "tube" else "Fittings"},
)
HOT_WATER_STYLE = CsvStyle(
    encoding="cp1252",
    delimiter=";",
    headings={
        "joint_id": "Joint ref",
        "section_id": "Section",
        "level": "Floor",
        "location": "Position",
        "drawing": "Drg",
        "drawing_revision": "Drg rev",
        "joint_type": "Joint kind",
        "fitting_kind": "Item",
        "od_mm": "Ø",
        "material_tube": "Pipe material",
        "material_fitting": "Fitting material",
        "operative_id": "Fitter",
        "tool_id": "Machine",
        "jaw_id": "Jaw no",
        "press_date": "Date pressed",
        "press_time": "Time pressed",
        "checker_id": "Inspector",
        "check_date": "Inspected on",
        "pressed_check": "Inspected",
        "press_count": "No of presses",
        "status": "Joint status",
    },
    formats={
        "press_date": _dotted,
        "check_date": _dotted,
        "fitting_kind": lambda value: HOT_WATER_FITTINGS.get(str(value), str(value)),
        "material_tube": lambda value: "s/s" if value == "stainless_steel" else TUBE_MATERIALS[str(value)],
    },
)
VALVE_DISC_STYLE = CsvStyle(
    encoding="utf-8-sig",
    headings={
        "valve_id": "Disc",
        "node_id": "Valve set",
        "kind": "Function",
        "pressure_rating_bar": "PN (bar)",
        "max_temperature_c": "Max temp (°C)",
        "normal_position": "Normally",
        "closes": "Shuts",
        "turns": "Turns to shut",
        "section_ids": "Shuts off",
        "photo_near": "Photo",
        "photo_far": "Photo of the way",
        "exercised_on": "Exercised",
        "holds_tight": "Tight",
        "consequence": "What stops",
    },
    formats={"exercised_on": _slashed, "normal_position": lambda value: "N.O." if value == "open" else "N.C."},
)
SNAG_STYLE = CsvStyle(
    encoding="cp1252",
    delimiter=";",
    headings={
        "snag_id": "Snag no",
        "description": "What is wrong",
        "snag_class": "Class",
        "kind": "About",
        "section_ids": "Sections",
        "joint_ids": "Joints",
        "raised_by_role": "Raised by",
        "raised_on": "Raised",
        "due_on": "Due",
        "owner_role": "Whose",
        "action": "Done",
        "closed_on": "Closed",
        "closed_by_role": "Closed by",
        "retest_required": "Retest?",
        "retest_test_id": "Retest no",
        "document_id": "File",
        "remarks": "Notes",
    },
    formats={"raised_on": _dotted, "due_on": _dotted, "closed_on": _dotted},
)
BRACKET_STYLE = CsvStyle(
    headings={
        "support_id": "Ref",
        "section_id": "Pipe section",
        "kind": "What",
        "od_mm": "Size (mm)",
        "spacing_m": "Largest distance (m)",
        "from_fitting_mm": "From fitting (mm)",
        "takes_up_mm": "Takes up (mm)",
        "inspected_on": "Seen on",
        "inspected_by_role": "Seen by",
    },
    formats={"inspected_on": _slashed},
)
PSI_STYLE = CsvStyle(
    headings={
        "test_id": "Test no",
        "stage": "Test stage",
        "section_ids": "Sections tested",
        "required_pressure_bar": "Required",
        "start_pressure_bar": "Pressure start",
        "end_pressure_bar": "Pressure end",
        "relief_set_bar": "Relief",
        "date": "Test date",
        "hold_min": "Duration (min)",
        "instrument_id": "Gauge no",
        "tester": "Tested by",
        "result": "Pass/fail",
    },
    formats=dict.fromkeys(PRESSURES, psi_text) | {"result": lambda value: str(value).upper()},
)
MBAR_STYLE = CsvStyle(
    headings={
        "required_pressure_bar": "Required pressure (mbar)",
        "start_pressure_bar": "Start pressure (mbar)",
        "end_pressure_bar": "End pressure (mbar)",
        "relief_set_bar": "Relief setting (mbar)",
    },
    formats=dict.fromkeys(PRESSURES, mbar_text),
)
