"""Chase lists as files to send: plain text for a message, CSV for a spreadsheet program."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from witnessmark.evidence.chase import ChaseItem, ChaseList, chase_lists
from witnessmark.model.day_words import day_words
from witnessmark.model.finding import Outcome, Severity
from witnessmark.model.source import SourceLocation
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
_ASKED = "Please answer by the number of the point, with the corrected row or the document that it asks for."
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
    points = _points(chase)
    yield f"To: {clean(chase.addressee)}"
    yield f"Project: {clean(settings.name)}"
    yield f"Issue: {clean(settings.issue.number)} of {day_words(settings.issue.date)}"
    yield ""
    yield from _wrapped("", f"{counted(len(points), 'point')} open, first things first: {_tally(points)}.", "")
    yield from _wrapped("", _ASKED, "")
    for number, items in enumerate(points, start=1):
        yield ""
        yield from _point(number, items)


def _points(chase: ChaseList) -> list[list[ChaseItem]]:
    """Items that say the same of several rows are one point; the first of them gives its place in the order."""
    points: dict[tuple[str, ...], list[ChaseItem]] = {}
    for item in chase.items:
        finding, place = item.finding, item.finding.location
        where = (place.file, place.sheet, place.column) if place is not None else ("", "", "")
        said = finding.message.replace(finding.subject.id, "") if place is not None else finding.message
        points.setdefault((finding.rule.slug, finding.outcome.value, said, finding.remedy, *where), []).append(item)
    return list(points.values())


def _tally(points: Sequence[Sequence[ChaseItem]]) -> str:
    firsts = [items[0].finding for items in points]
    unknown = sum(f.rule.severity is Severity.BREAKS and f.outcome is Outcome.CANNOT_TELL for f in firsts)
    parts = [
        (sum(f.rule.severity is Severity.BREAKS for f in firsts) - unknown, "breaking the evidence"),
        (unknown, "on which the evidence depends and the records are silent"),
        (sum(f.rule.severity is Severity.WEAKENS for f in firsts), "weakening the evidence"),
        (sum(f.rule.severity is Severity.TIDY for f in firsts), "of tidiness"),
    ]
    return "; ".join(f"{number:,} {words}" for number, words in parts if number)


def _point(number: int, items: Sequence[ChaseItem]) -> Iterator[str]:
    finding = items[0].finding
    answer = "; the records do not tell" if finding.outcome is Outcome.CANNOT_TELL else ""
    yield from _wrapped(f"{number}. ", f"[{_WEIGHTS[finding.rule.severity]}{answer}] {clean(finding.message)}")
    yield from _wrapped("   To close it: ", clean(finding.remedy))
    if finding.location is not None:
        yield from _wrapped("   Look at: ", clean(_places([i.finding.location for i in items if i.finding.location])))
    others = list(dict.fromkeys(i.finding.subject.id for i in items if i.finding.message != finding.message))
    if others:
        yield from _wrapped("   The same of: ", _some(others))
    sections = list(dict.fromkeys(section for item in items for section in item.section_ids))
    joints = list(dict.fromkeys(joint for item in items for joint in item.joint_ids))
    if sections:
        yield from _wrapped("   Sections: ", _some(sections))
    if joints:
        yield from _wrapped("   Joints: ", _some(joints))
    yield f"   Check: {finding.rule.slug}"


def _places(places: Sequence[SourceLocation]) -> str:
    """'records/joints.csv, rows 2 to 13, 20, column V (Pressed on)'."""
    first, rows = places[0], sorted({place.row for place in places})
    if len(rows) < 2:
        return first.words
    runs: list[tuple[int, int]] = []
    for row in rows:
        if runs and row == runs[-1][1] + 1:
            runs[-1] = (runs[-1][0], row)
        else:
            runs.append((row, row))
    words = [f"{start}" if start == end else f"{start} to {end}" for start, end in runs]
    more = f" and {len(words) - _LISTED:,} more" if len(words) > _LISTED else ""
    one = f"row {first.row}"
    return first.words.replace(one, f"rows {', '.join(words[:_LISTED])}{more}", 1)


def _some(ids: Sequence[str]) -> str:
    more = f" and {len(ids) - _LISTED:,} more, all in the CSV file" if len(ids) > _LISTED else ""
    return clean(", ".join(ids[:_LISTED])) + more


def _wrapped(lead: str, text: str, indent: str = "     ") -> list[str]:
    return textwrap.wrap(
        text, _WIDTH, initial_indent=lead, subsequent_indent=indent, break_long_words=False, break_on_hyphens=False
    )


def _rows(chase: ChaseList) -> Iterator[tuple[str | int | None, ...]]:
    for number, item in ((n, item) for n, items in enumerate(_points(chase), start=1) for item in items):
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
