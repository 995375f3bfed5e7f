"""The starter project that ``witnessmark init DIR`` writes."""

from __future__ import annotations

from pathlib import Path

from witnessmark.model.bundled import shared_path
from witnessmark.model.contract import FILLED_IN, contract
from witnessmark.pack.csv_writer import write_csv
from witnessmark.pack.refusal import CannotWrite, reason
from witnessmark.pack.starter_rows import DOCUMENT, example_rows
from witnessmark.pack.starter_workbook import starter_workbook

PROJECT_FILE = "project.yml"
SCHEMA_FILE = "project.schema.json"
WORKBOOK = "templates/records-template.xlsx"
_FOLDERS = ("records", "documents", "templates")


class StarterExists(CannotWrite):
    """A folder that already holds a project, or something where the starter would go."""

    def __init__(self, path: Path) -> None:
        super().__init__(f"{path}: it exists, and a starter project writes over nothing; name a folder without it.")


class StarterNotWritable(CannotWrite):
    """A folder that cannot be made or filled."""

    def __init__(self, folder: Path, error: OSError) -> None:
        super().__init__(f"{folder}: a starter project cannot be written there ({reason(error)}); name another folder.")


def write_starter(folder: Path) -> None:
    """Write a project that can be checked and built as it stands.

    ``project.yml`` with its JSON Schema beside it, one CSV file a table with example rows in ``records/``, the
    same as a workbook in ``templates/``, and a document in ``documents/``. The same bytes every time.
    Raises ``StarterExists`` or ``StarterNotWritable``; where it raises the former, nothing was written.
    """
    files = _files()
    try:
        if folder.exists() and not folder.is_dir():
            raise StarterExists(folder)
        for name in files:
            if (folder / name).exists():
                raise StarterExists(folder / name)
        for name in _FOLDERS:
            if (folder / name).is_dir() and any((folder / name).iterdir()):
                raise StarterExists(folder / name)
            (folder / name).mkdir(parents=True, exist_ok=True)
        for name, data in files.items():
            (folder / name).write_bytes(data)
        for name in FILLED_IN:
            _write_table(folder / "records" / f"{name}.csv", name)
    except OSError as error:
        raise StarterNotWritable(folder, error) from error


def _files() -> dict[str, bytes]:
    return {
        PROJECT_FILE: shared_path("starter/project.yml").read_bytes(),
        SCHEMA_FILE: shared_path("contract/project.schema.json").read_bytes(),
        WORKBOOK: starter_workbook(),
        f"documents/{DOCUMENT}": shared_path(f"starter/{DOCUMENT}").read_bytes(),
    }


def _write_table(path: Path, name: str) -> None:
    columns = [field.name for field in contract()[name].fields]
    write_csv(path, columns, [[row[column] for column in columns] for row in example_rows(name)], byte_order_mark=True)
