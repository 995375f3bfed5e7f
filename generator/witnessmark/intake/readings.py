"""What a value reader returns: a value, or a fault that says what would settle it."""

from __future__ import annotations

import json
import re
from dataclasses import dataclass
from typing import Generic, TypeVar

from witnessmark.intake.cell import CellError, CellValue, cell_text, is_blank

T = TypeVar("T")

_PLAIN_YAML = re.compile(r"[A-Za-z°][\w°/]*(?:[ -][\w°/(][\w°/()]*)*")


@dataclass(frozen=True, slots=True)
class Note:
    """Something worth telling about a value that was read all the same."""

    kind: str
    message: str


@dataclass(frozen=True, slots=True)
class Read(Generic[T]):
    """A value as read, and in ``repair`` what was done to the text to read it (None when nothing was)."""

    value: T
    repair: str | None = None
    note: Note | None = None


@dataclass(frozen=True, slots=True)
class Fault:
    """A text that was not read: ``message`` states the fact, ``remedy`` the act; the caller adds the cell's place."""

    kind: str
    message: str
    remedy: str


def answer(column: str, key: str, value: str) -> str:
    """The line of project.yml that settles a whole column; it stands under ``answers:``.

    >>> answer("joints.pressed_on", "date_order", "dmy")
    "under 'answers:' in project.yml write 'joints.pressed_on: {date_order: dmy}'"
    """
    return f"under 'answers:' in project.yml write '{column}: {{{key}: {value}}}'"


def word_answer(column: str, text: str, value: str) -> str:
    """The line of project.yml that settles what a word means in a column."""
    return answer(column, "words", f"{{{yaml_scalar(' '.join(text.split()))}: {yaml_scalar(value)}}}")


def yaml_scalar(text: str) -> str:
    """The text as it must stand in YAML to stay text: quoted where YAML would read anything else."""
    if _PLAIN_YAML.fullmatch(text) and text.casefold() not in {"yes", "no", "on", "off", "true", "false", "null"}:
        return text
    return json.dumps(text, ensure_ascii=not text.isprintable())


def shown(text: str, longest: int = 60) -> str:
    """The text in quotation marks for a message: on one line, shortened, invisible characters shown by their code."""
    flat = "".join(c if c.isprintable() else f"<U+{ord(c):04X}>" for c in " ".join(text[: 4 * longest].split()))
    return f"'{flat if len(flat) <= longest else flat[: longest - 1] + '…'}'"


LONGEST_VALUE = 200
"""A number, date, size or word with more characters than this is a note in the wrong column."""


def unusable(value: CellValue, *, longest: int | None = LONGEST_VALUE) -> Fault | None:
    """The fault of a cell from which nothing can be read: empty, far too long, or a spreadsheet's error value."""
    if is_blank(value):
        return Fault("blank", "the cell is empty", "fill it in")
    if longest is not None and isinstance(value, str) and len(value) > longest and len(value.strip()) > longest:
        return Fault("text-too-long", f"the cell holds {len(value)} characters of text", "move the text to the remarks")
    if isinstance(value, CellError):
        code = value.code
    elif isinstance(value, str) and value.strip().upper() in _ERROR_TEXTS:
        code = value.strip()
    else:
        return None
    return Fault("formula-error", f"the formula shows {code}", "correct the formula, or type the value in its place")


_ERROR_TEXTS = frozenset({"#REF!", "#N/A", "#VALUE!", "#DIV/0!", "#NAME?", "#NUM!", "#NULL!", "#SPILL!", "#CALC!"})


def text_of(value: CellValue) -> str:
    """The cell's text without spaces of any kind at its ends."""
    return cell_text(value).replace("\ufeff", "").replace("\u200b", "").strip()


def joined(repairs: list[str]) -> str | None:
    """Several repairs as one, each said once and at most ten; None when there was none."""
    distinct = list(dict.fromkeys(repairs))
    rest = [f"and {len(distinct) - 10} more"] if len(distinct) > 10 else []
    return "; ".join(distinct[:10] + rest) if distinct else None
