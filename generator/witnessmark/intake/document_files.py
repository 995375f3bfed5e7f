"""Documents that the records name: are they there, inside the project folder, and which bytes do they hold?"""

import hashlib
import stat
from pathlib import Path

from witnessmark.intake.draft import Draft, Ledger, PendingFinding
from witnessmark.intake.source_plan import inside

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
