"""The register of tag codes, ``records/tags.csv``: rows are only ever added, earlier bytes are never touched."""

from __future__ import annotations

import csv
import io
import os
from collections.abc import Sequence
from pathlib import Path

from witnessmark.model.contract import contract
from witnessmark.pack.csv_writer import write_csv
from witnessmark.pack.refusal import CannotWrite, reason

TAG_REGISTER = "records/tags.csv"
COLUMNS = tuple(field.name for field in contract()["tags"].fields)


class TagRegisterNotWritable(CannotWrite):
    """A register to which the new codes cannot be added; without them a printed tag could go dead."""

    def __init__(self, why: str) -> None:
        super().__init__(f"{TAG_REGISTER}: the new tag codes cannot be added ({why}); the earlier pack still stands.")


def append_codes(project: Path, new: Sequence[tuple[str, str]], issue: str) -> int:
    """Add ``(code, section id)`` rows with their first issue to the register; returns the number of rows added.

    A new register gets its header. Nothing is touched where there is nothing to add.
    Raises ``TagRegisterNotWritable``.
    """
    if not new:
        return 0
    path = project / TAG_REGISTER
    try:
        before = path.read_bytes() if path.exists() else b""
        _refuse_other_form(before)
        text = io.StringIO(newline="")
        write_csv(text, COLUMNS, [(code, section_id, issue) for code, section_id in new])
        added = text.getvalue()
        if before:
            added = added.split("\r\n", 1)[1]
            if not before.endswith((b"\n", b"\r")):
                added = "\r\n" + added
        path.parent.mkdir(parents=True, exist_ok=True)
        _replace(path, before + added.encode())
    except OSError as error:
        raise TagRegisterNotWritable(
            f"{reason(error)}; check permissions and whether another program holds it"
        ) from error
    return len(new)


def _refuse_other_form(before: bytes) -> None:
    """Rows may be added only to a register in the form in which this program writes it."""
    if not before:
        return
    try:
        header = next(csv.reader(io.StringIO(before.decode("utf-8-sig"), newline="")), [])
    except UnicodeDecodeError:
        header = []
    if tuple(name.strip() for name in header) != COLUMNS:
        raise TagRegisterNotWritable(
            f"it does not begin with the heading {','.join(COLUMNS)} in UTF-8; restore it from the last issue"
        )


def _replace(path: Path, data: bytes) -> None:
    """Put the whole file in place in one step, so that a build killed here leaves no half row."""
    if path.exists() and not os.access(path, os.W_OK):
        raise PermissionError(13, "the file is write-protected")
    part = path.with_name(f"{path.name}.part-{os.getpid()}")
    try:
        with part.open("wb") as stream:
            stream.write(data)
            stream.flush()
            os.fsync(stream.fileno())
        part.replace(path)
    finally:
        part.unlink(missing_ok=True)
