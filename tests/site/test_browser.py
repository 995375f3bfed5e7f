"""Pages in Chromium, without a network: from a folder, and from a loopback server under a sub-path."""

import functools
import http.server
import threading
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from witnessmark.model.contract import Edition
from witnessmark.pipeline import Outcome

pytestmark = pytest.mark.browser

Build = Callable[[Outcome], Path]
Open = Callable[..., Any]
MOST = "document.documentElement.scrollWidth"


class _Quiet(http.server.SimpleHTTPRequestHandler):
    def log_message(self, *args: object) -> None:
        pass


@pytest.fixture
def serve() -> Iterator[Callable[[Path], str]]:
    """Serves a folder on the loopback and gives its address."""
    servers = []

    def start(folder: Path) -> str:
        handler = functools.partial(_Quiet, directory=str(folder))
        server = http.server.ThreadingHTTPServer(("127.0.0.1", 0), handler)
        threading.Thread(target=server.serve_forever, daemon=True).start()
        servers.append(server)
        return f"http://127.0.0.1:{server.server_port}"

    yield start
    for server in servers:
        server.shutdown()
        server.server_close()


def _some_pages(top: Path) -> list[Path]:
    """Every page but one of each kind of contract and check page."""
    return sorted(path for path in top.rglob("*.html") if "contract/" not in path.as_posix())


@pytest.mark.parametrize("edition", list(Edition))
def test_every_page_opens_from_a_folder_without_trouble_and_fits_320_pixels(
    small_outcome: Outcome, build_all: Build, open_page: Open, edition: Edition
) -> None:
    top = build_all(small_outcome) / edition
    page = open_page((top / "index.html").as_uri(), width=320)
    for path in _some_pages(top):
        page.goto(path.as_uri())
        assert page.evaluate(MOST) <= 320, path
        assert page.locator("h1").count() == 1, path
    assert page.troubles == []


@pytest.mark.parametrize("edition", list(Edition))
def test_hostile_text_neither_runs_nor_pushes_the_page_out_of_its_width(
    hostile_outcome: Outcome, build_all: Build, open_page: Open, edition: Edition
) -> None:
    top = build_all(hostile_outcome) / edition
    page = open_page((top / "index.html").as_uri(), width=320)
    asked: list[str] = []
    page.on("dialog", lambda dialog: (asked.append(dialog.message), dialog.dismiss()))
    for path in _some_pages(top):
        page.goto(path.as_uri())
        assert page.evaluate(MOST) <= 320, path
    assert page.troubles == []
    assert asked == []


@pytest.mark.parametrize("edition", list(Edition))
def test_every_page_opens_from_a_server_under_a_sub_path(
    small_outcome: Outcome, build_all: Build, open_page: Open, serve: Callable[[Path], str], edition: Edition
) -> None:
    out = build_all(small_outcome)
    address = serve(out.parent)
    page = open_page(f"{address}/{out.name}/{edition}/index.html")
    for path in _some_pages(out / edition):
        page.goto(f"{address}/{path.relative_to(out.parent).as_posix()}")
    # The address on the tag has no file name: a static host answers with index.html.
    code = small_outcome.workings.tags.by_section["LTHW-F-R2"]
    page.goto(f"{address}/{out.name}/{edition}/T/{code}/")
    assert code in page.inner_text("main")
    assert page.troubles == []


@pytest.mark.parametrize("scripts", [True, False])
@pytest.mark.parametrize("edition", list(Edition))
def test_the_first_phone_screen_holds_the_card(
    small_outcome: Outcome, build_all: Build, open_page: Open, edition: Edition, scripts: bool
) -> None:
    code = small_outcome.workings.tags.by_section["LTHW-F-R2"]
    page = open_page((build_all(small_outcome) / edition / "T" / code / "index.html").as_uri(), scripts=scripts)
    for part in (".what", "h1", ".band", ".codes", ".hazards", ".inside", ".lines", ".call", ".age"):
        box = page.locator(part).first.bounding_box()
        assert box is not None
        assert box["y"] + box["height"] <= 640, part
    assert page.locator(".call a").bounding_box()["height"] >= 48
    assert page.locator(".call a").get_attribute("href") == "tel:+442079460018"
    assert ("This copy is" in page.inner_text(".age")) == scripts


def test_a_tag_is_found_by_its_code_and_a_mistyped_code_is_told_from_a_foreign_one(
    small_outcome: Outcome, build_all: Build, open_page: Open
) -> None:
    page = open_page((build_all(small_outcome) / "tag" / "index.html").as_uri())
    code = small_outcome.workings.tags.by_section["LTHW-F-R2"]
    page.fill("#tag-code", f"{code[:3].lower()}-{code[3:].lower()} ")
    assert page.inner_text(".found") == code
    page.fill("#tag-code", "7WM2F99")
    assert "one letter at least is wrong" in page.inner_text(".found")
    page.fill("#tag-code", code)
    page.press("#tag-code", "Enter")
    page.wait_for_url("**/T/**")
    assert code in page.inner_text(".codes")
    assert page.troubles == []


def test_without_scripts_a_tag_is_found_in_the_list(small_outcome: Outcome, build_all: Build, open_page: Open) -> None:
    page = open_page((build_all(small_outcome) / "tag" / "index.html").as_uri(), scripts=False)
    assert not page.is_visible("#tag-code")
    code = small_outcome.workings.tags.by_section["LTHW-F-R2"]
    link = page.locator(".tags a", has_text=code)
    assert link.bounding_box()["height"] >= 48
    link.click()
    assert code in page.inner_text(".codes")


def test_the_keyboard_reaches_tables_and_figures(small_outcome: Outcome, build_all: Build, open_page: Open) -> None:
    code = small_outcome.workings.tags.by_section["LTHW-F-R2"]
    page = open_page((build_all(small_outcome) / "audit" / "T" / code / "index.html").as_uri())
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.textContent") == "Skip to the page"
    reached = set()
    for _ in range(60):
        page.keyboard.press("Tab")
        reached.add(page.evaluate("document.activeElement.tagName + '.' + document.activeElement.className"))
    assert {"SUMMARY.", "DIV.scroll"} <= reached
