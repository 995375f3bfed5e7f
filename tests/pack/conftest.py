"""Tag faces as a project would have them and as nobody should have them, and a browser that turns SVG into pixels."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
from numpy.typing import NDArray

from witnessmark.pack.tag_face import Band, TagFace

if TYPE_CHECKING:
    from playwright.sync_api import Playwright

HOSTILE = {
    "markup": "<script>alert('x')</script> & <b>bold</b> ]]> <!-- --> &amp;",
    "quotes": "\"double\" 'single' ` \u201cround\u201d",
    "emoji": "hot \U0001f525 \U0001f468\u200d\U0001f527 pipe",
    "right-to-left marks": "tank \u202e321\u202c \u200f\u2067abc\u2069 6 bar",
    "control characters": "a\x00b\x01c\x07d\x1be\x7ff\x85g\ttab\nline",
    "300 characters": "W" * 300,
    "300 words": "word " * 300,
    "formula": "=HYPERLINK(\"http://example.invalid\")",
    "lone surrogate and non-character": "a\ud800b\uffffc\ufffed",
    "right-to-left script": "\u05de\u05d9\u05dd \u05d7\u05de\u05d9\u05dd",
    "script the font lacks": "\u51b7\u6c34 \u0e19\u0e49\u0e33",
    "blank": " \u00a0 ",
    "empty": "",
}  # fmt: skip


@pytest.fixture(scope="session")
def make_face() -> Callable[..., TagFace]:
    """A face of an invented riser; keyword arguments replace its fields."""

    def make(code: str = "KM74XR2", **fields: Any) -> TagFace:
        usual: dict[str, Any] = {
            "code": code,
            "address": f"HTTPS://HANDOVER.QUARRYWHARF.EXAMPLE/T/{code}/",
            "section_id": "HF-R2-L3-014",
            "section_name": "Heating flow riser 2, level 3 to level 4, east shaft",
            "service": "Heating flow",
            "flow_words": "to level 4 plant corridor",
            "flow_arrow": "up",
            "band": (Band("green", "#6A6C3C"), Band("crimson", "#8A1538"), Band("green", "#6A6C3C")),
            "limits": "6 bar · 82 °C",
            "duty": "01632 960 123",
            "od_mm": 54.0,
        }
        return TagFace(**(usual | fields))

    return make


@pytest.fixture(params=HOSTILE.values(), ids=HOSTILE.keys())
def hostile_text(request: pytest.FixtureRequest) -> str:
    """One text that should break nothing."""
    return str(request.param)


@pytest.fixture(scope="session")
def hostile_face(make_face: Callable[..., TagFace]) -> Callable[..., TagFace]:
    """A face with the given text in every field that takes words."""

    def make(text: str, **fields: Any) -> TagFace:
        words: dict[str, Any] = dict.fromkeys(
            ("section_id", "section_name", "service", "flow_words", "limits", "duty"), text
        )
        return make_face(**(words | {"band": (Band(text, "#6A6C3C"), Band(text, "#FFFFFF"))} | fields))

    return make


@pytest.fixture(scope="session")
def browser_page(browser_driver: Playwright) -> Iterator[Any]:
    """A page of Debian's Chromium; a machine without it fails here, it does not skip."""
    chromium = shutil.which("chromium") or "/usr/bin/chromium"
    browser = browser_driver.chromium.launch(executable_path=chromium, args=["--no-sandbox"])
    yield browser.new_page(viewport={"width": 1200, "height": 700})
    browser.close()


@pytest.fixture(scope="session")
def svg_pixels(browser_page: Any) -> Callable[[Path], NDArray[np.uint8]]:
    """Grey pixels of an SVG file as the browser draws it at its own size (96 px per inch)."""
    from io import BytesIO

    from PIL import Image

    def pixels(path: Path) -> NDArray[np.uint8]:
        browser_page.goto(path.resolve().as_uri())
        return np.asarray(Image.open(BytesIO(browser_page.screenshot())).convert("L"))

    return pixels
