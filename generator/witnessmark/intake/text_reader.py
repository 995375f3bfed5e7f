"""Free text and ids: cleaned of what cannot be seen, and never of what can."""

from __future__ import annotations

import datetime as dt
import re
import unicodedata

from witnessmark.intake.cell import CellValue, cell_text
from witnessmark.intake.readings import Fault, Note, Read, joined, shown, text_of, unusable

LONGEST_TEXT = 20_000
LONGEST_ID = 200

_BIDI = re.compile("[\u200e\u200f\u202a-\u202e\u2066-\u2069\u061c]")
_INVISIBLE = re.compile("[\u200b\u2060\ufeff\u00ad]")
_CONTROLS = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\ud800-\udfff\ufffe\uffff]")
_DASHES = re.compile("[\u2010-\u2015\u2212\ufe58\ufe63\uff0d]")
# As CSV files are written for spreadsheet programs, the tag register among them: it must be read as it was meant.
_GUARDED = re.compile("'[=+\\-@＝＋＠\u2010-\u2015\u2212\ufe58\ufe63\uff0d]")
_DATE_LIKE = re.compile(
    r"(?:\d{1,2}[/.]\d{1,2}[/.](?:\d{4}|\d{2})|\d{4}-\d{2}-\d{2}(?:[ T]\d{2}:\d{2}.*)?"
    r"|\d{1,2}[- ](?:jan|feb|mar|apr|may|jun|jul|aug|sept?|oct|nov|dec)(?:[- ]\d{2,4})?"
    r"|(?:jan|feb|mar|apr|may|jun|jul|aug|sept?|oct|nov|dec)[- ]\d{2,4})\Z",
    re.IGNORECASE,
)
_SCIENTIFIC = re.compile(r"\d[.,]\d+[eE][+-]?\d{2,}\Z")
_DEVICE_NAMES = re.compile(r"(?:con|prn|aux|nul|com\d|lpt\d)(?:\..*)?\Z", re.IGNORECASE)


def read_text(value: CellValue, *, longest: int = LONGEST_TEXT) -> Read[str] | Fault:
    """Read free text: trimmed, in Unicode form NFC, without control characters and marks that turn the writing
    direction.

    Line breaks inside stay. Markup, quotes and formulas stay as they are: the writers of pages and files escape them.
    """
    fault = unusable(value, longest=None)
    if fault is not None:
        return fault
    text, repairs = _cleaned(value)
    if not text:
        return Fault("blank", "the cell holds only characters that cannot be seen", "fill it in")
    if len(text) > longest:
        return Fault(
            "text-too-long",
            f"the text has {len(text)} characters and {longest} are allowed",
            "shorten it, or attach a document",
        )
    return Read(text, joined(repairs))


def read_id(value: CellValue, *, column: str, longest: int = LONGEST_ID) -> Read[str] | Fault:
    """Read an id: one line of text, dashes of all kinds as hyphens, no spaces at its ends and single ones inside.

    Ids that a spreadsheet has made a date or a power of ten of are faults. An id that would be awkward as a file name
    is read, with a note: no file or address of the pack is named by it.
    """
    fault = unusable(value, longest=None)
    if fault is not None:
        return fault
    if isinstance(value, bool):
        return Fault("not-an-id", f"the cell holds {str(value).upper()}", "format the column as text and type the id")
    if isinstance(value, dt.date | dt.time | dt.timedelta):
        return _became_date(text_of(value), column)
    text, repairs = _cleaned(value)
    if not text:
        return Fault("blank", "the cell holds only characters that cannot be seen", "fill it in")
    if len(text) > longest:
        return Fault(
            "id-too-long",
            f"the id {shown(text, 40)} has {len(text)} characters and {longest} are allowed",
            "shorten it",
        )
    hyphened = _DASHES.sub("-", text)
    single = " ".join(hyphened.split())
    if hyphened != text:
        repairs.append("read dashes as hyphens")
    if single != hyphened:
        repairs.append("read runs of spaces and line breaks as one space")
    if _DATE_LIKE.match(single):
        return _became_date(single, column)
    if _SCIENTIFIC.match(single):
        return Fault(
            "id-is-power-of-ten",
            f"{shown(single)} is a long number that a spreadsheet shortened, so digits are lost",
            "format the column as text and type the id again",
        )
    return Read(single, joined(repairs), _awkward(single))


def read_ids(value: CellValue, *, column: str, longest: int = LONGEST_ID) -> Read[tuple[str, ...]] | Fault:
    """Read several ids from one cell, divided by semicolon, comma or line break; a repeated one counts once."""
    fault = unusable(value, longest=None)
    if fault is not None:
        return fault
    if not isinstance(value, str):
        one = read_id(value, column=column, longest=longest)
        return one if isinstance(one, Fault) else Read((one.value,), one.repair, one.note)
    found: dict[str, None] = {}
    repairs: list[str] = []
    note: Note | None = None
    for part in re.split(r"[;,\r\n]+", value):
        if not part.strip():
            continue
        read = read_id(part.strip(), column=column, longest=longest)
        if isinstance(read, Fault):
            return read
        if read.value in found:
            repairs.append(f"counted {shown(read.value)} once")
        found[read.value] = None
        repairs += [read.repair] if read.repair else []
        note = note or read.note
    if not found:
        return Fault("blank", "the cell holds only separators", "fill it in")
    return Read(tuple(found), joined(repairs), note)


def _cleaned(value: CellValue) -> tuple[str, list[str]]:
    raw = cell_text(value)
    repairs = []
    text = raw
    for pattern, what in (
        (_BIDI, "marks that turn the writing direction"),
        (_CONTROLS, "control characters"),
        (_INVISIBLE, "invisible characters"),
    ):
        text, count = pattern.subn("", text)
        if count:
            repairs.append(f"removed {what} ({count})")
    spaced = (
        text.replace("\u00a0", " ")
        .replace("\u202f", " ")
        .replace("\u2007", " ")
        .replace("\r\n", "\n")
        .replace("\r", "\n")
    )
    if spaced.count(" ") != text.count(" "):
        repairs.append("read non-breaking spaces as spaces")
    composed = unicodedata.normalize("NFC", spaced)
    if composed != spaced:
        repairs.append("composed accented letters")
    stripped = composed.strip()
    if stripped != composed:
        repairs.append("trimmed spaces")
    if _GUARDED.match(stripped):
        stripped = stripped[1:]
        repairs.append("took away the apostrophe that keeps a spreadsheet from running the text")
    return stripped, repairs


def _became_date(text: str, column: str) -> Fault:
    return Fault(
        "id-is-date",
        f"the id reads {shown(text)}, as if a spreadsheet had made a date of it",
        f"format the column {column.rpartition('.')[2]} as text and type the id again",
    )


def _awkward(text: str) -> Note | None:
    if ".." in text or "/" in text or "\\" in text or _DEVICE_NAMES.match(text) or text.startswith(("=", "+", "@")):
        return Note(
            "awkward-id", f"the id {shown(text)} would not serve as a file name or cell; pages are named by tag code"
        )
    return None
