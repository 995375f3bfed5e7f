"""Writes pages one after the other: what is written is forgotten, so memory does not grow with the pack."""

import os
from collections.abc import Callable, Iterable
from pathlib import Path

from witnessmark.pages.frame import PageView
from witnessmark.site.environment import render

Progress = Callable[[int], None]
PROGRESS_STEP = 250


def write_pages(out_dir: Path, views: Iterable[PageView], progress: Progress | None = None) -> int:
    """Write every page below ``out_dir``; returns how many. ``progress`` hears the count now and then."""
    made: set[str] = {""}
    # Plain strings: building a Path for each of a hundred thousand pages costs more than writing some of them.
    top = os.fspath(out_dir)
    count = 0
    for view in views:
        folder = view.address.rpartition("/")[0]
        if folder not in made:
            os.makedirs(os.path.join(top, folder), exist_ok=True)  # noqa: PTH103, PTH118  # cheaper than a Path
            made.add(folder)
        with open(os.path.join(top, view.address), "wb", buffering=0) as file:  # noqa: PTH118, PTH123  # cheaper
            file.write(render(view).encode("utf-8"))
        count += 1
        if progress is not None and count % PROGRESS_STEP == 0:
            progress(count)
    return count
