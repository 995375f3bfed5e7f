"""Tags as SVG: well formed whatever the records hold, and read back from the pixels a browser draws."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import numpy as np
import pytest
import zxingcpp
from numpy.typing import NDArray

from witnessmark.pack.tag_face import TagFace
from witnessmark.pack.tag_layout import draw_tag
from witnessmark.pack.tag_svg import tag_svg, write_tag_svg

SVG = "{http://www.w3.org/2000/svg}"


@pytest.mark.parametrize("form", ["plate", "flag"])
def test_hostile_texts_give_well_formed_svg_with_no_element_of_their_own(
    hostile_face: Callable[..., TagFace], hostile_text: str, form: Any
) -> None:
    document = tag_svg(draw_tag(hostile_face(hostile_text), form))
    root = ElementTree.fromstring(document)
    assert {element.tag for element in root.iter()} <= {
        SVG + name for name in ("svg", "title", "desc", "rect", "g", "path", "text")
    }
    assert not re.search("[\u202a-\u202e\u2066-\u2069\u200e\u200f\x00-\x09\x0b-\x1f]", document)


def test_the_file_is_named_for_the_code_and_measures_in_millimetres(
    make_face: Callable[..., TagFace], tmp_path: Path
) -> None:
    path = write_tag_svg(tmp_path, draw_tag(make_face()))
    root = ElementTree.parse(path).getroot()
    assert path.name == "KM74XR2.svg"
    assert (root.get("width"), root.get("height"), root.get("viewBox")) == ("90mm", "50mm", "0 0 90 50")


def test_all_modules_are_one_path(make_face: Callable[..., TagFace]) -> None:
    assert tag_svg(draw_tag(make_face())).count("crispEdges") == 1


def test_whoever_hears_the_tag_gets_its_words(make_face: Callable[..., TagFace]) -> None:
    root = ElementTree.fromstring(tag_svg(draw_tag(make_face())))
    assert root.findtext(f"{SVG}title") == "Tag KM7-4XR2, section HF-R2-L3-014"
    spoken = root.findtext(f"{SVG}desc") or ""
    for part in ["Heating flow", "arrow up", "green, crimson, green", "6 bar · 82 °C", "01632 960 123"]:
        assert part in spoken


@pytest.mark.browser
@pytest.mark.parametrize("form", ["plate", "flag"])
@pytest.mark.parametrize("level", ["L", "M", "Q", "H"])
def test_zxing_reads_the_address_from_the_svg_that_a_browser_draws(
    make_face: Callable[..., TagFace],
    svg_pixels: Callable[[Path], NDArray[np.uint8]],
    tmp_path: Path,
    form: Any,
    level: Any,
) -> None:
    face = make_face()
    path = write_tag_svg(tmp_path, draw_tag(face, form, 110.0, 60.0, level=level))
    (read,) = zxingcpp.read_barcodes(svg_pixels(path), formats=zxingcpp.BarcodeFormat.QRCode)
    assert (read.text, read.extra["ECLevel"]) == (face.address, level)


@pytest.mark.browser
@pytest.mark.parametrize("form", ["plate", "flag"])
def test_zxing_reads_the_tag_under_hostile_texts_and_no_text_leaves_the_label(
    hostile_face: Callable[..., TagFace],
    hostile_text: str,
    browser_page: Any,
    svg_pixels: Callable[[Path], NDArray[np.uint8]],
    tmp_path: Path,
    form: Any,
) -> None:
    face = hostile_face(hostile_text)
    path = write_tag_svg(tmp_path, draw_tag(face, form))
    (read,) = zxingcpp.read_barcodes(svg_pixels(path), formats=zxingcpp.BarcodeFormat.QRCode)
    assert read.text == face.address
    boxes = browser_page.evaluate(
        "[...document.querySelectorAll('text')].map(t => { const b = t.getBBox(); return [b.x, b.x + b.width]; })"
    )
    assert boxes
    assert all(left >= -0.05 and right <= 90.05 for left, right in boxes)


@pytest.mark.browser
def test_another_typeface_changes_no_width(
    make_face: Callable[..., TagFace], browser_page: Any, svg_pixels: Callable[[Path], Any], tmp_path: Path
) -> None:
    """A viewer without the typeface draws the same words on the same widths, so nothing overflows there either."""
    document = tag_svg(draw_tag(make_face()))
    spans = []
    for family in ("'DejaVu Sans'", "monospace"):
        path = tmp_path / "tag.svg"
        path.write_text(re.sub('font-family="[^"]*"', f'font-family="{family}"', document), encoding="utf-8")
        svg_pixels(path)
        spans.append(
            browser_page.evaluate(
                "[...document.querySelectorAll('text')].map(t => t.getComputedTextLength())",
            )
        )
    assert spans[1] == pytest.approx(spans[0], rel=0.02)
