"""Words from a fixed list: choices, materials, yes or no."""

from __future__ import annotations

import difflib
import re
from collections.abc import Mapping, Sequence

from witnessmark.intake.cell import CellValue
from witnessmark.intake.readings import Fault, Read, shown, text_of, unusable, word_answer

_SAID = "as project.yml says"
_PUNCTUATION = re.compile(r"[\s./\\_\-–—,;:'’()]+")


class WordTable:
    """The values of a choice and the words sites use for each; a word under two values reads as neither.

    >>> table = WordTable({"copper": ["cu"], "stainless": ["ss", "st/st"]})
    >>> read_word("St/St ", table, column="joints.material").value
    'stainless'
    """

    def __init__(self, words: Mapping[str, Sequence[str]]) -> None:
        self.values = tuple(words)
        self._whole: dict[str, tuple[str, ...]] = {}
        self._bare: dict[str, tuple[str, ...]] = {}
        for value, aliases in words.items():
            for word in (value, value.replace("_", " "), *aliases):
                _add(self._whole, _folded(word), value)
                _add(self._bare, _without_punctuation(word), value)
        self._spellings = sorted(self._whole)

    def find(self, text: str) -> tuple[str, ...]:
        """The values the text may stand for: none, one, or more than one."""
        found = self._whole.get(_folded(text))
        if found is None:
            bare = _without_punctuation(text)
            found = self._bare.get(bare, ()) if bare else ()
        return found

    def nearest(self, text: str) -> tuple[str, ...]:
        """At most three values with a word near the text in spelling, nearest first."""
        close = difflib.get_close_matches(_folded(text)[:80], self._spellings, n=3, cutoff=0.6)
        return tuple(dict.fromkeys(value for word in close for value in self._whole[word]))


def read_word(
    value: CellValue, table: WordTable, *, column: str, answered: Mapping[str, str | bool | int | float] | None = None
) -> Read[str] | Fault:
    """Read a word of a fixed list; ``answered`` maps words of this column to values in project.yml, and wins."""
    fault = unusable(value)
    if fault is not None:
        return fault
    text = text_of(value)
    for word, meant in (answered or {}).items():
        # YAML reads a bare yes or no as a truth value.
        value_meant = ("yes" if meant else "no") if isinstance(meant, bool) else str(meant)
        if _folded(str(word)) == _folded(text) and value_meant in table.values:
            return Read(value_meant, None if text == value_meant else f"read {shown(text)} as {value_meant}, {_SAID}")
    found = table.find(text)
    if len(found) == 1:
        return Read(found[0], None if text == found[0] else f"read {shown(text)} as {found[0]}")
    if found:
        return Fault(
            "word-could-be-two",
            f"{shown(text)} could be {' or '.join(word.replace('_', ' ') for word in found)}",
            word_answer(column, text, found[0]),
        )
    near = table.nearest(text)
    hint = f"; nearest: {', '.join(near)}" if near else ""
    allowed = ", ".join(table.values[:12]) + (", …" if len(table.values) > 12 else "")
    suggestion = near[0] if near else (table.values[0] if table.values else "")
    return Fault(
        "unknown-word",
        f"{shown(text)} is none of the words known here{hint}",
        f"use one of {allowed}, or {word_answer(column, text[:40], suggestion)}",
    )


def read_yes_no(
    value: CellValue, *, column: str, answered: Mapping[str, str | bool | int | float] | None = None
) -> Read[bool] | Fault:
    """Read yes or no; a spreadsheet's TRUE and FALSE count, and a bare cross is a fault."""
    if isinstance(value, bool):
        return Read(value)
    read = read_word(value, YES_NO, column=column, answered=answered)
    return read if isinstance(read, Fault) else Read(read.value == "yes", read.repair)


def _add(index: dict[str, tuple[str, ...]], key: str, value: str) -> None:
    if key and value not in index.get(key, ()):
        index[key] = (*index.get(key, ()), value)


def _folded(text: str) -> str:
    return " ".join(text.split()).casefold().rstrip(".")


def _without_punctuation(text: str) -> str:
    return _PUNCTUATION.sub("", text.casefold())


YES_NO = WordTable(
    {
        "yes": ["y", "true", "1", "✓", "✔", "☑", "☒", "x", "tick", "ticked", "ok", "done"],
        "no": ["n", "false", "0", "✗", "✘", "☐", "☒", "x", "cross", "not done"],
    }
)
"""A cross is listed under both on purpose: some sites tick with it and some strike out with it."""
