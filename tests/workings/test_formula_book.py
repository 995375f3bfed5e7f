"""The formula book explains every formula with an example that is worked out when the book is made."""

import pytest

from witnessmark.workings.formula_book import FormulaEntry, formula_book
from witnessmark.workings.formulas import FORMULAS

# Each from the tables and worked examples that the engineering tests name: EN 1057 working pressures and PCC-2 energy
# (published), 10 m copper over 40 K (published), gas law at 150 mbar, drain and leak figures (computed).
PUBLISHED = {
    "tube-content": (61.28, 0.01), "hoop-rating": (51.0, 0.5), "expansion": (6.8, 0.001), "gas-energy": (32.67, 0.01),
    "required-pressure": (7.5, 1e-9), "required-hold": (220.0, 1e-9), "gauge-error": (0.4, 1e-9),
    "pressure-at-height": (5.1, 0.05), "drain-time": (63.0, 1.0), "hole-leak": (6.4, 0.1),
    "boiling-limit": (0.42, 0.005),
    "smallest-leak-water": (0.9, 0.05), "closed-pipe": (0.18, 0.01), "flow": (2.04, 0.005),
}  # fmt: skip


@pytest.mark.parametrize("entry", formula_book(), ids=lambda entry: entry.formula.id)
def test_every_formula_is_explained(entry: FormulaEntry) -> None:
    formula = entry.formula
    for text in (formula.title, formula.text, formula.validity, formula.source, formula.standing):
        assert text
    if entry.example is None:
        assert entry.example_words
        return
    assert entry.example.value is not None, entry.example.missing
    assert entry.example.inputs


def test_ids_are_used_once() -> None:
    ids = [formula.id for formula in FORMULAS]
    assert len(ids) == len(set(ids))


@pytest.mark.parametrize("formula_id", PUBLISHED)
def test_examples_agree_with_figures_from_outside(formula_id: str) -> None:
    (entry,) = [entry for entry in formula_book() if entry.formula.id == formula_id]
    assert entry.example is not None
    value, within = PUBLISHED[formula_id]
    assert entry.example.value == pytest.approx(value, abs=within)
