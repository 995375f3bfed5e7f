"""The command that draws an audit sample and writes its walk sheet."""

from __future__ import annotations

from collections.abc import Iterator
from difflib import get_close_matches
from pathlib import Path
from typing import TYPE_CHECKING

from witnessmark.evidence.sample import draw
from witnessmark.evidence.sample_words import summary
from witnessmark.pack.refusal import CannotWrite

if TYPE_CHECKING:
    from witnessmark.pipeline import Outcome


class UnknownSystem(Exception):
    """No system of the project has that id."""

    def __init__(self, system_id: str, known: list[str]) -> None:
        near = get_close_matches(system_id, known, n=3)
        hint = f"did you mean {' or '.join(near)}?" if near else f"the records hold {', '.join(known) or 'none'}."
        super().__init__(f"there is no system '{system_id}'; {hint}")


def write_sample(outcome: Outcome, seed: str, level: str, aql: str, system_id: str, folder: Path) -> Iterator[str]:
    """Draw, write ``walk-sheet.pdf`` and ``walk-sheet.csv``, and say in lines what was done.

    Raises UnknownSystem, NoSamplingPlan or CannotWrite.
    """
    from witnessmark.pack.walk_sheet import write_walk_sheet, write_walk_table

    if system_id and system_id not in outcome.project.systems:
        raise UnknownSystem(system_id, sorted(outcome.project.systems))
    sample = draw(outcome.project, seed, level, aql, system_id)
    sheet, table = folder / "walk-sheet.pdf", folder / "walk-sheet.csv"
    try:
        folder.mkdir(parents=True, exist_ok=True)
        write_walk_sheet(outcome, sample, sheet)
        write_walk_table(outcome, sample, table)
    except OSError as error:
        raise CannotWrite(
            f"{folder}: the walk sheet cannot be written ({error.strerror}); name another folder."
        ) from error
    yield from summary(sample)
    yield f"Wrote {sheet} and {table}: {len(sample.walk):,} joints."
