"""From the building in memory to a project folder."""

from __future__ import annotations

import csv
import io
import shutil
from pathlib import Path

from .building import add_building
from .cells import NEVER_GUESS
from .changes import add_changes
from .csv_tables import CsvStyle, csv_bytes
from .equipment import add_equipment
from .faults import FAULTS, NO_TABLE_YET
from .goods import add_goods
from .insulation import add_insulations
from .issued_tags import CODES, add_issued_tags
from .joints import add_joints
from .model import TABLES, Building
from .papers import add_papers
from .people import add_people
from .pressure_tests import add_tests
from .project_file import clean_project, untidy_project
from .ratings import add_ratings
from .site_files import site_files
from .supports import add_supports
from .systems import add_systems
from .valves import add_valves
from .water import add_water

KEPT = "tags.csv"
PLANTED = "planted.csv"


class WrongFolder(Exception):
    """The folder holds something else than this demo."""

    def __init__(self, folder: Path) -> None:
        super().__init__(f"{folder} holds a project that is not Tallow Yard; name an empty or a new folder.")


def clean_building() -> Building:
    """The building with everything in order."""
    building = Building({table: [] for table in TABLES})
    add_people(building)
    add_equipment(building)
    add_systems(building)
    add_building(building)
    add_goods(building)
    add_joints(building)
    add_tests(building)
    _leave_out_unused_batches(building)
    add_ratings(building)
    add_papers(building)
    add_valves(building)
    add_supports(building)
    add_insulations(building)
    add_water(building)
    add_changes(building)
    add_issued_tags(building)
    return building


def _leave_out_unused_batches(building: Building) -> None:
    used = {joint[field] for joint in building["joints"] for field in ("fitting_batch_id", "tube_batch_id")}
    building.tables["batches"] = [batch for batch in building["batches"] if batch["batch_id"] in used]


def write_clean(folder: Path) -> None:
    """The clean twin: no fault, one UTF-8 CSV a table, in the contract's own headings."""
    building = clean_building()
    _write(folder, building, _tidy_files(building), clean_project("2026-05-08"))


def write_tidy(folder: Path) -> None:
    """The faults of the evidence in tidy files: everything can be read, and should worry the reader."""
    building = _faulty_building()
    files = _tidy_files(building)
    _write(folder, building, {**files, PLANTED: _planted(building)}, clean_project(_registered_on(building)))


def write_untidy(folder: Path) -> None:
    """The records as the site keeps them, faults included."""
    building = _faulty_building()
    for never_guess in NEVER_GUESS:
        never_guess(building)
    files = site_files(building)
    settings = untidy_project(_registered_on(building), int(str(building.settings["last_valve_row"])))
    _write(folder, building, {**files, PLANTED: _planted(building)}, settings)


def _faulty_building() -> Building:
    building = clean_building()
    for fault in FAULTS:
        fault(building)
    return building


def _registered_on(building: Building) -> str:
    return str(building.settings["registered_on"])


def _tidy_files(building: Building) -> dict[str, bytes]:
    style = CsvStyle(as_written=False)
    return {
        f"records/{table}.csv": csv_bytes(f"records/{table}.csv", table, building[table], style) for table in TABLES
    }


def _planted(building: Building) -> bytes:
    """The list of what was spoilt on purpose, by fault, and where it stands."""
    buffer = io.StringIO()
    writer = csv.writer(buffer, lineterminator="\r\n")
    writer.writerow(["fault", "file", "sheet", "row", "field", "note"])
    for planted in building.planted:
        file, sheet, line = planted.row.place if planted.row else (planted.file, planted.sheet, planted.line)
        writer.writerow([planted.fault, file, sheet, line or "", planted.field, planted.note])
    for slug, missing in NO_TABLE_YET:
        writer.writerow([slug, "", "", "", "", f"no table yet: {missing}"])
    return buffer.getvalue().encode()


def _write(folder: Path, building: Building, files: dict[str, bytes], settings: str) -> None:
    _make_room(folder)
    files = {**files, "project.yml": settings.encode()}
    if not (folder / "records" / KEPT).exists():
        files[f"records/{KEPT}"] = CODES.read_bytes()
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
