"""The bytes of a record file, within a limit."""

from __future__ import annotations

from pathlib import Path

from witnessmark.intake.unreadable_file import UnreadableFile

LARGEST_FILE = 50_000_000
"""Default limit in bytes: about a million joint rows, and as much as a laptop reads without swapping."""


def file_bytes(path: Path, file_label: str, max_bytes: int = LARGEST_FILE) -> bytes:
    """The bytes of a record file; raises ``UnreadableFile`` when it is missing, too large or cannot be opened."""
    try:
        size = path.stat().st_size
        if size > max_bytes:
            raise UnreadableFile(
                file_label,
                "file-too-large",
                f"the file has {size / 1e6:.0f} MB and the limit is {max_bytes / 1e6:.0f} MB",
                "split it by level or system, or take out pictures and what is not a record",
            )
        return path.read_bytes()
    except FileNotFoundError:
        raise UnreadableFile(
            file_label, "file-missing", "there is no such file", "correct the name in project.yml, or add the file"
        ) from None
    except OSError as error:
        raise UnreadableFile(
            file_label,
            "file-unreadable",
            f"the file cannot be opened ({error.strerror or 'system error'})",
            "close other programs that use it and check its permissions",
        ) from None
