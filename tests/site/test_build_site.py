"""An edition is a folder of plain files, the same bytes from the same records."""

import dataclasses
import datetime
import hashlib
import re
from collections.abc import Callable
from pathlib import Path

import pytest

from witnessmark.model.contract import Edition
from witnessmark.model.records import Record, Tag
from witnessmark.pages.address import UnusableTagCode
from witnessmark.pipeline import Outcome
from witnessmark.site.build_site import build_edition
from witnessmark.workings.tag_codes import TagCodes

MakeRecord = Callable[..., Record]


@pytest.mark.parametrize("edition", list(Edition))
def test_every_edition_has_a_front_page_and_a_page_at_every_tag_address(
    small_outcome: Outcome, tmp_path: Path, edition: Edition
) -> None:
    build_edition(small_outcome, edition, tmp_path / "out")
    assert (tmp_path / "out" / "index.html").is_file()
    for code in small_outcome.workings.tags.by_section.values():
        assert code in (tmp_path / "out" / "T" / code / "index.html").read_text("utf-8")


def _digest(folder: Path) -> dict[str, str]:
    return {
        path.relative_to(folder).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in folder.rglob("*")
        if path.is_file()
    }


def test_two_builds_of_the_same_records_are_the_same_bytes(small_outcome: Outcome, tmp_path: Path) -> None:
    for name in ("first", "second"):
        build_edition(small_outcome, Edition.AUDIT, tmp_path / name)
    assert _digest(tmp_path / "first") == _digest(tmp_path / "second")


def test_a_build_writes_only_below_its_folder_and_stays_where_it_is(
    small_outcome: Outcome, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    work = tmp_path / "work"
    work.mkdir()
    monkeypatch.chdir(work)
    build_edition(small_outcome, Edition.TAG, tmp_path / "out")
    assert Path.cwd() == work
    assert list(work.iterdir()) == []
    assert {path.name for path in tmp_path.iterdir()} == {"work", "out"}


def test_a_tag_whose_section_is_gone_still_answers_with_a_signpost(
    record: MakeRecord, make_outcome: Callable[..., Outcome], tmp_path: Path
) -> None:
    outcome = make_outcome(
        sections=(record("sections", section_id="R2"),),
        tags=(
            record("tags", code="W6RH9MH", section_id="R1", first_issue="P01"),
            record("tags", code="7W92XYH", section_id="R2", first_issue="P01"),
            record("tags", code="7MK2F99", section_id="R2", first_issue="P02"),
        ),
    )
    for edition in Edition:
        build_edition(outcome, edition, tmp_path / edition)
        gone = (tmp_path / edition / "T" / "W6RH9MH" / "index.html").read_text("utf-8")
        assert "Tag W6RH9MH was made for section R1; the records of issue P03 hold no such section." in gone
        assert "+44 20 7946 0018" in gone
        other = (tmp_path / edition / "T" / "7MK2F99" / "index.html").read_text("utf-8")
        assert "which now has tag 7W92XYH" in other
        assert 'href="../../T/7W92XYH/index.html"' in other


def test_a_tag_code_that_no_address_can_be_made_of_is_refused_with_one_sentence(
    small_outcome: Outcome, tmp_path: Path
) -> None:
    tags = TagCodes({**small_outcome.workings.tags.by_section, "X?": "../../x"}, (), ())
    workings = dataclasses.replace(small_outcome.workings, tags=tags)
    outcome = dataclasses.replace(small_outcome, workings=workings)
    with pytest.raises(UnusableTagCode, match=r"'\.\./\.\./x' of section 'X\?'.*tags\.csv"):
        build_edition(outcome, Edition.TAG, tmp_path / "out")


def test_a_retired_code_that_no_address_can_be_made_of_writes_nothing_outside(
    record: MakeRecord, make_outcome: Callable[..., Outcome], tmp_path: Path
) -> None:
    tag = record("tags", code="../../../evil", section_id="R1")
    assert isinstance(tag, Tag)
    build_edition(make_outcome(tags=(tag,)), Edition.TAG, tmp_path / "out")
    assert {path.name for path in tmp_path.iterdir()} == {"out"}


def test_an_empty_project_builds_pages_that_say_so(make_outcome: Callable[..., Outcome], tmp_path: Path) -> None:
    for edition in Edition:
        build_edition(make_outcome(), edition, tmp_path / edition)
    assert "The records show no section" in (tmp_path / "tag" / "index.html").read_text("utf-8")
    assert "The records show no joint." in (tmp_path / "audit" / "registers" / "joints.html").read_text("utf-8")


def test_a_long_register_is_cut_into_leaves_that_hold_every_row_once(
    record: MakeRecord, make_outcome: Callable[..., Outcome], tmp_path: Path
) -> None:
    joints = tuple(record("joints", joint_id=f"J{n:05}", section_id="R1") for n in range(1201))
    outcome = make_outcome(sections=(record("sections", section_id="R1"),), joints=joints)
    build_edition(outcome, Edition.FACILITIES, tmp_path / "out")
    folder = tmp_path / "out" / "registers"
    leaves = [folder / "joints.html", folder / "joints.2.html", folder / "joints.3.html"]
    found = [re.findall(r"<td>(J\d{5})</td>", leaf.read_text("utf-8")) for leaf in leaves]
    assert [len(rows) for rows in found] == [500, 500, 201]
    assert [each for rows in found for each in rows] == [joint.joint_id for joint in joints]
    middle = leaves[1].read_text("utf-8")
    assert 'rel="prev" href="../registers/joints.html"' in middle
    assert 'rel="next" href="../registers/joints.3.html"' in middle
    assert "rows 501 to 1,000 of 1,201" in middle


def test_many_tags_are_listed_in_ranges_by_code(
    record: MakeRecord, make_outcome: Callable[..., Outcome], tmp_path: Path
) -> None:
    outcome = make_outcome(sections=tuple(record("sections", section_id=f"R{n}") for n in range(501)))
    build_edition(outcome, Edition.TAG, tmp_path / "out")
    codes = sorted(outcome.workings.tags.by_section.values())
    front = (tmp_path / "out" / "index.html").read_text("utf-8")
    assert codes[499] in front
    assert codes[250] not in front
    assert codes[250] in (tmp_path / "out" / "find.1.html").read_text("utf-8")
    assert codes[500] in (tmp_path / "out" / "find.2.html").read_text("utf-8")


def test_the_projects_own_narrative_is_laid_over_the_bundled_one_and_cannot_bring_markup_along(
    make_outcome: Callable[..., Outcome], tmp_path: Path
) -> None:
    own = tmp_path / "project" / "content"
    (own / "guide").mkdir(parents=True)
    front = "---\neditions: [tag, facilities, audit]\n---\n"
    (own / "guide" / "cautions.md").write_text(
        front + "# Our cautions\n\n<script>alert(1)</script>\n\n[x](javascript:alert(2)) ![p](pic.png) "
        "![q](https://example.org/q.png)\n\n<b onclick='x'>bold</b>\n",
        encoding="utf-8",
    )
    (own / "guide" / "secret.md").write_text("# For the auditor\n\nNo edition is named here.\n", encoding="utf-8")
    (own / "guide" / "pic.png").write_bytes(b"\x89PNG-camera-data")
    outcome = make_outcome(folder=tmp_path / "project")
    for edition in Edition:
        build_edition(outcome, edition, tmp_path / edition)
        page = (tmp_path / edition / "guide" / "cautions.html").read_text("utf-8")
        assert "Our cautions" in page
        assert "<script>alert" not in page
        assert "javascript:" not in page.replace("&lt;", "")
        assert "<b onclick" not in page
        assert "https://example.org" not in page
        assert (tmp_path / edition / "guide" / "secret.html").exists() == (edition is Edition.AUDIT)
        assert (tmp_path / edition / "guide" / "pic.png").exists() == (edition is Edition.AUDIT)


def test_documents_go_only_into_editions_that_may_carry_them_and_never_from_outside_the_folder(
    record: MakeRecord, make_outcome: Callable[..., Outcome], tmp_path: Path
) -> None:
    folder = tmp_path / "project"
    (folder / "documents" / "tests").mkdir(parents=True)
    (folder / "secret.txt").write_text("out of bounds", encoding="utf-8")
    for name in ("a.pdf", "f.pdf", "p.jpg"):
        (folder / "documents" / "tests" / name).write_text(f"body of {name}", encoding="utf-8")
    day = datetime.date(2026, 3, 9)
    outcome = make_outcome(
        folder=folder,
        documents=(
            record("documents", document_id="D1", file="tests/a.pdf", title="A", edition="audit", date=day),
            record("documents", document_id="D2", file="tests/f.pdf", title="F", edition="facilities"),
            record("documents", document_id="D3", file="tests/p.jpg", title="P", edition="tag"),
            record("documents", document_id="D4", file="../secret.txt", title="S", edition="tag"),
            record("documents", document_id="D5", file="tests/none.pdf", title="N"),
        ),
    )
    bodies = {}
    for edition in Edition:
        build_edition(outcome, edition, tmp_path / edition)
        files = list((tmp_path / edition / "documents").glob("*"))
        bodies[edition] = sorted(path.read_text("utf-8") for path in files)
    assert bodies[Edition.AUDIT] == ["body of a.pdf", "body of f.pdf", "body of p.jpg"]
    assert bodies[Edition.FACILITIES] == ["body of f.pdf"]
    assert bodies[Edition.TAG] == []
    page = (tmp_path / "audit" / "registers" / "documents.html").read_text("utf-8")
    assert page.count("the file is not in the documents folder") == 2


def test_progress_hears_how_many_pages_were_written(
    record: MakeRecord, make_outcome: Callable[..., Outcome], tmp_path: Path
) -> None:
    heard: list[int] = []
    outcome = make_outcome(sections=tuple(record("sections", section_id=f"R{n}") for n in range(600)))
    build_edition(outcome, Edition.TAG, tmp_path / "out", heard.append)
    assert heard == [250, 500]
