"""Which file or sheet holds which table: what project.yml says, and files and sheets named after a table.

Everything below ``records/`` is either read or named in a finding; no file is passed over in silence.
"""

import fnmatch
import hashlib
import os
import stat
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path, PurePosixPath

from witnessmark.intake.csv_file import read_csv
from witnessmark.intake.grid import Grid, Remark
from witnessmark.intake.unreadable_file import UnreadableFile
from witnessmark.intake.xlsx_file import read_workbook
from witnessmark.model.contract import TABLE_NAMES
from witnessmark.model.settings import ProjectSettings, SourceSettings

RECORDS_FOLDER = "records"
CSV_ENDINGS = (".csv", ".tsv", ".txt")
WORKBOOK_ENDINGS = (".xlsx", ".xlsm")
_EXPLANATION = "read me"
"""The sheet of the starter workbook that explains the others."""
_NOT_TABLES = {".xls", ".ods", ".numbers", ".xlsb"}


@dataclass(frozen=True, slots=True)
class FileProblem:
    """A file or sheet that could not be read, was refused or was not asked for."""

    file: str
    sheet: str
    kind: str
    message: str
    remedy: str
    row: int = 0
    column: int | None = None


@dataclass(frozen=True, slots=True)
class PlannedSheet:
    """One sheet or CSV file with the table that it holds."""

    settings: SourceSettings
    grid: Grid
    sha256: str
    day_numbers_from: str = ""
    """'1900' or '1904' for a workbook, whose bare day numbers count from that year; nothing says so for a CSV file."""


@dataclass(frozen=True, slots=True)
class Plan:
    """All sheets to read, in the order of the contract's tables, and what went wrong on the way."""

    sheets: tuple[PlannedSheet, ...]
    problems: tuple[FileProblem, ...]
    hashes: dict[str, str]
    """SHA-256 of every file of records that was opened."""


class _Opened:
    """A records file, read once however many entries of project.yml name it."""

    def __init__(self, path: Path, label: str, settings: SourceSettings | None, max_bytes: int) -> None:
        self.grids: tuple[Grid, ...] = ()
        self.day_numbers_from = ""
        self.remarks: tuple[Remark, ...] = ()
        self.problem: FileProblem | None = None
        self.sha256 = ""
        try:
            if path.suffix.lower() in WORKBOOK_ENDINGS or path.suffix.lower() in _NOT_TABLES:
                book = read_workbook(path, label, max_bytes=max_bytes)
                self.grids, self.remarks = book.grids, book.remarks
                self.day_numbers_from = "1904" if book.base_1904 else "1900"
            else:
                reading = read_csv(
                    path,
                    label,
                    encoding=(settings.encoding or None) if settings else None,
                    delimiter=(settings.delimiter or None) if settings else None,
                    max_bytes=max_bytes,
                )
                self.grids, self.remarks = (reading.grid,), reading.remarks
            self.sha256 = _sha256(path)
        except UnreadableFile as error:
            self.problem = FileProblem(
                label, error.sheet or "", error.kind, error.message, error.remedy, error.row or 0
            )


def _sha256(path: Path) -> str:
    with path.open("rb") as handle:
        return hashlib.file_digest(handle, "sha256").hexdigest()


def inside(folder: Path, relative: str) -> Path | None:
    """The path below ``folder`` that ``relative`` names; ``None`` where it leaves the folder, by '..' or by a link."""
    if "\0" in relative:
        return None
    pure = PurePosixPath(relative.replace("\\", "/"))
    if pure.is_absolute() or ".." in pure.parts or (pure.parts and pure.parts[0].endswith(":")):
        return None
    try:
        path = folder.joinpath(*pure.parts)
        resolved, root = path.resolve(), folder.resolve()
    except (OSError, RuntimeError, ValueError):
        return None
    return path if resolved.is_relative_to(root) else None


def table_named(name: str) -> str | None:
    """The table that a file stem or sheet name is named after: 'joints', 'Joints L2', 'tool-services'."""
    words = name.strip().casefold().replace("-", " ").replace("_", " ")
    for table in sorted(TABLE_NAMES, key=len, reverse=True):
        plain = table.replace("_", " ")
        if words == plain or words.startswith(plain + " "):
            return table
    return None


class _Planner:
    def __init__(self, folder: Path, settings: ProjectSettings, progress: Callable[[str], None]) -> None:
        self._folder = folder
        self._settings = settings
        self._progress = progress
        self._opened: dict[str, _Opened] = {}
        self._taken: set[tuple[str, str]] = set()
        self.sheets: list[PlannedSheet] = []
        self.problems: list[FileProblem] = []

    def _open(self, path: Path, label: str, settings: SourceSettings | None) -> _Opened | None:
        opened = self._opened.get(label)
        if opened is None:
            self._progress(f"reading {label}")
            opened = _Opened(path, label, settings, self._settings.limits.max_file_mb * 1_000_000)
            self._opened[label] = opened
            if opened.problem:
                self.problems.append(opened.problem)
            for remark in opened.remarks:
                self.problems.append(
                    FileProblem(
                        label,
                        remark.sheet or "",
                        remark.kind,
                        remark.message,
                        remark.remedy,
                        remark.row or 0,
                        remark.column,
                    )
                )
        return None if opened.problem else opened

    def named(self, settings: SourceSettings) -> None:
        """Take one entry of project.yml."""
        path = inside(self._folder, settings.file)
        if path is None:
            self.problems.append(
                FileProblem(
                    settings.file,
                    "",
                    "path-leaves-project",
                    f"the path '{settings.file}' leaves the project folder",
                    "put the file below the project folder and name it from there",
                )
            )
            return
        label = PurePosixPath(settings.file.replace("\\", "/")).as_posix()
        opened = self._open(path, label, settings)
        if opened is None:
            self._taken.add((label, ""))
            return
        wanted = settings.sheets or ("*",)
        found = False
        for grid in opened.grids:
            name = grid.sheet or ""
            if (
                any(fnmatch.fnmatchcase(name.strip().casefold(), w.strip().casefold()) for w in wanted)
                or grid.sheet is None
            ):
                found = True
                self._taken.add((label, name))
                self.sheets.append(PlannedSheet(settings, grid, opened.sha256, opened.day_numbers_from))
        if not found:
            names = ", ".join(f"'{grid.sheet}'" for grid in opened.grids)
            self.problems.append(
                FileProblem(
                    label,
                    "",
                    "sheet-missing",
                    f"no sheet is named {' or '.join(settings.sheets)}; it has {names}",
                    "correct 'sheets' in project.yml",
                )
            )

    def discovered(self) -> None:
        """Take every other file below ``records/``."""
        for path, label in _record_files(self._folder):
            ending = path.suffix.lower()
            if not _is_regular(path, self._folder):
                self.problems.append(
                    FileProblem(
                        label,
                        "",
                        "path-leaves-project",
                        "it is a link out of the project folder, or no plain file",
                        "put the file itself there",
                    )
                )
            elif ending in CSV_ENDINGS:
                self._discovered_csv(path, label)
            elif ending in WORKBOOK_ENDINGS or ending in _NOT_TABLES:
                self._discovered_workbook(path, label)
            elif (label, "") not in self._taken:
                self.problems.append(_not_used(label, "", "it is neither a CSV file nor a workbook"))

    def _discovered_csv(self, path: Path, label: str) -> None:
        if (label, "") in self._taken:
            return
        table = table_named(path.stem)
        if table is None:
            self.problems.append(_not_used(label, "", "its name is no table of the contract"))
            return
        settings = SourceSettings(table=table, file=label)
        opened = self._open(path, label, settings)
        if opened is not None:
            self.sheets.extend(
                PlannedSheet(settings, grid, opened.sha256, opened.day_numbers_from) for grid in opened.grids
            )

    def _discovered_workbook(self, path: Path, label: str) -> None:
        if label in self._opened and self._opened[label].problem:
            return
        opened = self._open(path, label, None)
        if opened is None:
            return
        for grid in opened.grids:
            name = grid.sheet or ""
            if (label, name) in self._taken or not grid.rows or name.strip().casefold() == _EXPLANATION:
                continue
            table = table_named(name)
            if table is None:
                self.problems.append(_not_used(label, name, "its name is no table of the contract"))
            else:
                self.sheets.append(
                    PlannedSheet(SourceSettings(table=table, file=label), grid, opened.sha256, opened.day_numbers_from)
                )

    @property
    def hashes(self) -> dict[str, str]:
        """SHA-256 of the files opened."""
        return {label: opened.sha256 for label, opened in sorted(self._opened.items()) if opened.sha256}


def _not_used(label: str, sheet: str, why: str) -> FileProblem:
    what = f"sheet '{sheet}' was not read" if sheet else "the file was not read"
    return FileProblem(
        label,
        sheet,
        "file-not-used",
        f"{what}: {why}",
        "say under 'records' in project.yml which table it holds, or take it out of records/",
    )


def _record_files(folder: Path) -> Iterator[tuple[Path, str]]:
    root = folder / RECORDS_FOLDER
    for base, folders, names in os.walk(root):
        folders.sort()
        for name in sorted(names):
            if name.startswith((".", "~$")):
                continue
            path = Path(base) / name
            yield path, path.relative_to(folder).as_posix()


def _is_regular(path: Path, folder: Path) -> bool:
    try:
        return path.resolve().is_relative_to(folder.resolve()) and stat.S_ISREG(path.stat().st_mode)
    except (OSError, RuntimeError):
        return False


def plan(folder: Path, settings: ProjectSettings, progress: Callable[[str], None]) -> Plan:
    """Open every records file once and say which table each sheet holds."""
    planner = _Planner(folder, settings, progress)
    for source in settings.sources:
        planner.named(source)
    planner.discovered()
    order = {table: number for number, table in enumerate(TABLE_NAMES)}
    sheets = sorted(planner.sheets, key=lambda sheet: order.get(sheet.settings.table, len(order)))
    return Plan(tuple(sheets), tuple(planner.problems), planner.hashes)
