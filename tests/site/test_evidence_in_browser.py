"""Pages on evidence in Chromium, on a phone and on a desk, and on paper."""

import datetime
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

from witnessmark.model.contract import Edition
from witnessmark.model.finding import Finding, Outcome, Rule, Subject, Waiver
from witnessmark.model.records import Record
from witnessmark.model.source import SourceLocation
from witnessmark.pipeline import Outcome as Judged

pytestmark = pytest.mark.browser

Build = Callable[[Judged], Path]
Open = Callable[..., Any]
SIZES = [(360, 640), (1280, 900)]
PAGES = ("index", "findings", "completeness", "guarantees", "trace", "sample")
MOST = "document.documentElement.scrollWidth"
LONG = "LTHW-F-R2-BRANCH-TO-THE-NORTHERN-PLANT-ROOM-ON-LEVEL-2-J"


@pytest.fixture
def top(
    record: Callable[..., Record], make_outcome: Callable[..., Judged], finding_rule: Rule, build_all: Build
) -> Path:
    """The audit edition of two sections with long ids and a finding of every outcome."""
    ids = [f"{LONG}{n:03}" for n in range(1, 13)]
    joints = tuple(
        record("joints", joint_id=each, section_id="S1" if n % 2 else "S2", tool_id="PT-02", material_tube="copper")
        for n, each in enumerate(ids)
    )
    place = SourceLocation("records/joints.csv", "", 2, "A", "joint_id")
    waiver = Waiver("C-07", "Design engineer", datetime.date(2026, 5, 1), None, "Seen dry", "none", place)
    findings = tuple(
        Finding(
            finding_rule, outcome, f"Joint {ids[n]} was pressed after the test.", "Test the section again.",
            Subject("joint", ids[n]), place, section_ids=("S1", "S2"), joint_ids=tuple(ids),
            waiver=waiver if outcome is Outcome.WAIVED else None,
        )
        for n, outcome in enumerate((Outcome.FAIL, Outcome.CANNOT_TELL, Outcome.WAIVED))
    )  # fmt: skip
    judged = make_outcome(
        findings,
        systems=(record("systems", system_id="HTG", name="Heating", service="heating_flow"),),
        sections=tuple(record("sections", section_id=s, system_id="HTG", level="2") for s in ("S1", "S2")),
        tools=(record("tools", tool_id="PT-02", kind="press_tool"),),
        joints=joints,
    )
    return build_all(judged) / Edition.AUDIT


def _addresses(top: Path) -> list[Path]:
    traces = sorted((top / "trace").rglob("*.html"))
    return [*(top / f"{page}.html" for page in PAGES), *traces]


@pytest.mark.parametrize(("width", "height"), SIZES)
@pytest.mark.parametrize("dark", [False, True])
def test_pages_on_evidence_fit_their_width_and_every_link_of_them_leads_somewhere(
    top: Path, open_page: Open, width: int, height: int, dark: bool
) -> None:
    page = open_page((top / "index.html").as_uri(), width=width, height=height, dark=dark)
    links: set[str] = set()
    for path in _addresses(top):
        page.goto(path.as_uri())
        page.evaluate("document.querySelectorAll('details').forEach(each => each.open = true)")
        assert page.evaluate(MOST) <= width, path
        links.update(page.eval_on_selector_all("main a[href]", "all => all.map(each => each.href)"))
    assert len(links) > 40
    # The check of the finding is invented, so that it has no page of its own.
    for link in sorted(links - {(top / "checks" / "test-before-last-joint.html").as_uri()}):
        target, _, anchor = link.partition("#")
        file = Path(target.removeprefix("file://"))
        assert file.is_file(), link
        if anchor:
            assert f'id="{anchor}"' in file.read_text("utf-8"), link
    assert page.troubles == []


@pytest.mark.parametrize(("width", "height"), SIZES)
def test_the_wide_matrix_scrolls_in_a_box_of_its_own_that_the_keyboard_reaches(
    top: Path, open_page: Open, width: int, height: int
) -> None:
    page = open_page((top / "completeness.html").as_uri(), width=width, height=height)
    box = page.locator(".w-completeness")
    assert box.evaluate("each => each.scrollWidth > each.clientWidth")
    box.evaluate("each => { each.scrollLeft = 200 }")
    assert box.evaluate("each => each.scrollLeft") == 200
    assert box.get_attribute("tabindex") == "0"
    assert page.evaluate("window.scrollX") == 0


def test_on_paper_every_cell_of_the_matrix_stands_after_its_heading_within_the_sheet(
    top: Path, open_page: Open
) -> None:
    page = open_page((top / "completeness.html").as_uri(), width=1040, height=720)
    page.emulate_media(media="print")
    before = page.evaluate(
        """[...document.querySelectorAll(".w-completeness tbody tr:first-child td")]
           .map(each => getComputedStyle(each, "::before").content)"""
    )
    titles = page.eval_on_selector_all(".w-completeness th", "all => all.map(each => each.textContent)")
    assert before == [f'"{title}: "' for title in titles]
    assert len(titles) > 20
    assert page.evaluate(MOST) <= 1040


def test_the_walk_sheet_prints_across_with_whole_tag_codes_and_room_to_write(
    top: Path, open_page: Open, tmp_path: Path
) -> None:
    page = open_page((top / "sample.html").as_uri(), width=1040, height=720)
    page.pdf(path=tmp_path / "walk.pdf", prefer_css_page_size=True)
    (sheet, *_) = PdfReader(tmp_path / "walk.pdf").pages
    assert sheet.mediabox.width > sheet.mediabox.height
    words = sheet.extract_text()
    codes = set(page.eval_on_selector_all("tbody td:nth-child(4)", "all => all.map(each => each.textContent)"))
    assert codes
    assert all(code in words for code in codes)
    page.emulate_media(media="print")
    widths = page.eval_on_selector_all("thead th", "all => all.map(each => each.getBoundingClientRect().width)")
    assert min(widths[-2:]) >= 26 / 25.4 * 96 - 1


def test_a_fold_opens_by_keyboard_and_its_summary_is_big_enough_for_a_glove(top: Path, open_page: Open) -> None:
    page = open_page((top / "findings.html").as_uri())
    summary = page.locator("details.fold > summary").last
    assert summary.bounding_box()["height"] >= 48
    assert not page.locator("details.fold").last.evaluate("each => each.open")
    summary.focus()
    page.keyboard.press("Enter")
    assert page.locator("details.fold").last.evaluate("each => each.open")
    assert summary.inner_text() == "Accepted by concession: 1"


def test_without_scripts_every_joint_of_a_section_is_reached_from_the_list_by_state(top: Path, open_page: Open) -> None:
    (first, *_) = sorted((top / "trace" / "sections").glob("*.html"))
    page = open_page(first.as_uri(), scripts=False)
    links = page.locator("main .asks a")
    assert links.count() == 6
    for n in range(links.count()):
        anchor = links.nth(n).get_attribute("href")
        assert page.locator(f"h2[id='{anchor[1:]}']").inner_text() == links.nth(n).inner_text()
