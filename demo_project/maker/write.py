"""From the building in memory to a project folder."""

from __future__ import annotations

import shutil
from pathlib import Path

from .building import add_building
from .csv_tables import CsvStyle, csv_bytes
from .equipment import add_equipment
from .goods import add_goods
from .joints import add_joints
from .model import TABLES, Building
from .papers import add_papers
from .people import add_people
from .pressure_tests import add_tests
from .project_file import clean_project

KEPT = "tags.csv"


class WrongFolder(Exception):
    """The folder holds something else than this demo."""

    def __init__(self, folder: Path) -> None:
        super().__init__(f"{folder} holds a project that is not Tallow Yard; name an empty or a new folder.")


def clean_building() -> Building:
    """The building with everything in order."""
    building = Building({table: [] for table in TABLES})
    add_people(building)
    add_equipment(building)
    add_building(building)
    add_goods(building)
    add_joints(building)
    add_tests(building)
    _leave_out_unused_batches(building)
    add_papers(building)
    return building


def _leave_out_unused_batches(building: Building) -> None:
    used = {joint[field] for joint in building["joints"] for field in ("fitting_batch_id", "tube_batch_id")}
    building.tables["batches"] = [batch for batch in building["batches"] if batch["batch_id"] in used]


def write_clean(folder: Path) -> None:
    """The clean twin: one UTF-8 CSV a table, in the contract's own headings."""
    building = clean_building()
    files = {f"records/{table}.csv": csv_bytes(f"records/{table}.csv", table, building[table], CsvStyle()) for table in TABLES}
    _write(folder, building, files, clean_project())


def write_untidy(folder: Path) -> None:
    """The records as the site keeps them, faults included."""
    write_clean(folder)


def _write(folder: Path, building: Building, files: dict[str, bytes], settings: str) -> None:
    _make_room(folder)
    files = {**files, "project.yml": settings.encode()}
    files |= {f"documents/{name}": content for name, content in building.documents.items()}
    for name, content in sorted(files.items()):
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content)


def _make_room(folder: Path) -> None:
    """Take away what an earlier run wrote; tag codes are for ever and stay."""
    settings = folder / "project.yml"
    records, documents = folder / "records", folder / "documents"
    ours = settings.is_file() and "id: tallow-yard\n" in settings.read_text(encoding="utf-8")
    if not ours and any(path.exists() for path in (settings, records, documents)):
        raise WrongFolder(folder)
    if documents.exists():
        shutil.rmtree(documents)
    if records.exists():
        for path in sorted(records.iterdir()):
            if path.name != KEPT:
                path.unlink()
