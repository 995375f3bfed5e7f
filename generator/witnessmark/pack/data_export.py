"""The machine-readable export, ``OUT/audit/data/``: clean CSV files with their Table Schemas, one data package."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

from witnessmark.model.contract import TABLE_NAMES
from witnessmark.pack import ledger_tables
from witnessmark.pack.chain_figures import joint_chains, section_chains, system_chains
from witnessmark.pack.data_guide import data_guide
from witnessmark.pack.data_table import DataTable, figure, write_json
from witnessmark.pack.record_tables import record_table
from witnessmark.pack.section_figures import section_figures, tube_figures
from witnessmark.pack.stage_figures import stage_figures, stage_sections
from witnessmark.pack.system_figures import system_figures
from witnessmark.pack.tag_table import tag_table

if TYPE_CHECKING:
    from witnessmark.pipeline import Outcome

DATA_PACKAGE = "datapackage.json"
GUIDE = "DATA.md"


def export_data(outcome: Outcome, out_dir: Path) -> None:
    """Write every table, its schema, the data package and a guide into ``out_dir``, made if it is missing."""
    out_dir.mkdir(parents=True, exist_ok=True)
    tables = data_tables(outcome)
    for table in tables:
        table.write(out_dir)
    write_json(out_dir / DATA_PACKAGE, data_package(outcome, tables))
    (out_dir / GUIDE).write_bytes(data_guide(tables).encode())


def data_tables(outcome: Outcome) -> list[DataTable]:
    """Every table of the export, in the order of the contract and then the ledgers."""
    records = outcome.project.records
    extra = {
        "systems": (*system_figures(outcome), *system_chains(outcome)),
        "sections": (*section_figures(outcome), *section_chains(outcome)),
        "tubes": tube_figures(outcome),
        "tests": stage_figures(outcome),
        "joints": (
            figure(
                "recorded_as_end",
                "boolean",
                "Recorded as an end",
                "no: the log has one row a fitting, so that this end was not recorded by itself.",
                lambda joint: joint.recorded_as_end,
            ),
            *joint_chains(outcome),
        ),
    }
    tables = [record_table(name, records, extra.get(name, ())) for name in TABLE_NAMES if name != "tags"]
    return [
        *tables,
        tag_table(outcome),
        stage_sections(records),
        ledger_tables.findings(outcome),
        ledger_tables.finding_sections(outcome),
        ledger_tables.repairs(outcome),
        ledger_tables.set_aside(outcome),
        ledger_tables.accounts(outcome),
    ]


def data_package(outcome: Outcome, tables: list[DataTable]) -> dict[str, Any]:
    """The descriptor of the data package. It carries no clock: its version is the number of the issue."""
    settings = outcome.project.settings
    return {
        "$schema": "https://datapackage.org/profiles/1.0/datapackage.json",
        "name": "witnessmark-data",
        "title": f"Records and figures of {settings.name}",
        "description": f"What the pages show, the files say. {GUIDE} describes every column.",
        "version": settings.issue.number,
        "resources": [
            {
                "name": table.name,
                "title": table.title,
                "path": table.file_name,
                "profile": "tabular-data-resource",
                "format": "csv",
                "mediatype": "text/csv",
                "encoding": "utf-8",
                "schema": table.schema_name,
            }
            for table in tables
        ],
    }
