"""The export of sound records holds together: types, keys and references, by the frictionless library."""

import csv
import importlib.util
import sys
from pathlib import Path
from types import ModuleType

import pytest
from frictionless import Package

from witnessmark import pipeline
from witnessmark.model.contract import contract
from witnessmark.pack.data_export import export_data

SOUND = Path(__file__).resolve().parents[1] / "checks" / "sound.py"


def _sound() -> ModuleType:
    name = "sound_project.sound"
    if name not in sys.modules:
        spec = importlib.util.spec_from_file_location(name, SOUND)
        assert spec is not None
        assert spec.loader is not None
        sys.modules[name] = importlib.util.module_from_spec(spec)
        spec.loader.exec_module(sys.modules[name])
    return sys.modules[name]


def _exported(seed: int, folder: Path) -> tuple[dict[str, list[dict[str, str]]], Path]:
    tables, settings = _sound().sound_records(seed)
    _sound().write_project(folder / "project", tables, settings)
    export_data(pipeline.run(folder / "project"), folder / "data")
    return tables, folder / "data"


def _errors(data: Path) -> list[str]:
    report = Package(str(data / "datapackage.json")).validate()
    return [f"{task.name}: {error.message}" for task in report.tasks for error in task.errors]


@pytest.mark.parametrize("seed", [200, 201])
def test_clean_records_export_into_tables_that_hold_together(seed: int, tmp_path: Path) -> None:
    tables, data = _exported(seed, tmp_path)
    assert _errors(data) == []
    rows = {}
    for name in contract():
        with (data / f"{name}.csv").open(encoding="utf-8", newline="") as handle:
            rows[name] = sum(1 for _ in csv.DictReader(handle))
    assert rows == {name: len(tables[name]) for name in contract()}
    assert min(rows.values()) > 0, "every table of the contract has rows to be looked at"


@pytest.mark.parametrize(
    ("table", "column"),
    [
        ("valves", "node_id"), ("alterations", "node_id"), ("treatments", "system_id"), ("supports", "section_id"),
        ("joints", "operative_id"), ("joints", "fitting_batch_id"), ("tests", "instrument_id"),
        ("flushings", "document_id"),
        ("snags", "document_id"), ("concessions", "document_id"), ("insulations", "document_id"),
    ],
)  # fmt: skip
def test_a_reference_to_nothing_would_be_noticed(table: str, column: str, tmp_path: Path) -> None:
    _, data = _exported(202, tmp_path)
    path = data / f"{table}.csv"
    with path.open(encoding="utf-8", newline="") as handle:
        reader = csv.DictReader(handle)
        rows = list(reader)
        columns = list(reader.fieldnames or ())
    next(row for row in rows if row[column])[column] = "NOT-THERE"
    with path.open("w", encoding="utf-8", newline="") as handle:
        writer = csv.DictWriter(handle, columns, lineterminator="\n")
        writer.writeheader()
        writer.writerows(rows)
    # Frictionless also counts bytes; only what it says of keys is looked at.
    assert any("foreign key" in error.casefold() and error.startswith(table) for error in _errors(data))
