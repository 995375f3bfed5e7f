"""A project in memory: one riser of 40 m, its ratings, its procedure and its test, changed by the test that uses it."""

import datetime
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from witnessmark.model.procedure import ProcedureStage, TestProcedure
from witnessmark.model.project import Project, Records
from witnessmark.model.settings import Issue, ProjectSettings, TagSettings

WET = TestProcedure(
    "wet",
    "Water test at 1.5 times the maximum operating pressure",
    "Invented specification",
    (
        ProcedureStage(
            stage="strength", medium="water", basis="mop", factor=1.5, cap_bar=16, settle_min=30, hold_min=60,
            allowed_drop_bar=0.0,
        ),
    ),
)  # fmt: skip
DRY = TestProcedure(
    "dry",
    "Air test",
    "Invented specification",
    (
        ProcedureStage(
            stage="leak", medium="air", basis="fixed", fixed_bar=0.15, settle_min=0, hold_min=30, allowed_drop_bar=0.0
        ),
    ),
)
SETTINGS: dict[str, Any] = {
    "id": "T-1",
    "name": "Test project",
    "time_zone": "Europe/London",
    "issue": Issue("P01", datetime.date(2026, 5, 15)),
    "tags": TagSettings("tags.example"),
    "testing": {"boosted_cold_water": "wet"},
    "procedures": {"wet": WET, "dry": DRY},
}
TABLES: dict[str, dict[str, Any]] = {
    "systems": {
        "system_id": "BCW", "name": "Boosted cold water", "service": "boosted_cold_water", "medium": "drinking_water",
        "max_operating_pressure_bar": 6.0, "max_design_pressure_bar": 9.0, "min_temperature_c": 5.0,
        "max_temperature_c": 20.0, "upset_temperature_c": 25.0,
    },
    "sections": {
        "section_id": "R1", "system_id": "BCW", "system_family": "FAM-S", "seal": "EPDM", "from_node": "V-1",
        "elevation_low_m": 0.0, "elevation_high_m": 40.0,
    },
    "tubes": {
        "section_id": "R1", "material": "stainless_steel", "od_mm": 54.0, "wall_mm": 1.5, "length_m": 40.0,
    },
    "nodes": {"node_id": "V-1", "kind": "valve", "od_mm": 54.0},
    "tests": {
        "test_id": "PT-1", "attempt": 1, "stage": "strength", "section_ids": ("R1",), "procedure": "wet",
        "medium": "water", "required_pressure_bar": 9.0, "start_pressure_bar": 13.0, "end_pressure_bar": 13.0,
        "date": datetime.date(2026, 3, 2), "start_time": datetime.time(10), "end_time": datetime.time(11),
        "settle_min": 30.0, "hold_min": 60.0, "pipe_start_c": 12.0, "pipe_end_c": 12.0, "instrument_id": "G-1",
        "gauge_elevation_m": 0.0, "topped_up": False, "joints_inspected": True, "result": "pass",
    },
    "instruments": {
        "instrument_id": "G-1", "serial": "GA-1", "range_min_bar": 0.0, "range_max_bar": 25.0, "class_percent": 1.0,
        "resolution_bar": 0.1,
    },
    "calibrations": {
        "instrument_id": "G-1", "serial_on_certificate": "GA-1", "calibrated_on": datetime.date(2026, 1, 5),
        "due_on": datetime.date(2027, 1, 5), "result": "pass",
    },
}  # fmt: skip
RATINGS = (("fitting", "FAM-S"), ("seal", "EPDM"), ("valve", None))
MakeProject = Callable[..., Project]


@pytest.fixture
def make_riser(record: Any) -> MakeProject:
    """A project of one riser; keywords change fields of a table, a list replaces its records."""

    def make(settings: dict[str, Any] | None = None, traces: tuple[Any, ...] = (), **changes: Any) -> Project:
        tables: dict[str, Any] = {}
        for name, values in TABLES.items():
            change = changes.get(name, {})
            rows = change if isinstance(change, list) else [values | change]
            tables[name] = tuple(record(name, **row) for row in rows)
        ratings = changes.get("ratings", {})
        tables["ratings"] = tuple(
            record(
                "ratings", rating_id=f"R-{component}", component=component, applies_to=name, temperature_c=celsius,
                pressure_bar=ratings.get(component, 16.0),
            )
            for component, name in RATINGS
            if ratings.get(component, 16.0) is not None
            for celsius in (-20.0, 110.0)
        )  # fmt: skip
        for name in changes.keys() - TABLES.keys() - {"ratings"}:
            tables[name] = tuple(record(name, **row) for row in changes[name])
        return Project(Path(), ProjectSettings(**SETTINGS | (settings or {})), Records(**tables), traces=traces)

    return make
