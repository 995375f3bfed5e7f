"""One section page per edition, whole: any change of the page is seen before it is made.

These are regression tests of our own output. Rewrite them with

    python -m pytest tests/site/test_golden.py --rewrite-golden
"""

from pathlib import Path

import pytest

from witnessmark.model.contract import Edition
from witnessmark.pages.context import Context
from witnessmark.pages.section_build import SectionBuilder
from witnessmark.pipeline import Outcome
from witnessmark.site.environment import render

GOLDEN = Path(__file__).parent / "golden"


@pytest.mark.parametrize("edition", list(Edition))
def test_the_section_page_is_as_it_was(
    small_outcome: Outcome, edition: Edition, request: pytest.FixtureRequest
) -> None:
    section = small_outcome.project.sections["LTHW-F-R2"]
    html = render(SectionBuilder(Context(small_outcome, edition)).page(section))
    path = GOLDEN / f"section-{edition}.html"
    if request.config.getoption("--rewrite-golden"):
        path.write_text(html, encoding="utf-8")
    assert html == path.read_text(encoding="utf-8"), (
        "the page changed; if that is meant, run: python -m pytest tests/site/test_golden.py --rewrite-golden"
    )
