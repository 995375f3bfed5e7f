"""``project.yml``: what is wrong with it is one sentence with a line; nothing in it can run or swell."""

from pathlib import Path

import pytest

from witnessmark.intake.errors import UnusableProject
from witnessmark.intake.project_file import read_settings

GOOD = """\
project: {id: T-1, name: Test project, time_zone: Europe/London, completion_date: 2026-06-12}
issue: {number: P01, date: 2026-05-15}
tags: {host: tags.example}
"""


def read(tmp_path: Path, text: str | bytes) -> object:
    (tmp_path / "project.yml").write_bytes(text if isinstance(text, bytes) else text.encode("utf-8"))
    return read_settings(tmp_path)


def test_the_least_project_is_read(tmp_path: Path) -> None:
    settings = read_settings(tmp_path) if read(tmp_path, GOOD) else None
    assert settings is not None
    assert (settings.id, settings.issue.number, settings.issue.date.isoformat()) == ("T-1", "P01", "2026-05-15")
    assert settings.completion_date is not None
    assert settings.tags.level == "Q"


def test_words_such_as_no_and_yes_stay_words(tmp_path: Path) -> None:
    read(tmp_path, GOOD + "answers: {joints.pressed_check: {words: {NO: no, y: yes, 1: yes}}}\n")
    assert read_settings(tmp_path).answers["joints.pressed_check"].words == {"NO": "no", "y": "yes", "1": "yes"}


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("project: [1", "line 1"),
        ("project:\n  id: A\n bad\n", "line 3"),
        (GOOD + "colour: red\n", "unknown key 'colour'"),
        (GOOD.replace("name:", "nmae:"), "name"),
        (GOOD.replace("2026-05-15", "15/05/2026"), "issue.date"),
        (GOOD.replace("2026-05-15", "2026-02-30"), "no day of the calendar"),
        (GOOD.replace("Europe/London", "Mars/Base"), "names no time zone"),
        (GOOD.replace("Europe/London", "../../etc/passwd"), "names no time zone"),
        (GOOD.replace("P01", "7"), "issue.number is 7"),
        (GOOD.replace("tags.example", "https://tags.example/"), "tags.host"),
        (GOOD + "issue: {number: P02, date: 2026-05-16}\n", "'issue' is given twice"),
        (GOOD + "answers: {joints.presed: {unit: bar}}\n", "joints.presed"),
        (GOOD + "records: [{table: joints, file: a.csv, columns: {joint: X}}]\n", "maps 'joint'"),
        (GOOD + "records: [{file: a.csv}]\n", "does not say which table"),
        (GOOD + "guarantee: {lead: {years: 5, basis: completion}}\n", "lead"),
        (GOOD + "guarantee: {copper: {years: thirty, basis: completion}}\n", "guarantee.copper.years"),
        ("", "holds no settings"),
        ("- a\n- b\n", "holds no settings"),
        ("a: !!python/object/apply:os.system ['true']\n", "line 1"),
        ("a: &a [*a]\n", "project.yml"),
        (b"\xff\xfe\x00bad", "not UTF-8"),
        ("project: {id: 'a\x07'}\n", "does not allow"),
    ],
)
def test_a_broken_file_is_one_sentence_with_its_place(tmp_path: Path, text: str | bytes, sentence: str) -> None:
    with pytest.raises(UnusableProject) as caught:
        read(tmp_path, text)
    message = str(caught.value)
    assert message.startswith("project.yml")
    assert sentence in message
    assert "\n" not in message
    assert message.endswith((".", "?"))


def test_an_alias_bomb_is_refused_quickly(tmp_path: Path) -> None:
    lines = ["a0: &a0 [x, x, x, x, x, x, x, x, x, x]"]
    lines += [f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 10)}]" for n in range(1, 12)]
    with pytest.raises(UnusableProject, match="aliases"):
        read(tmp_path, "\n".join(lines))


def test_deep_nesting_is_refused(tmp_path: Path) -> None:
    with pytest.raises(UnusableProject, match=r"nested|refers|line"):
        read(tmp_path, "a: " + "[" * 20000)


def test_a_missing_folder_and_a_missing_file_are_told_apart(tmp_path: Path) -> None:
    with pytest.raises(UnusableProject, match="no such folder"):
        read_settings(tmp_path / "nowhere")
    with pytest.raises(UnusableProject, match=r"holds no project\.yml"):
        read_settings(tmp_path)
