"""Example rows of the starter project: they refer to each other, and every id begins with EX-, to look like none."""

from __future__ import annotations

from witnessmark.model.contract import Field, contract

PREFIX = "EX-"
DOCUMENT = "EXAMPLE.txt"
_IDS = frozenset({"id", "ref", "refs", "person"})
_FOLLOWS_SECTION = "LTHW-F-R2"

# What differs from the example of the field in the contract; one entry a row.
_ROWS: dict[str, tuple[dict[str, str], ...]] = {
    "systems": ({"name": "Example: low temperature heating, flow"},),
    "sections": ({"name": "Example: heating flow riser 2, levels 1 to 5", "expected_ends": "2"},),
    "tubes": ({"tube_series": "table_x"},),
    "nodes": (
        {"name": "Example: riser 2 isolating valve"},
        {"node_id": "V-2-031", "name": "Example: riser 2 top valve", "level": "5", "elevation_m": "18.4"},
    ),
    "joints": (
        {"remarks": "Example: first end of an elbow"},
        {"joint_id": "LTHW-F-R2-J014-B", "remarks": "Example: second end of the same elbow, a row of its own"},
    ),
    "tests": (
        {
            "stage": "leak",
            "procedure": "",
            "required_pressure_bar": "1.0",
            "pressure_basis": "Low-pressure leak stage",
            "start_pressure_bar": "1.0",
            "end_pressure_bar": "1.0",
            "start_time": "08:30",
            "end_time": "09:15",
            "hold_min": "45",
            "settle_min": "",
            "made_safe": "",
            "made_safe_date": "",
            "remarks": "Example: leak stage, before the strength stage",
        },
        {"remarks": "Example: strength stage of the same attempt"},
    ),
    "instruments": ({"remarks": "Example row"},),
    "calibrations": ({"laboratory": "Example laboratory"},),
    "tools": (
        {"od_mm": "", "remarks": "Example: a press tool"},
        {"tool_id": "JW-22-1", "kind": "jaw", "serial": "J-22417", "cycle_limit": "", "remarks": "Example: a jaw"},
    ),
    "tool_services": ({"provider": "Example workshop"},),
    "operatives": (
        {"name": "(name of the example)", "remarks": "Example row"},
        {
            "operative_id": "OP-09",
            "name": "(name of the example)",
            "initials": "C.D.",
            "role": "Supervisor",
            "remarks": "Example row",
        },
    ),
    "trainings": (
        {"provider": "Example training centre"},
        {"operative_id": "OP-09", "provider": "Example training centre", "certificate_no": "TR-0332"},
    ),
    "batches": (
        {"description": "Example: elbow 90°, 22 mm", "wall_mm": "", "tube_series": "", "standard": ""},
        {
            "batch_id": "B-CU22-01",
            "item": "tube",
            "description": "Example: tube 22 × 0.9 mm",
            "standard": "EN 1057",
            "press_profile": "",
            "seal": "",
            "certificate_no": "MC-55121",
        },
    ),
    "ratings": tuple(
        {
            "rating_id": rating,
            "component": component,
            "applies_to": applies_to,
            "material": "",
            "od_from_mm": "",
            "od_to_mm": "",
            "temperature_c": celsius,
            "medium": "",
            "basis": f"Example: data sheet of the {component}, {point} point of its envelope",
        }
        for rating, component, applies_to in (
            ("RT-FAM-A", "fitting", "FAM-A"),
            ("RT-EPDM", "seal", "EPDM"),
            ("RT-VALVE", "valve", ""),
        )
        for celsius, point in (("-20", "first"), ("110", "second"))
    ),
    "documents": (
        {"title": "Example: test certificate"},
        {"document_id": "DOC-101", "title": "Example: calibration", "kind": "calibration_certificate", "about": "G-01"},
        {"document_id": "DOC-140", "title": "Example: tool service", "kind": "service_record", "about": "PT-02"},
        {"document_id": "DOC-160", "title": "Example: training", "kind": "training_certificate", "about": "OP-03"},
        {"document_id": "DOC-201", "title": "Example: material", "kind": "material_certificate", "about": "B-FA22-03"},
        {"document_id": "DOC-P01", "title": "Example: photo of a valve", "kind": "photo", "about": "V-2-014"},
        {"document_id": "DOC-P02", "title": "Example: the way to it", "kind": "photo", "about": "V-2-014"},
    ),
    "valves": ({"remarks": "Example: an isolating valve"},),
    "flushings": ({"date": "2026-03-10", "flow_l_s": "0.64", "remarks": "Example row"},),
    "treatments": ({"remarks": "Example: a sample and its results"},),
    "snags": ({"remarks": "Example row", "retest_test_id": f"{PREFIX}PT-014"},),
    "concessions": ({"remarks": "Example row", "subject": ""},),
    "alterations": ({"remarks": "Example: a valve changed after completion", "test_id": ""},),
    "supports": ({"od_mm": "22", "spacing_m": "2.1", "remarks": "Example row"},),
    "insulations": ({"remarks": "Example row"},),
}


def example_rows(table: str) -> list[dict[str, str]]:
    """Example rows of a table: field name to text as the contract writes it, '' where nothing is known."""
    rows = []
    for changes in _ROWS.get(table, ({},)):
        row = {field.name: field.example for field in contract()[table].fields} | changes
        if "section_ids" in row:
            row["section_ids"] = _FOLLOWS_SECTION
        if table == "documents":
            row["file"] = DOCUMENT
        rows.append({field.name: _prefixed(table, field, row[field.name]) for field in contract()[table].fields})
    return rows


def _prefixed(table: str, field: Field, text: str) -> str:
    is_id = field.reads in _IDS or (table, field.name) == ("documents", "about")
    return PREFIX + text if text and is_id else text
