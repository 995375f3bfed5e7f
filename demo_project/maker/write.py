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
from .expected import CHECKS
from .faults import FAULTS, Fault
from .goods import add_goods
from .insulation import add_insulations
from .issued_tags import CODES, add_issued_tags
from .joints import add_joints
from .model import TABLES, Building
from .papers import add_papers, declare_hashes
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
REGISTERED = "2026-05-08"


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
    declare_hashes(building)
    return building


def _leave_out_unused_batches(building: Building) -> None:
    used = {joint[field] for joint in building["joints"] for field in ("fitting_batch_id", "tube_batch_id")}
    building.tables["batches"] = [batch for batch in building["batches"] if batch["batch_id"] in used]


def write_clean(folder: Path) -> None:
    """The clean twin: no fault, one UTF-8 CSV a table, in the contract's own headings."""
    _write(folder, clean_files(clean_building()))


def write_tidy(folder: Path) -> None:
    """The faults of the evidence in tidy files: everything can be read, and should worry the reader."""
    building = clean_building()
    for fault in FAULTS:
        fault(building)
    _write(folder, faulty_files(building))


def write_fault(folder: Path, name: str) -> None:
    """The clean twin with one fault in tidy files; ``LookupError`` where there is none of that name."""
    building = clean_building()
    plant(building, name)
    _write(folder, faulty_files(building))


def write_untidy(folder: Path) -> None:
    """The records as the site keeps them, faults included."""
    building = clean_building()
    for fault in (*FAULTS, *NEVER_GUESS):
        fault(building)
    files = site_files(building)
    settings = untidy_project(_registered_on(building), int(str(building.settings["last_valve_row"])))
    _write(folder, _whole(building, {**files, PLANTED: _planted(building)}, settings))


def fault_names() -> list[str]:
    """Faults of the evidence, each of which can be planted alone."""
    return [_name(fault) for fault in FAULTS]


def plant(building: Building, name: str) -> None:
    """Plant one fault of the evidence; ``LookupError`` where there is none of that name."""
    for fault in FAULTS:
        if _name(fault) == name:
            return fault(building)
    raise LookupError(f"There is no fault {name} to plant alone. There are: {', '.join(fault_names())}.")


def clean_files(building: Building) -> dict[str, bytes]:
    """Every file of a tidy project folder to its content."""
    return _whole(building, _tidy_tables(building), clean_project(_registered_on(building)))


def faulty_files(building: Building) -> dict[str, bytes]:
    """Those of :func:`clean_files`, and the list of what was planted."""
    files = clean_files(building)
    return {**files, PLANTED: _planted(building)}


def _name(fault: Fault) -> str:
    return fault.__name__.replace("_", "-")


def _registered_on(building: Building) -> str:
    return str(building.settings.get("registered_on", REGISTERED))


def _tidy_tables(building: Building) -> dict[str, bytes]:
    style = CsvStyle(as_written=False)
    return {
        f"records/{table}.csv": csv_bytes(f"records/{table}.csv", table, building[table], style) for table in TABLES
    }


def _whole(building: Building, files: dict[str, bytes], settings: str) -> dict[str, bytes]:
    documents = {f"documents/{name}": content for name, content in building.documents.items()}
    return {**files, **documents, "project.yml": settings.encode()}


def _planted(building: Building) -> bytes:
    """The list of what was spoilt on purpose, by fault, and where it stands."""
    buffer = io.StringIO()
    writer = csv.writer(buffer, lineterminator="\r\n")
    writer.writerow(["fault", "file", "sheet", "row", "field", "note", "checks"])
    for planted in building.planted:
        file, sheet, line = planted.row.place if planted.row else (planted.file, planted.sheet, planted.line)
        checks = "; ".join(CHECKS.get(planted.fault, ()))
        writer.writerow([planted.fault, file, sheet, line or "", planted.field, planted.note, checks])
    return buffer.getvalue().encode()


def _write(folder: Path, files: dict[str, bytes]) -> None:
    _make_room(folder)
    if not (folder / "records" / KEPT).exists():
        files = {**files, f"records/{KEPT}": CODES.read_bytes()}
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
