"""Writes pages one after the other: what is written is forgotten, so memory does not grow with the pack."""

from collections.abc import Callable, Iterable
from pathlib import Path

from witnessmark.pages.frame import PageView
from witnessmark.site.environment import render

Progress = Callable[[int], None]
PROGRESS_STEP = 250


def write_pages(out_dir: Path, views: Iterable[PageView], progress: Progress | None = None) -> int:
    """Write every page below ``out_dir``; returns how many. ``progress`` hears the count now and then."""
    made: set[str] = set()
    count = 0
    for view in views:
        target = out_dir / view.address
        folder = view.address.rpartition("/")[0]
        if folder not in made:
            target.parent.mkdir(parents=True, exist_ok=True)
            made.add(folder)
        target.write_bytes(render(view).encode("utf-8"))
        count += 1
        if progress is not None and count % PROGRESS_STEP == 0:
            progress(count)
    return count
