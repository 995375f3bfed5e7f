"""A pack is built beside the old one and swapped in whole: whatever stops a build, the previous pack still stands."""

from __future__ import annotations

import os
import re
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from witnessmark.pack.refusal import CannotWrite, reason

MARKER = ".witnessmark-pack"
_MARKER_TEXT = "This folder is a handover pack. A build replaces it whole.\n"
_KEPT_FOLDERS = ("records", "documents", "content")


class OutputHoldsProject(CannotWrite):
    """An output folder whose replacement would take the project with it, or that would be read as records."""

    def __init__(self, out: Path, inside: Path) -> None:
        super().__init__(f"{out}: building here would overwrite {inside}; name another folder with --out.")


class OutputIsNoPack(CannotWrite):
    """An output folder that holds something else than a pack."""

    def __init__(self, out: Path) -> None:
        super().__init__(
            f"{out}: it is not empty and no earlier build made it (there is no {MARKER} in it); "
            "name another folder with --out, or empty this one."
        )


class OutputNotWritable(CannotWrite):
    """An output folder that cannot be made, replaced or filled."""

    def __init__(self, out: Path, error: OSError) -> None:
        super().__init__(
            f"{out}: the pack cannot be written there ({reason(error)}); check permissions and free space, "
            "or name another folder with --out."
        )


@contextmanager
def fresh_folder(out: Path, project: Path) -> Iterator[Path]:
    """An empty folder beside ``out`` that takes its place when the block ends well, and vanishes when it does not.

    Raises ``OutputHoldsProject``, ``OutputIsNoPack`` or ``OutputNotWritable``. Where a killed build left the previous
    pack set aside, it is put back first.
    """
    refuse_output(out, project)
    out = _absolute(out)
    part = out.with_name(f"{out.name}.part-{os.getpid()}")
    try:
        _clear_leftovers(out)
        part.mkdir(parents=True)
    except OSError as error:
        raise OutputNotWritable(out, error) from error
    try:
        yield part
        (part / MARKER).write_text(_MARKER_TEXT, encoding="utf-8", newline="\n")
        _swap(part, out)
    except OSError as error:
        raise OutputNotWritable(out, error) from error
    finally:
        shutil.rmtree(part, ignore_errors=True)


def refuse_output(out: Path, project: Path) -> None:
    """Raise ``OutputHoldsProject``, ``OutputIsNoPack`` or ``OutputNotWritable`` where no pack may take that place."""
    out = _absolute(out)
    _refuse_project(out, project.resolve())
    try:
        _refuse_other_contents(out)
    except OSError as error:
        raise OutputNotWritable(out, error) from error


def _absolute(path: Path) -> Path:
    return Path(os.path.abspath(path))  # noqa: PTH100  # resolve() would follow a link that stands where the pack goes


def _refuse_project(out: Path, project: Path) -> None:
    real = out.resolve()
    if project.is_relative_to(real):
        raise OutputHoldsProject(out, project)
    for name in _KEPT_FOLDERS:
        if real.is_relative_to((project / name).resolve()):
            raise OutputHoldsProject(out, project / name)


def _refuse_other_contents(out: Path) -> None:
    if out.is_symlink() or (out.exists() and not out.is_dir()):
        raise OutputIsNoPack(out)
    if out.is_dir() and not (out / MARKER).is_file() and any(out.iterdir()):
        raise OutputIsNoPack(out)


def _swap(part: Path, out: Path) -> None:
    old = out.with_name(f"{out.name}.old-{os.getpid()}")
    if out.exists():
        out.rename(old)
    try:
        part.rename(out)
    except OSError:
        if old.exists():
            old.rename(out)
        raise
    shutil.rmtree(old, ignore_errors=True)


def _clear_leftovers(out: Path) -> None:
    """Undo what builds left that were killed: put a pack set aside back, remove half-built ones."""
    if not out.parent.is_dir():
        return
    pattern = re.compile(re.escape(out.name) + r"\.(part|old)-(\d+)")
    for entry in sorted(out.parent.iterdir()):
        found = pattern.fullmatch(entry.name)
        if found is None or entry.is_symlink() or not entry.is_dir() or _runs(int(found[2])):
            continue
        if found[1] == "old" and not out.exists():
            entry.rename(out)
        else:
            shutil.rmtree(entry, ignore_errors=True)


def _runs(process: int) -> bool:
    if os.name != "posix":
        return False
    try:
        os.kill(process, 0)
    except PermissionError:
        return True
    except (OSError, OverflowError):
        return False
    return process != os.getpid()
