"""Chase lists as files to send: plain text for a message, CSV for a spreadsheet program."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from witnessmark.evidence.chase import ChaseItem, ChaseList, chase_lists
from witnessmark.model.day_words import day_words
from witnessmark.model.finding import Outcome, Severity
from witnessmark.pack.csv_writer import write_csv
from witnessmark.pages.address import slugs
from witnessmark.pages.words import clean, counted

if TYPE_CHECKING:
    from witnessmark.model.settings import ProjectSettings
    from witnessmark.pipeline import Outcome as PipelineOutcome

CHASE_FOLDER = "chase"
HEADER = (
    "number", "weight", "answer", "what", "to_close", "file", "sheet", "row", "column", "heading", "sections", "joints",
    "check",
)  # fmt: skip
_WEIGHTS = {
    Severity.BREAKS: "breaks the evidence",
    Severity.WEAKENS: "weakens the evidence",
    Severity.TIDY: "tidiness",
}
_WIDTH = 100
_LISTED = 40


def write_chase_files(outcome: PipelineOutcome, folder: Path) -> list[Path]:
    """Write one text and one CSV file an addressee into ``folder``; returns what was written, in order."""
    folder.mkdir(parents=True, exist_ok=True)
    lists = chase_lists(outcome.project, outcome.judgement.findings)
    plain = [each.addressee.lower().replace(" ", "-") for each in lists]
    names = slugs(dict.fromkeys(plain) if len(set(plain)) == len(plain) else [each.addressee for each in lists])
    written = []
    for each, stem in zip(lists, names.values(), strict=True):
        text, table = folder / f"{stem}.txt", folder / f"{stem}.csv"
        text.write_text("\n".join(_lines(each, outcome.project.settings)) + "\n", encoding="utf-8", newline="\n")
        write_csv(table, HEADER, _rows(each), byte_order_mark=True)
        written += [text, table]
    return written


def _lines(chase: ChaseList, settings: ProjectSettings) -> Iterator[str]:
    breaking = sum(item.finding.rule.severity is Severity.BREAKS for item in chase.items)
    yield f"To: {clean(chase.addressee)}"
    yield f"Project: {clean(settings.name)}"
    yield f"Issue: {clean(settings.issue.number)} of {day_words(settings.issue.date)}"
    yield ""
    yield f"{counted(len(chase.items), 'point')} open, {breaking:,} of them breaking the evidence. First things first."
    for number, item in enumerate(chase.items, start=1):
        yield ""
        yield from _item(number, item)


def _item(number: int, item: ChaseItem) -> Iterator[str]:
    finding = item.finding
    answer = ", cannot tell" if finding.outcome is Outcome.CANNOT_TELL else ""
    yield from _wrapped(f"{number}. ", f"[{_WEIGHTS[finding.rule.severity]}{answer}] {clean(finding.message)}")
    yield from _wrapped("   To close it: ", clean(finding.remedy))
    if finding.location is not None:
        yield from _wrapped("   Look at: ", clean(finding.location.words))
    if item.section_ids:
        yield from _wrapped("   Sections: ", _some(item.section_ids))
    if item.joint_ids:
        yield from _wrapped("   Joints: ", _some(item.joint_ids))
    yield f"   Check: {finding.rule.slug}"


def _some(ids: Sequence[str]) -> str:
    more = f" and {len(ids) - _LISTED:,} more, all in the CSV file" if len(ids) > _LISTED else ""
    return clean(", ".join(ids[:_LISTED])) + more


def _wrapped(lead: str, text: str) -> list[str]:
    return textwrap.wrap(
        text, _WIDTH, initial_indent=lead, subsequent_indent="     ", break_long_words=False, break_on_hyphens=False
    )


def _rows(chase: ChaseList) -> Iterator[tuple[str | int | None, ...]]:
    for number, item in enumerate(chase.items, start=1):
        finding, place = item.finding, item.finding.location
        yield (
            number,
            _WEIGHTS[finding.rule.severity],
            finding.outcome.value,
            finding.message,
            finding.remedy,
            place.file if place else None,
            place.sheet or None if place else None,
            place.row or None if place else None,
            place.column or None if place else None,
            place.heading or None if place else None,
            "; ".join(item.section_ids),
            "; ".join(item.joint_ids),
            finding.rule.slug,
        )
