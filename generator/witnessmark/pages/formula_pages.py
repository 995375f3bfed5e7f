"""The formula book as pages: what each formula says, where it holds, where it is from, and an example worked out."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import NamedTuple

from witnessmark.pages.address import root_of
from witnessmark.pages.context import Context
from witnessmark.pages.figure import UNIT_SIGNS
from witnessmark.pages.frame import Link, PageView
from witnessmark.pages.words import sentence_start
from witnessmark.pages.working import WorkingView, formula_address, working_view
from witnessmark.workings.formula_book import FormulaEntry, formula_book
from witnessmark.workings.formulas import Formula

INDEX = "formulas.html"
STANDING_WORDS = {
    "published": "published: it can be looked up in the source",
    "common practice": "common practice of the trade, with no published source",
    "from memory": "from memory: look it up in the source before you rest on it",
    "derived here": "derived for this pack",
}


class SymbolView(NamedTuple):
    """A letter, what it stands for, and its unit."""

    letter: str
    meaning: str
    unit: str


class FormulaLine(NamedTuple):
    """A formula in the list of all."""

    link: Link
    formula: str
    standing: str


@dataclass(frozen=True, slots=True, kw_only=True)
class FormulaPage(PageView):
    """One formula."""

    formula: str
    result_unit: str
    symbols: tuple[SymbolView, ...]
    validity: str
    source: str
    standing: str
    example: WorkingView | None
    example_words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class FormulaIndex(PageView):
    """All formulas."""

    lines: tuple[FormulaLine, ...]


def _unit(unit: str) -> str:
    sign = UNIT_SIGNS.get(unit, unit)
    return "no unit" if sign in ("", "1") else sign


def _standing(formula: Formula) -> str:
    return sentence_start(STANDING_WORDS.get(formula.standing, formula.standing))


def _page(context: Context, entry: FormulaEntry) -> FormulaPage:
    formula = entry.formula
    address = formula_address(formula.id, context.edition)
    return FormulaPage(
        frame=context.frame,
        address=address,
        root=root_of(address),
        title=formula.title,
        crumbs=(Link("Home", "index.html"), Link("Formulas", INDEX)),
        formula=formula.text,
        result_unit=_unit(formula.unit) if formula.unit else "a day of the calendar",
        symbols=tuple(SymbolView(s.letter, s.meaning, _unit(s.unit)) for s in formula.symbols),
        validity=context.words(formula.validity),
        source=sentence_start(context.words(formula.source)),
        standing=_standing(formula),
        example=working_view(entry.example, context.edition, words_of=context.words)
        if entry.example is not None
        else None,
        example_words=entry.example_words,
    )


def formula_pages(context: Context) -> Iterator[FormulaPage | FormulaIndex]:
    """The list of all formulas, then each."""
    entries = formula_book()
    lines = tuple(
        FormulaLine(
            Link(e.formula.title, formula_address(e.formula.id, context.edition)), e.formula.text, e.formula.standing
        )
        for e in entries
    )
    yield FormulaIndex(
        frame=context.frame,
        address=INDEX,
        root=root_of(INDEX),
        title="Formulas",
        crumbs=(Link("Home", "index.html"),),
        lines=lines,
    )
    for entry in entries:
        yield _page(context, entry)
