"""Markdown that others wrote brings no markup, no script and no foreign picture into a page."""

import pytest
from markdown import Markdown

from witnessmark.site.safe_markdown import SafeMarkdown


def _html(text: str, images: bool = True) -> str:
    return Markdown(extensions=["tables", "fenced_code", "def_list", SafeMarkdown(images=images)]).convert(text)


@pytest.mark.parametrize(
    "text",
    [
        "<script>alert(1)</script>",
        "words <b onclick=alert(1)>bold</b>",
        "<iframe src='https://example.org'></iframe>",
        "<!-- hidden -->",
        "<svg onload=alert(1)>",
        "<style>*{display:none}</style>",
    ],
)
def test_raw_markup_is_shown_as_text(text: str) -> None:
    html = _html(text)
    assert "&lt;" in html
    assert "<script" not in html
    assert "<b " not in html
    assert "<iframe" not in html
    assert "<svg" not in html
    assert "<style" not in html


@pytest.mark.parametrize(
    "address",
    [
        "javascript:alert(1)",
        "JaVaScRiPt:alert(1)",
        "java&#115;cript:alert(1)",
        "\x01javascript:alert(1)",
        "vbscript:x",
        "data:text/html;base64,PHNjcmlwdD4=",
        "file:///etc/passwd",
        "//example.org/x",
        "/etc/passwd",
    ],
)
def test_a_link_that_would_run_a_script_or_leave_the_pack_unseen_is_no_link(address: str) -> None:
    for text in (f"[words]({address})", f"[words](<{address}>)", f"[words][1]\n\n[1]: {address}"):
        assert "href=" not in _html(text)


def test_links_inside_the_pack_and_to_people_stay() -> None:
    assert 'href="cautions.html#gas"' in _html("[words](cautions.html#gas)")
    assert 'href="tel:+442079460018"' in _html("[call](tel:+442079460018)")
    assert 'rel="noreferrer noopener"' in _html("[out](https://example.org/)")


def test_a_picture_stays_only_where_the_edition_carries_it_and_only_from_the_pack() -> None:
    assert 'src="pic.png"' in _html("![a pump](pic.png)")
    assert "<img" not in _html("![a pump](pic.png)", images=False)
    assert "a pump: not in this edition" in _html("![a pump](pic.png) after", images=False)
    assert "after" in _html("![a pump](pic.png) after", images=False)
    assert "<img" not in _html("![a pump](https://example.org/pic.png)")
    assert "<img" not in _html("![a pump](//example.org/pic.png)")
