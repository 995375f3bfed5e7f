"""Documents that the records name: are they there, inside the project folder, and which bytes do they hold?

Logger files among them are read as traces.
"""

import hashlib
import stat
from pathlib import Path

from witnessmark.intake.draft import Draft, Ledger, PendingFinding
from witnessmark.intake.logger_file import read_logger_file
from witnessmark.intake.source_plan import inside
from witnessmark.model.settings import LoggerAnswer, ProjectSettings
from witnessmark.model.source import SourceLocation
from witnessmark.model.trace import Trace

DOCUMENTS_FOLDER = "documents"


def look_at_documents(draft: Draft, folder: Path, ledger: Ledger) -> None:
    """Add SHA-256 and size of every document; a path that leads out of the project folder is not kept."""
    root = folder / DOCUMENTS_FOLDER
    hashes: list[str | None] = []
    sizes: list[int | None] = []
    for position, relative in enumerate(draft.columns["file"]):
        digest, size = None, None
        if relative is not None:
            path = inside(root, relative)
            problem = _problem(path, relative)
            if problem is None and path is not None:
                try:
                    with path.open("rb") as handle:
                        digest = hashlib.file_digest(handle, "sha256").hexdigest()
                    size = path.stat().st_size
                except OSError as error:
                    problem = ("document-missing", f"the file '{relative}' cannot be read ({error.strerror})")
            if problem is not None:
                source = draft.sources[position]
                ledger.findings.append(
                    PendingFinding(problem[0], problem[1], "", source.place("file"), draft.table, source)
                )
                if problem[0] == "document-refused":
                    draft.columns["file"][position] = None
        hashes.append(digest)
        sizes.append(size)
    draft.columns["sha256"] = hashes
    draft.columns["size_bytes"] = sizes


def read_traces(draft: Draft, folder: Path, settings: ProjectSettings, ledger: Ledger) -> tuple[Trace, ...]:
    """The traces of all documents that are logger files and can be read; what is odd goes to the ledger."""
    traces = []
    known = set()
    for position, kind in enumerate(draft.columns["kind"]):
        file = draft.columns["file"][position]
        if kind != "logger_file" or file is None or draft.columns["sha256"][position] is None:
            continue
        known.add(file)
        path = inside(folder / DOCUMENTS_FOLDER, file)
        if path is None:
            continue
        answer = settings.loggers.get(file, LoggerAnswer(file))
        document_id = draft.columns["document_id"][position]
        trace, faults = read_logger_file(path, document_id, file, answer, settings.time_zone)
        source = draft.sources[position]
        for fault in faults:
            message = f"logger file '{file}': {fault.message}"
            ledger.findings.append(
                PendingFinding(fault.kind, message, fault.remedy, source.place("file"), draft.table, source)
            )
        if trace is not None:
            traces.append(trace)
    for file in settings.loggers:
        if file not in known:
            message = f"'loggers' names '{file}', which is no logger file of the documents table"
            ledger.findings.append(PendingFinding("logger-unreadable", message, "", SourceLocation("project.yml")))
    return tuple(traces)


def _problem(path: Path | None, relative: str) -> tuple[str, str] | None:
    if path is None:
        return "document-refused", f"the path '{relative}' leaves the folder documents/"
    try:
        mode = path.stat().st_mode
    except (OSError, ValueError):
        return "document-missing", f"there is no file '{relative}' below documents/"
    if not stat.S_ISREG(mode):
        return "document-refused", f"'{relative}' is no plain file"
    return None
