"""The untidy state's records folder: who keeps what, and how."""

from __future__ import annotations

from .csv_sources import csv_sources
from .file_names import (
    AIR_LOG,
    CHILLED_LOG,
    CHILLED_TESTS,
    GAS_LOG,
    GAS_TESTS,
    HEATING_LOG,
    HEATING_TESTS,
    HOT_WATER_LOG,
    TUBES,
)
from .heating_log import heating_log
from .model import Building
from .workbooks import workbooks

HABITS = (
    ("windows-1252", TUBES, "Windows-1252, semicolons, decimal commas"),
    ("windows-1252", HOT_WATER_LOG, "Windows-1252, semicolons, dates as day.month.year"),
    ("utf-16", AIR_LOG, "UTF-16, tabs"),
    ("utf-8-with-bom", "records/sections.csv", "UTF-8 with byte order mark"),
    ("base-1904", CHILLED_LOG, "workbook whose days count from 1904"),
    ("row-a-fitting", GAS_LOG, "one row a fitting, so that the ends are not logged one by one"),
    ("pressures-in-psi", HEATING_TESTS, "psi in the headings"),
    ("pressures-in-psi", CHILLED_TESTS, "psi, said only in project.yml"),
    ("pressures-in-mbar", GAS_TESTS, "mbar in the headings"),
)


def site_files(building: Building) -> dict[str, bytes]:
    """Every file of records/ by name; rows learn where they stand."""
    files = {HEATING_LOG: heating_log(building), **workbooks(building), **csv_sources(building)}
    for slug, file, note in HABITS:
        building.plant_file(slug, file, "", note)
    return files
