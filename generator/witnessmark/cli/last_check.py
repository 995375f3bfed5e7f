"""What the last check of a project left open, kept beside its records so that the next one can say what changed."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from witnessmark.evidence.comparison import FindingKey, keys_from, keys_text
from witnessmark.model.finding import Finding

FOLDER = ".witnessmark"
FILE = "last-check.json"


def read_last(project: Path) -> list[FindingKey] | None:
    """The keys that the last check left; ``None`` where there was none or its file cannot be read."""
    try:
        return keys_from((project / FOLDER / FILE).read_text(encoding="utf-8"))
    except (OSError, UnicodeDecodeError):
        return None


def keep(project: Path, findings: Iterable[Finding]) -> str:
    """Keep the open findings for the next check; returns why that failed, or ''."""
    folder = project / FOLDER
    part = folder / f"{FILE}.part"
    try:
        folder.mkdir(exist_ok=True)
        part.write_text(keys_text(findings), encoding="utf-8", newline="\n")
        part.replace(folder / FILE)
    except OSError as error:
        return f"What was found could not be kept for the next check ({error.strerror}: {folder})."
    return ""
