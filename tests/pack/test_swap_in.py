"""Whatever stops a build, the previous pack still stands, and nothing but a pack is ever replaced."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from witnessmark.pack.swap_in import MARKER, OutputHoldsProject, OutputIsNoPack, OutputNotWritable, fresh_folder


@pytest.fixture
def project(tmp_path: Path) -> Path:
    for name in ("records", "documents"):
        (tmp_path / "site" / name).mkdir(parents=True)
    return tmp_path / "site"


def build(out: Path, project: Path, text: str) -> None:
    with fresh_folder(out, project) as part:
        (part / "page.html").write_text(text)


def fail(out: Path, project: Path) -> None:
    with fresh_folder(out, project) as part:
        (part / "page.html").write_text("half")
        raise ZeroDivisionError


def beside(out: Path) -> list[str]:
    return sorted(path.name for path in out.parent.iterdir() if path.name.startswith(out.name))


def test_a_new_pack_takes_the_place_of_the_old_one_whole(project: Path) -> None:
    out = project / "handover"
    build(out, project, "first")
    (out / "gone.html").write_text("a page of the first build")
    build(out, project, "second")
    assert sorted(path.name for path in out.iterdir()) == [MARKER, "page.html"]
    assert (out / "page.html").read_text() == "second"
    assert beside(out) == ["handover"]


def test_a_build_that_fails_leaves_the_old_pack_and_nothing_else(project: Path) -> None:
    out = project / "handover"
    build(out, project, "first")
    with pytest.raises(ZeroDivisionError):
        fail(out, project)
    assert (out / "page.html").read_text() == "first"
    assert beside(out) == ["handover"]


def killed_process() -> int:
    process = subprocess.Popen([sys.executable, "-c", ""])
    process.wait()
    return process.pid


def test_what_a_killed_build_left_is_cleared_away(project: Path) -> None:
    out = project / "handover"
    build(out, project, "first")
    (project / f"handover.part-{killed_process()}").mkdir()
    build(out, project, "second")
    assert beside(out) == ["handover"]


def test_a_pack_that_a_killed_build_had_moved_aside_comes_back(project: Path) -> None:
    out = project / "handover"
    build(out, project, "first")
    out.rename(project / f"handover.old-{killed_process()}")
    with pytest.raises(ZeroDivisionError):
        fail(out, project)
    assert (out / "page.html").read_text() == "first"


def test_a_build_that_is_running_is_left_alone(project: Path) -> None:
    out = project / "handover"
    running = project / f"handover.part-{os.getppid()}"
    running.mkdir()
    build(out, project, "mine")
    assert running.is_dir()


def test_a_folder_with_other_things_in_it_is_refused(project: Path, tmp_path: Path) -> None:
    out = tmp_path / "photos"
    out.mkdir()
    (out / "holiday.jpg").write_text("x")
    with pytest.raises(OutputIsNoPack, match="name another folder"):
        build(out, project, "x")
    assert [path.name for path in out.iterdir()] == ["holiday.jpg"]


def test_an_empty_folder_is_taken(project: Path, tmp_path: Path) -> None:
    (tmp_path / "empty").mkdir()
    build(tmp_path / "empty", project, "x")
    assert (tmp_path / "empty" / "page.html").is_file()


def test_a_link_or_file_in_the_place_of_the_pack_is_refused(project: Path, tmp_path: Path) -> None:
    (tmp_path / "elsewhere").mkdir()
    (tmp_path / "link").symlink_to(tmp_path / "elsewhere")
    (tmp_path / "file").write_text("x")
    for name in ("link", "file"):
        with pytest.raises(OutputIsNoPack):
            build(tmp_path / name, project, "x")
    assert list((tmp_path / "elsewhere").iterdir()) == []


@pytest.mark.parametrize(
    "where", [".", "..", "records", "records/pack", "documents", "content/pack", "handover/../records"]
)
def test_a_pack_is_never_built_over_the_project_or_its_records(project: Path, where: str) -> None:
    with pytest.raises(OutputHoldsProject, match="would overwrite"):
        build(project / where, project, "x")
    assert (project / "records").is_dir()


def test_a_folder_that_cannot_be_made_is_named(project: Path, tmp_path: Path) -> None:
    (tmp_path / "file").write_text("x")
    with pytest.raises(OutputNotWritable, match="cannot be written there"):
        build(tmp_path / "file" / "pack", project, "x")
