"""Every view has a template, sees all it declares, and declares all it sees."""

import dataclasses
import re
from collections.abc import Callable

import pytest

from witnessmark.model.contract import Edition
from witnessmark.model.records import Record
from witnessmark.pages.all_pages import record_pages
from witnessmark.pages.context import Context
from witnessmark.pages.frame import PageView
from witnessmark.pages.narrative import narrative_page
from witnessmark.pipeline import Outcome
from witnessmark.site.environment import FOLDER, TEMPLATES, render

LAYOUT = (FOLDER / "templates" / "layout.html").read_text(encoding="utf-8")
# The address places the file and marks the menu; the key name is for people who read the contract's page.
SEEN_BY_LAYOUT = set(re.findall(r"\bview\.(\w+)", LAYOUT))


@pytest.mark.parametrize("view", list(TEMPLATES), ids=lambda view: view.__name__)
def test_a_template_uses_what_its_view_declares_and_nothing_else(view: type[PageView]) -> None:
    text = (FOLDER / "templates" / TEMPLATES[view]).read_text(encoding="utf-8")
    used = set(re.findall(r"\bview\.(\w+)", text)) | SEEN_BY_LAYOUT
    declared = {field.name for field in dataclasses.fields(view)}
    assert used <= declared
    assert declared <= used


def test_every_kind_of_page_renders_with_nothing_undefined(
    small_outcome: Outcome, make_outcome: Callable[..., Outcome], record: Callable[..., Record]
) -> None:
    seen: set[type[PageView]] = set()
    gone = make_outcome(tags=(record("tags", code="W6RH9MH", section_id="R1"),))
    for outcome in (small_outcome, gone):
        for edition in Edition:
            context = Context(outcome, edition)
            for view in record_pages(context):
                assert render(view).startswith("<!doctype html>")
                seen.add(type(view))
            page = narrative_page(context, "guide/x.html", "X", "<h1>X</h1>")
            assert "<h1>X</h1>" in render(page)
            seen.add(type(page))
    assert seen == set(TEMPLATES)


def test_templates_decide_nothing_about_editions_but_the_style_sheet() -> None:
    for path in sorted((FOLDER / "templates").glob("*.html")):
        if path.name not in ("layout.html", "home.html"):
            assert "edition" not in re.sub(r"edition_words", "", path.read_text(encoding="utf-8")), path.name
