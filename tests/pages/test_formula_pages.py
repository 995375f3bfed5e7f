"""The formula book: every formula that a figure names has its page, with an example worked out."""

import re
from collections.abc import Callable
from pathlib import Path

from witnessmark.model.contract import Edition
from witnessmark.pages.all_pages import record_pages
from witnessmark.pages.context import Context
from witnessmark.pages.formula_pages import FormulaIndex, FormulaPage, formula_pages
from witnessmark.pipeline import Outcome
from witnessmark.site.environment import render
from witnessmark.workings.formulas import FORMULAS


def test_every_formula_has_a_page_with_source_standing_validity_and_example(small_outcome: Outcome) -> None:
    index, *pages = formula_pages(Context(small_outcome, Edition.AUDIT))
    assert isinstance(index, FormulaIndex)
    assert len(pages) == len(FORMULAS) == len(index.lines)
    for page in pages:
        assert isinstance(page, FormulaPage)
        assert page.source
        assert page.standing
        assert page.validity
        assert page.example_words or (page.example is not None and page.example.figure is not None), page.title


def test_the_example_of_the_tube_content_is_the_handbook_figure(small_outcome: Outcome) -> None:
    """54 x 1.5: 2.04 L/m (EN 10312 sizes), so 30 m hold 61.3 L."""
    pages = formula_pages(Context(small_outcome, Edition.FACILITIES))
    page = next(each for each in pages if each.address == "formulas/tube-content.html")
    assert isinstance(page, FormulaPage)
    assert page.example is not None
    assert page.example.figure is not None
    assert round(page.example.figure.value, 1) == 61.3
    assert "61.3\u00a0L" in render(page)


def test_every_formula_that_a_page_links_to_is_there_and_the_tag_edition_links_to_none(
    riser_outcome: Callable[..., Outcome],
) -> None:
    outcome = riser_outcome()
    for edition in Edition:
        views = list(record_pages(Context(outcome, edition)))
        linked = {
            Path(name).name for view in views for name in re.findall(r'href="([^"]*formulas/[^"]*)"', render(view))
        }
        there = {Path(view.address).name for view in views if view.address.startswith("formulas/")}
        assert linked <= there
        assert bool(linked) is (edition is not Edition.TAG)
