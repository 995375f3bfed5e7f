"""A worked figure as a page opens it: formula, inputs, source, validity, or what is missing."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import NamedTuple

from witnessmark.model.contract import Edition
from witnessmark.model.quantity import Input, Worked
from witnessmark.pages.figure import Figure, telling_places
from witnessmark.pages.words import clean, missing_words
from witnessmark.workings.formulas import BY_ID


class InputView(NamedTuple):
    """An input of a working, and where it came from where the edition may say."""

    name: str
    value: str
    origin: str


@dataclass(frozen=True, slots=True)
class WorkingView:
    """A figure with what it opens to. ``figure`` is ``None`` exactly when ``missing`` says what is not known."""

    name: str
    figure: Figure | None
    missing: str
    formula: str
    inputs: tuple[InputView, ...]
    source: str
    limits: str
    book: str = ""
    """Address of the formula's page; '' where this edition has none."""


MAX_INPUTS = 60


def _origin(each: Input, edition: Edition) -> str:
    parts = []
    if each.basis:
        parts.append(each.basis)
    if edition is Edition.AUDIT and each.location is not None:
        parts.append(each.location.words)
    return clean("; ".join(parts))


def formula_address(formula_id: str, edition: Edition) -> str:
    """Address of a formula's page; the tag edition carries none, to stay small."""
    return f"formulas/{formula_id}.html" if formula_id in BY_ID and edition is not Edition.TAG else ""


def working_view(
    worked: Worked,
    edition: Edition,
    unit: str = "",
    *,
    words_of: Callable[[str], str],
    with_inputs: bool = True,
) -> WorkingView:
    """The figure through an edition: the tag edition names no inputs, only the audit edition names cells.

    ``words_of`` makes text fit for the edition; ``with_inputs`` is false where an input is of a column it may not show.
    """
    inputs: tuple[InputView, ...] = ()
    if edition is not Edition.TAG and with_inputs:
        inputs = tuple(
            InputView(clean(each.name), clean(each.value), _origin(each, edition))
            for each in worked.inputs[:MAX_INPUTS]
        )
        if len(worked.inputs) > MAX_INPUTS:
            more = len(worked.inputs) - MAX_INPUTS
            inputs = (*inputs, InputView(f"and {more:,} more inputs", "", "see the tubes of each section"))
    return WorkingView(
        worked.name,
        None
        if worked.value is None
        else Figure(worked.value, unit or worked.unit, telling_places(worked.value, worked.places)),
        words_of(missing_words(worked.missing)) if worked.value is None else "",
        worked.formula,
        inputs,
        words_of(worked.source),
        words_of(worked.limits),
        formula_address(worked.formula_id, edition),
    )
