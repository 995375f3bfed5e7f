"""The register of tag codes only ever grows, and is never touched where it cannot be read back."""

from __future__ import annotations

from pathlib import Path

import pytest

from witnessmark.pack import tag_register
from witnessmark.pack.tag_register import TAG_REGISTER, TagRegisterNotWritable, append_codes

HEADER = "code,section_id,first_issue"


def register(project: Path, data: bytes) -> Path:
    path = project / TAG_REGISTER
    path.parent.mkdir(exist_ok=True)
    path.write_bytes(data)
    return path


def test_a_new_register_gets_its_heading(tmp_path: Path) -> None:
    assert append_codes(tmp_path, [("2222222", "S-1"), ("3333333", 'S,"2"')], "P01") == 2
    assert (tmp_path / TAG_REGISTER).read_bytes().decode() == (
        f'{HEADER}\r\n2222222,S-1,P01\r\n3333333,"S,""2""",P01\r\n'
    )


@pytest.mark.parametrize("before", [
    b"code,section_id,first_issue\r\n2222222,S-1,P01\r\n",
    b"code,section_id,first_issue\n2222222,S-1,P01",
    b"\xef\xbb\xbfcode,section_id,first_issue\n\n2222222,S-1,P01\n",
])  # fmt: skip
def test_earlier_bytes_stay_as_they_are(tmp_path: Path, before: bytes) -> None:
    path = register(tmp_path, before)
    append_codes(tmp_path, [("3333333", "S-2")], "P02")
    after = path.read_bytes()
    assert after.startswith(before)
    assert after.decode("utf-8-sig").split() == [HEADER, "2222222,S-1,P01", "3333333,S-2,P02"]


def test_nothing_is_written_where_there_is_nothing_to_add(tmp_path: Path) -> None:
    assert append_codes(tmp_path, [], "P01") == 0
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("before", [
    b"code;section_id;first_issue\n", HEADER.encode("utf-16"), b"2222222,S-1,P01\n", b"\xff\xfe\x00",
], ids=["semicolons", "utf-16", "no heading", "no text"])  # fmt: skip
def test_a_register_saved_in_another_form_is_not_added_to(tmp_path: Path, before: bytes) -> None:
    path = register(tmp_path, before)
    with pytest.raises(TagRegisterNotWritable, match=r"records/tags\.csv.*restore it"):
        append_codes(tmp_path, [("3333333", "S-2")], "P02")
    assert path.read_bytes() == before


def test_a_register_that_cannot_be_replaced_is_named_and_left(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    before = b"code,section_id,first_issue\n"
    path = register(tmp_path, before)

    def refuse(*_: Path) -> Path:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(tag_register.Path, "replace", refuse)
    with pytest.raises(TagRegisterNotWritable, match=r"permission denied.*earlier pack still stands"):
        append_codes(tmp_path, [("3333333", "S-2")], "P02")
    assert path.read_bytes() == before
    assert [entry.name for entry in path.parent.iterdir()] == ["tags.csv"]
