"""Links of narrative pages lead somewhere in the edition, or are told."""

import logging
from collections.abc import Callable
from pathlib import Path

import pytest

from witnessmark.model.contract import Edition
from witnessmark.pipeline import Outcome
from witnessmark.site.build_site import build_edition
from witnessmark.site.narrative_links import dead_links, links_within


def test_links_to_the_world_and_within_the_page_are_not_looked_at() -> None:
    twice = '<a href="c.html#d">c</a>' * 2
    html = f'<a href="https://example.org/x.html">a</a><a href="#here">b</a>{twice}'
    assert links_within(html + '<a href="mailto:duty@example.org">e</a>') == ("c.html#d",)


def test_a_link_is_dead_where_no_file_is_and_none_is_looked_for_outside(tmp_path: Path) -> None:
    (tmp_path / "site" / "guide").mkdir(parents=True)
    (tmp_path / "site" / "a page.html").touch()
    (tmp_path / "outside.html").touch()
    links = ("../a%20page.html#x", "gone.html", "../../outside.html")
    assert list(dead_links(tmp_path / "site", "guide/one.html", links)) == ["gone.html", "../../outside.html"]


@pytest.mark.parametrize("edition", list(Edition))
def test_a_dead_link_of_the_projects_own_pages_is_told_and_the_bundled_pages_have_none(
    make_outcome: Callable[..., Outcome], tmp_path: Path, edition: Edition, caplog: pytest.LogCaptureFixture
) -> None:
    folder = tmp_path / "project"
    (folder / "content").mkdir(parents=True)
    (folder / "content" / "own.md").write_text(
        "---\neditions: [audit, facilities, tag]\n---\n# Own\n[home](index.html) [gone](findings-of-old.html)\n",
        "utf-8",
    )
    with caplog.at_level(logging.WARNING):
        build_edition(make_outcome(folder=folder), edition, tmp_path / "out")
    assert [record.getMessage() for record in caplog.records] == [
        f"content/own.md links to findings-of-old.html, which the {edition} edition does not hold."
    ]
