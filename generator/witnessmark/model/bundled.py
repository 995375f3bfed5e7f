"""Where ``content/`` and ``shared/`` stand: inside an installed package, or at the root of a checkout."""

from functools import cache
from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent.parent


class BundledFolderMissing(RuntimeError):
    """The installation lacks a folder that the program ships with."""

    def __init__(self, name: str) -> None:
        super().__init__(f"The installation of Witnessmark lacks its folder '{name}'; install it again.")


@cache
def _bundled(name: str) -> Path:
    installed = _PACKAGE / "bundled" / name
    checkout = _PACKAGE.parent.parent / name
    for candidate in (installed, checkout):
        if candidate.is_dir():
            return candidate
    raise BundledFolderMissing(name)


def shared_path(relative: str) -> Path:
    """Path of a file below the bundled ``shared/``."""
    return _bundled("shared") / relative


def content_path() -> Path:
    """Folder of the bundled narrative pages."""
    return _bundled("content")
