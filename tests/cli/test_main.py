"""Commands say what they did in plain words, leave with the right exit code and never show a traceback."""

from __future__ import annotations

import csv
import json
import os
import pty
import re
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from frictionless import Package
from jsonschema import Draft202012Validator

from witnessmark import pipeline
from witnessmark.cli.exit_codes import ExitCode
from witnessmark.model.bundled import shared_path
from witnessmark.model.contract import contract
from witnessmark.pack.starter import write_starter
from witnessmark.pack.starter_rows import example_rows

Run = Callable[..., Any]
Shell = Callable[..., "subprocess.CompletedProcess[bytes]"]


def break_the_chain(project: Path) -> None:
    """Give the second joint the id of the first, and another size."""
    path = project / "records" / "joints.csv"
    header, first, second = path.read_text(encoding="utf-8-sig").splitlines()
    path.write_text("\n".join([header, first, second.replace("J014-B", "J014-A").replace(",22,", ",28,", 1)]) + "\n")


def test_init_starts_a_project_that_check_can_read(run: Run, tmp_path: Path) -> None:
    made = run("init", tmp_path / "new")
    assert (made.code, made.err) == (ExitCode.DONE, "")
    assert "witnessmark check" in made.out
    assert run("check", tmp_path / "new").code == ExitCode.DONE


def test_init_refuses_to_write_over_a_project(run: Run, project: Path) -> None:
    said = run("init", project)
    assert (said.code, said.out) == (ExitCode.CANNOT, "")
    assert said.err == f"witnessmark: {project}/project.yml: it exists, and a starter project writes over nothing; " \
                       "name a folder without it.\n"  # fmt: skip


def test_check_reports_like_a_compiler_and_adds_up(run: Run, project: Path) -> None:
    break_the_chain(project)
    said = run("check", project)
    lines = said.out.splitlines()
    assert any(line.startswith("records/joints.csv:") and "breaks" in line for line in lines), said.out
    assert any(line.startswith("    closes: ") for line in lines)
    account = re.fullmatch(r"Rows in (\d+) = used (\d+) \+ set aside (\d+)", lines[-2])
    assert account, lines[-2]
    rows_in, used, aside = map(int, account.groups())
    assert (
        rows_in
        == used + aside
        == sum(len(path.read_text(encoding="utf-8-sig").splitlines()) for path in (project / "records").glob("*.csv"))
    )
    counted = re.match(r"(\d+) findings: (\d+) breaks? the evidence chain", lines[-1])
    assert counted, lines[-1]
    told = [line for line in lines if re.search(r": (breaks|weakens|tidy)\b", line)]
    assert int(counted.group(1)) == len(told), said.out
    assert said.code == ExitCode.CHAIN_BROKEN


def test_check_says_what_is_new_and_what_is_closed_since_the_last_one(run: Run, project: Path) -> None:
    first = run("check", project)
    assert "Since the last check" not in first.out
    sound = (project / "records" / "joints.csv").read_bytes()
    break_the_chain(project)
    second = run("check", project)
    told = [line for line in second.out.splitlines() if line.endswith("(new)")]
    assert any("[joint-id-used-twice" in line for line in told), second.out
    assert re.search(rf"Since the last check: {len(told)} new, ", second.out), second.out
    (project / "records" / "joints.csv").write_bytes(sound)
    third = run("check", project)
    assert "    closed: joint-id-used-twice, " in third.out
    assert re.search(r"Since the last check: \d+ new, \d+ still open, [1-9]\d* closed\.", third.out)


def test_a_check_of_records_that_may_not_be_written_says_that_nothing_was_kept(run: Run, project: Path) -> None:
    (project / ".witnessmark").write_text("a file in the way")
    said = run("check", project)
    assert "What was found could not be kept for the next check" in said.out
    assert said.code in (ExitCode.DONE, ExitCode.CHAIN_BROKEN)


def test_check_says_in_one_line_whether_the_records_support_handover_and_what_would_get_there(
    run: Run, project: Path
) -> None:
    path = project / "project.yml"
    path.write_text(path.read_text().replace("  # completion_date: 2026-06-12", "  completion_date: 2026-06-12"))
    said = run("check", project)
    (line,) = [line for line in said.out.splitlines() if "support handover" in line]
    assert line.startswith("The records do not yet support handover: ")
    assert "28 days to completion (12 June 2026)" in line
    acts = re.findall(r"^  (\d)\. .+ \(.+; closes (\d+)\)$", said.out, re.MULTILINE)
    assert [number for number, _ in acts] == [str(n) for n in range(1, len(acts) + 1)]
    assert acts


def test_findings_stand_under_whoever_has_to_act(run: Run, project: Path) -> None:
    break_the_chain(project)
    said = run("check", project)
    heads = [line for line in said.out.splitlines() if line.startswith("== ")]
    assert heads
    assert sum(int(re.findall(r": ([\d,]+) open", head)[0]) for head in heads if " open" in head) == len(
        json.loads(run("check", project, "--json").out)
    )


def test_explain_gives_the_text_of_the_reference_page_and_needs_no_project(run: Run) -> None:
    said = run("check", "--explain", "joint-id-used-twice")
    assert said.code == ExitCode.DONE
    for part in ("What it checks", "Why it matters", "Example of a finding", "Remedy"):
        assert f"\n{part}\n" in said.out
    unknown = run("check", "--explain", "joint-id-used-thrice")
    assert (unknown.code, unknown.out) == (ExitCode.CANNOT, "")
    assert "did you mean joint-id-used-twice" in unknown.err
    assert run("check").code == ExitCode.CANNOT


def test_chase_lists_are_written_one_for_each_whose_job_it_is(run: Run, project: Path, tmp_path: Path) -> None:
    break_the_chain(project)
    said = run("check", project, "--chase", tmp_path / "chase")
    names = {path.suffix for path in (tmp_path / "chase").iterdir()}
    assert names == {".txt", ".csv"}
    assert f"chase lists into {tmp_path / 'chase'}." in said.out


def test_sample_writes_a_walk_sheet_and_says_what_it_proves(run: Run, project: Path, tmp_path: Path) -> None:
    said = run("sample", project, "--seed", "x", "--out", tmp_path / "walk")
    assert said.code == ExitCode.DONE, said.err
    assert {path.name for path in (tmp_path / "walk").iterdir()} == {"walk-sheet.pdf", "walk-sheet.csv"}
    assert "2 joints" in said.out
    for wrong, words in ((("--aql", "3"), "AQL '3'"), (("--system", "LTHW"), "there is no system 'LTHW'")):
        refused = run("sample", project, *wrong)
        assert (refused.code, refused.err.count("\n")) == (ExitCode.CANNOT, 1)
        assert words in refused.err
    (tmp_path / "file").write_text("in the way")
    refused = run("sample", project, "--out", tmp_path / "file" / "walk")
    assert (refused.code, refused.err.count("\n")) == (ExitCode.CANNOT, 1)


def test_trace_follows_a_joint_and_a_tool_and_says_what_it_does_not_know(
    run: Run, project: Path, tmp_path: Path
) -> None:
    joint = run("trace", project, "EX-LTHW-F-R2-J014-A", "--csv", tmp_path / "joint.csv")
    assert joint.code == ExitCode.DONE, joint.err
    assert "Pressed by: EX-OP-03" in joint.out
    assert "records/joints.csv:2:" in joint.out
    assert (tmp_path / "joint.csv").is_file()
    tool = run("trace", project, "EX-PT-02", "--csv", tmp_path / "tool.csv")
    assert "Tool EX-PT-02 touched 2 joints, 1 sections" in tool.out
    assert len((tmp_path / "tool.csv").read_text(encoding="utf-8-sig").splitlines()) == 3
    for words, wanted in (
        (("EX-PT-0",), "did you mean"),
        (("nothing like it",), "no joint, batch, tool, operative or gauge is called"),
        (("EX-PT-02", "--csv", str(tmp_path)), "the trace cannot be written"),
        (("EX-PT-02", "--kind", "joint"), "no joint is called 'EX-PT-02'"),
    ):
        refused = run("trace", project, *words)
        assert (refused.code, refused.err.count("\n")) == (ExitCode.CANNOT, 1), refused
        assert wanted in refused.err


def test_check_json_prints_nothing_but_the_list(shell: Shell, project: Path) -> None:
    break_the_chain(project)
    done = shell("check", project, "--json")
    document = json.loads(done.stdout.decode("utf-8"))
    schema = json.loads(shared_path("contract/findings.schema.json").read_text(encoding="utf-8"))
    Draft202012Validator(schema).validate(document)
    assert document
    assert (done.returncode, done.stderr) == (ExitCode.CHAIN_BROKEN, b"")


@pytest.mark.parametrize("command", ["check", "build"])
def test_what_cannot_be_built_is_one_sentence(run: Run, tmp_path: Path, command: str) -> None:
    for folder, words in ((tmp_path / "missing", "there is no such folder"), (tmp_path, "it holds no project.yml")):
        said = run(command, folder)
        assert said.code == ExitCode.CANNOT
        assert said.err.startswith("witnessmark: ")
        assert said.err.count("\n") == 1
        assert words in said.err
    assert list(tmp_path.iterdir()) == []


def test_broken_settings_name_the_line(run: Run, project: Path) -> None:
    (project / "project.yml").write_text("project:\n  id: [\n")
    said = run("build", project)
    assert said.code == ExitCode.CANNOT
    assert "project.yml, line " in said.err
    assert not (project / "handover").exists()


def test_build_writes_everything_and_says_where(run: Run, project: Path) -> None:
    said = run("build", project)
    assert said.code == ExitCode.DONE, said.err
    out = project / "handover"
    assert {path.name for path in out.iterdir()} == {
        "audit", "facilities", "tag", "tags", "findings.json", "findings.csv", "chase", ".witnessmark-pack",
    }  # fmt: skip
    assert said.out.startswith(f"Built {out}: 1 section, 1 tag, 1 of them new.")
    code = (project / "records" / "tags.csv").read_text().splitlines()[1].split(",")[0]
    for edition in ("audit", "facilities", "tag"):
        assert (out / edition / "T" / code / "index.html").is_file()
    assert (out / "tags" / f"{code}.svg").is_file()
    assert (out / "audit" / "data" / "datapackage.json").is_file()
    assert not (out / "facilities" / "data").exists()
    assert json.loads((out / "findings.json").read_text(encoding="utf-8")) == json.loads(
        run("check", project, "--json").out
    )


def test_a_second_build_gives_no_new_codes_and_the_same_bytes(run: Run, project: Path, tmp_path: Path) -> None:
    run("build", project)
    for name in ("a", "b"):
        said = run("build", project, "--out", tmp_path / name)
        assert ", 0 of them new." in said.out, said
    first, second = (
        {
            str(path.relative_to(tmp_path / name)): path.read_bytes()
            for path in (tmp_path / name).rglob("*")
            if path.is_file()
        }
        for name in ("a", "b")
    )
    assert first.keys() == second.keys()
    assert [name for name, data in first.items() if second[name] != data] == []


def test_where_the_tag_register_cannot_be_written_the_old_pack_stands(run: Run, project: Path) -> None:
    run("build", project)
    page = project / "handover" / "findings.json"
    before = page.stat().st_mtime_ns
    (project / "records" / "tags.csv").write_text("something else\n")
    said = run("build", project)
    assert said.code == ExitCode.CANNOT
    assert "records/tags.csv: the new tag codes cannot be added" in said.err
    assert page.stat().st_mtime_ns == before


def test_a_build_that_is_killed_leaves_the_old_pack_and_the_next_one_clears_up(run: Run, project: Path) -> None:
    run("build", project)
    before = (project / "handover" / "findings.json").stat().st_ino
    call = [sys.executable, "-c", "from witnessmark.cli.main import main; main()", "build", str(project)]
    with subprocess.Popen(call, stdout=subprocess.DEVNULL) as process:
        while not list(project.glob("handover.part-*/tags")):
            assert process.poll() is None, "the build ended before it could be killed"
            time.sleep(0.005)
        process.kill()
    assert (project / "handover" / "findings.json").stat().st_ino == before
    assert run("build", project).code == ExitCode.DONE
    assert [path.name for path in project.glob("handover*")] == ["handover"]


def test_a_label_that_cannot_be_read_is_refused_in_one_sentence(run: Run, project: Path) -> None:
    path = project / "project.yml"
    path.write_text(
        path.read_text().replace("  flag_below_mm: 54", "  sheet: {label_width_mm: 20, label_height_mm: 20}\n#")
    )
    said = run("build", project)
    assert said.code == ExitCode.CANNOT
    assert "Tags cannot be drawn as project.yml asks." in said.err
    assert not (project / "handover").exists()
    assert not (project / "records" / "tags.csv").exists()


def test_the_pack_never_lands_on_the_project(run: Run, project: Path) -> None:
    said = run("build", project, "--out", project)
    assert said.code == ExitCode.CANNOT
    assert "name another folder with --out" in said.err


def test_an_unexpected_error_is_named_and_shows_its_trace_only_on_demand(
    run: Run, project: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fall(*_: object) -> None:
        raise LookupError("no such\nthing")

    monkeypatch.setattr(pipeline, "run", fall)
    said = run("check", project)
    assert said.code == ExitCode.CANNOT
    assert said.err.startswith("witnessmark: an unexpected error (LookupError: no such thing); please report it")
    assert "Traceback" not in said.err
    assert "Traceback" in run("--debug", "check", project).err


def test_wrong_use_leaves_with_the_code_for_could_not(run: Run) -> None:
    assert run("check").code == ExitCode.CANNOT
    assert run("nothing").code == ExitCode.CANNOT
    assert run("--version").out.startswith("witnessmark, version ")


def test_a_reader_that_stops_early_sees_no_trace(project: Path) -> None:
    path = project / "records" / "joints.csv"
    header, first, _ = path.read_text(encoding="utf-8-sig").splitlines()
    rows = [first.replace("J014-A", f"J{n}").replace(",22,", ",no size,", 1) for n in range(3000)]
    path.write_text("\n".join([header, *rows]))
    call = [sys.executable, "-c", "from witnessmark.cli.main import main; main()", "check", "--all", str(project)]
    with subprocess.Popen(call, stdout=subprocess.PIPE, stderr=subprocess.PIPE) as process:
        assert process.stdout is not None
        assert process.stderr is not None
        process.stdout.readline()
        process.stdout.close()
        assert process.stderr.read() == b""


def test_a_terminal_without_the_letters_does_not_stop_the_run(shell: Shell, project: Path) -> None:
    path = project / "records" / "joints.csv"
    path.write_text(
        path.read_text(encoding="utf-8-sig").replace("EX-FAM-A", "🔥").replace(",22,", ",Größe 🔥,", 1),
        encoding="utf-8",
    )
    for encoding in ("ascii", "latin-1"):
        done = shell("check", project, PYTHONIOENCODING=encoding, PYTHONUTF8="0", LC_ALL="C")
        assert done.returncode == ExitCode.DONE, done.stderr
        assert done.stderr == b""
    assert "Größe ?".encode("latin-1") in done.stdout


def test_progress_is_silent_in_a_pipe_and_clears_itself_on_a_terminal(shell: Shell, project: Path) -> None:
    assert shell("check", project).stderr == b""
    mine, theirs = pty.openpty()
    call = [sys.executable, "-c", "from witnessmark.cli.main import main; main()", "check", str(project)]
    subprocess.run(call, stdout=subprocess.DEVNULL, stderr=theirs, check=True, timeout=60)
    os.close(theirs)
    shown = os.read(mine, 65536).decode()
    os.close(mine)
    assert "reading the records" in shown
    assert "\n" not in shown
    assert shown.endswith("\r\x1b[K")


def test_many_projects_can_be_started_side_by_side(tmp_path: Path, run: Run) -> None:
    for name in ("a b", "ü", "'quoted'"):
        write_starter(tmp_path / name)
        assert run("check", tmp_path / name).code == ExitCode.DONE


HOSTILE = (
    "../../x", "CON", "a/b", "W" * 300, "abc", "ABC", "=1+1", "'=1", "+1", "<script>alert(1)</script>", "\"q\" 'x'",
    "🔥 مياه", "\u202eabc\u202c", "a\x00b\x1bc", "aux.txt", "..", ".", "a;b", "x,y", " ", "%2e/", "a\\b", "line\nbreak",
)  # fmt: skip


def fill_with(project: Path, texts: tuple[str, ...]) -> None:
    """Add to every table one row a text, which stands in every column that takes text."""
    for name, table in contract().items():
        if name == "tags":
            continue
        example = example_rows(name)[0]
        rows = [list(row.values()) for row in example_rows(name)]
        for text in texts:
            words = {f.name for f in table.fields if f.reads in ("id", "ref", "refs", "person", "text", "path")}
            rows.append([text if column in words else value for column, value in example.items()])
        with (project / "records" / f"{name}.csv").open("w", encoding="utf-8", newline="") as stream:
            csv.writer(stream).writerows([list(example), *rows])


def test_no_text_in_any_field_stops_a_build_or_leaves_its_folder(run: Run, project: Path, tmp_path: Path) -> None:
    fill_with(project, HOSTILE)
    before = {path for path in tmp_path.rglob("*") if project not in path.parents}
    assert "Traceback" not in run("check", project).err
    first = run("build", project)
    assert first.code == ExitCode.DONE, first.err
    register = (project / "records" / "tags.csv").read_bytes()
    again = run("build", project)
    assert ", 0 of them new." in again.out, "a section got a second code"
    assert (project / "records" / "tags.csv").read_bytes() == register
    assert {path for path in tmp_path.rglob("*") if project not in path.parents} == before
    names = [path.name for path in (project / "handover").rglob("*")]
    assert [name for name in names if not re.fullmatch(r"[A-Za-z0-9._-]{1,80}", name)] == []
    assert Package(str(project / "handover" / "audit" / "data" / "datapackage.json")).validate().valid
    schema = json.loads(shared_path("contract/findings.schema.json").read_text(encoding="utf-8"))
    findings = json.loads((project / "handover" / "findings.json").read_text(encoding="utf-8"))
    Draft202012Validator(schema).validate(findings)
