"""CSV files as sites save them."""

from __future__ import annotations

import time
from pathlib import Path

import pytest

from witnessmark.intake.csv_file import find_delimiter, read_csv
from witnessmark.intake.unreadable_file import UnreadableFile

LOGGERS = Path(__file__).parents[2].parent / "shared" / "real" / "loggers"


def saved(folder: Path, data: bytes) -> Path:
    path = folder / "joints.csv"
    path.write_bytes(data)
    return path


@pytest.mark.parametrize(
    ("encoding", "name"),
    [("utf-8", "utf-8"), ("utf-8-sig", "utf-8"), ("utf-16", "utf-16-le"), ("cp1252", "cp1252")],
)
def test_every_usual_encoding_gives_the_same_cells(tmp_path: Path, encoding: str, name: str) -> None:
    reading = read_csv(saved(tmp_path, "Joint,Größe\r\nJ1,Ø22 °C\r\n".encode(encoding)), "joints.csv")
    assert reading.grid.rows == [("Joint", "Größe"), ("J1", "Ø22 °C")]
    assert reading.encoding == name


def test_long_lists_inside_one_column_are_no_columns() -> None:
    """Twenty ids joined by semicolons split as evenly as the table does, but its heading stays whole."""
    ids = "; ".join(f"S-{number}" for number in range(20))
    rows = [f"FL-{number},flush,{ids},2026-03-02" for number in range(300)]
    assert find_delimiter("\n".join(["flushing_id,kind,section_ids,date", *rows])) == ","


def test_big_endian_utf_16_is_read(tmp_path: Path) -> None:
    data = b"\xfe\xff" + "Joint;Size\nJ1;22\n".encode("utf-16-be")
    assert read_csv(saved(tmp_path, data), "joints.csv").grid.rows == [("Joint", "Size"), ("J1", "22")]


@pytest.mark.parametrize("encoding", ["utf-16-le", "utf-16-be"])
def test_utf_16_without_a_mark_is_read_and_said(tmp_path: Path, encoding: str) -> None:
    reading = read_csv(saved(tmp_path, "Joint;Size\nJ1;22\n".encode(encoding)), "joints.csv")
    assert reading.grid.rows == [("Joint", "Size"), ("J1", "22")]
    assert [remark.kind for remark in reading.remarks] == ["encoding-found"]


def test_falling_back_to_windows_1252_is_said_with_the_row(tmp_path: Path) -> None:
    reading = read_csv(saved(tmp_path, b"Joint,Size\nJ1,22\nJ2,\xd822\n"), "joints.csv")
    assert reading.grid.rows[2] == ("J2", "Ø22")
    assert [(remark.kind, remark.row) for remark in reading.remarks] == [("encoding-found", 3)]
    assert "Windows-1252" in reading.remarks[0].message


def test_a_byte_that_no_character_stands_for_is_counted(tmp_path: Path) -> None:
    reading = read_csv(saved(tmp_path, b"a,b\n\xd8,\x81\n"), "joints.csv")
    assert reading.grid.rows[1] == ("Ø", "\ufffd")
    assert "bytes without a character there show as \ufffd (1)" in reading.remarks[0].message


def test_a_wrong_encoding_named_in_the_project_is_one_sentence(tmp_path: Path) -> None:
    with pytest.raises(UnreadableFile, match=r"^joints\.csv, row 2: byte 7 is not UTF-8; save the file"):
        read_csv(saved(tmp_path, b"a,b\n1\x00\xff,2\n"), "joints.csv", encoding="utf8")
    with pytest.raises(UnreadableFile, match="there is no text encoding 'klingon'"):
        read_csv(saved(tmp_path, b"a,b\n"), "joints.csv", encoding="klingon")
    with pytest.raises(UnreadableFile, match="there is no text encoding 'zlib'"):
        read_csv(saved(tmp_path, b"a,b\n"), "joints.csv", encoding="zlib")


def test_nul_bytes_are_removed_and_counted(tmp_path: Path) -> None:
    reading = read_csv(saved(tmp_path, b"Joint,Size\nJ\x001,22\x00\n"), "joints.csv")
    assert reading.grid.rows[1] == ("J1", "22")
    assert reading.remarks[0].message == "NUL characters were removed (2)"


@pytest.mark.parametrize(
    ("text", "delimiter"),
    [
        ("id,size\nJ1,22\n", ","),
        ("id;length\nJ1;1,5\nJ2;2,5\n", ";"),
        ("id;length;bar\nJ1;1,5;6,0\nJ2;2,5;6,1\n", ";"),
        ("id\tlength\tbar\n1\t1,5\t6,0\n2\t2,5\t6,1\n", "\t"),
        ("id|size\nJ1|22\n", "|"),
        ('"id","length"\n"J1","1,5"\n"J2","2,5"\n', ","),
        ('id,remark\nJ1,"a; b; c"\nJ2,"d; e; f"\n', ","),
        ("id,remark\nJ1,left; right\nJ2,left; right\n", ","),
        ("Riser log, level 3\n\nid;size;remark\nJ1;22;ok, dry\nJ2;22;ok, dry\n", ";"),
        ("one\ntwo\nthree\n", ","),
        ("id,size\n1,22\n2,28\n", ","),
    ],
)
def test_the_delimiter_is_found_from_the_content(text: str, delimiter: str) -> None:
    assert find_delimiter(text) == delimiter


def test_a_named_delimiter_wins(tmp_path: Path) -> None:
    reading = read_csv(saved(tmp_path, b"a;b,c\n1;2,3\n"), "joints.csv", delimiter=",")
    assert reading.grid.rows == [("a;b", "c"), ("1;2", "3")]


def test_a_separator_line_is_obeyed_and_not_counted_as_a_row(tmp_path: Path) -> None:
    reading = read_csv(saved(tmp_path, b"sep=;\r\nid;size\r\nJ1;22\r\n"), "joints.csv")
    assert reading.grid.rows == [("id", "size"), ("J1", "22")]
    assert reading.remarks[0].kind == "separator-line"


def test_rows_are_numbered_as_a_spreadsheet_shows_them(tmp_path: Path) -> None:
    """A quoted line break stays inside its row; a blank line is a row."""
    reading = read_csv(saved(tmp_path, b'id,remark\n\nJ1,"two\nlines"\nJ2,x\n'), "joints.csv")
    assert dict(reading.grid.numbered())[4] == ("J2", "x")
    assert reading.grid.rows[2] == ("J1", "two\nlines")
    assert reading.remarks == ()


def test_ragged_rows_and_old_line_ends_are_kept(tmp_path: Path) -> None:
    reading = read_csv(saved(tmp_path, b"a,b,c\r1\r1,2,3,4"), "joints.csv")
    assert reading.grid.rows == [("a", "b", "c"), ("1",), ("1", "2", "3", "4")]
    assert reading.grid.value(2, 2) is None


@pytest.mark.parametrize("ending", [b"", b"\n", b"\r\n"])
def test_a_quotation_mark_never_closed_names_its_row(tmp_path: Path, ending: bytes) -> None:
    with pytest.raises(
        UnreadableFile, match=r"^joints\.csv, row 3: a quotation mark opened in this row is never closed"
    ):
        read_csv(saved(tmp_path, b'id,size\nJ1,22\nJ2,"22\nJ3,28\nJ4,28' + ending), "joints.csv")


def test_an_inch_mark_inside_a_cell_does_no_harm(tmp_path: Path) -> None:
    reading = read_csv(saved(tmp_path, 'id,size\nJ1,¾"\nJ2,3/4"\n'.encode()), "joints.csv")
    assert reading.grid.rows[1:] == [("J1", '¾"'), ("J2", '3/4"')]


def test_rows_swallowed_between_two_stray_quotation_marks_are_reported(tmp_path: Path) -> None:
    reading = read_csv(saved(tmp_path, b'id,size,x\nJ1,"22,a\nJ2,22,b\nJ3,22",c\nJ4,28,d\n'), "joints.csv")
    assert [(remark.kind, remark.row, remark.column) for remark in reading.remarks] == [("rows-inside-a-cell", 2, 1)]


def test_a_very_long_cell_is_read(tmp_path: Path) -> None:
    reading = read_csv(saved(tmp_path, b"a,b\n1," + b"x" * 300_000 + b"\n"), "joints.csv")
    assert reading.grid.rows[1] == ("1", "x" * 300_000)


def test_markup_quotes_emoji_and_direction_marks_stay_as_they_stood(tmp_path: Path) -> None:
    cell = "<b>=1+1</b> 😀 \u202eabc\u202c \x07"
    reading = read_csv(saved(tmp_path, f"a,b\n1,{cell}\n".encode()), "joints.csv")
    assert reading.grid.rows[1] == ("1", cell)


@pytest.mark.parametrize("data", [b"", b"\n\n  \n", b"\xef\xbb\xbf", b"\x00\x00"])
def test_an_empty_file_is_one_sentence(tmp_path: Path, data: bytes) -> None:
    with pytest.raises(UnreadableFile, match=r"^joints\.csv: the file holds no rows"):
        read_csv(saved(tmp_path, data), "joints.csv")


def test_a_missing_file_and_a_folder_are_one_sentence(tmp_path: Path) -> None:
    with pytest.raises(UnreadableFile, match=r"^records/joints\.csv: there is no such file; correct the name"):
        read_csv(tmp_path / "none.csv", "records/joints.csv")
    with pytest.raises(UnreadableFile, match=r"^records: the file cannot be opened"):
        read_csv(tmp_path, "records")


def test_a_file_over_the_limit_is_refused_before_it_is_read(tmp_path: Path) -> None:
    path = tmp_path / "huge.csv"
    with path.open("wb") as stream:
        stream.truncate(200_000_000)
    with pytest.raises(UnreadableFile, match=r"^huge\.csv: the file has 200 MB and the limit is 50 MB; split it"):
        read_csv(path, "huge.csv")


def test_a_hundred_thousand_rows_are_read_in_seconds(tmp_path: Path) -> None:
    """The aim is two seconds of processor time; the limit leaves room for a slow machine."""
    line = ",".join(["J{0:06d}", "S1", "22"] + ["some words"] * 22) + "\n"
    data = "".join([line.replace("J{0:06d}", "Joint"), *(line.format(i) for i in range(100_000))])
    path = saved(tmp_path, data.encode())
    start = time.process_time()
    reading = read_csv(path, "joints.csv")
    assert time.process_time() - start < 6
    assert len(reading.grid.rows) == 100_001


@pytest.mark.skipif(
    not LOGGERS.is_dir(), reason="the logger files stand beside the checkout only where they are provided"
)
@pytest.mark.parametrize(
    ("pattern", "delimiter", "cell"),
    [
        ("keller_*.txt", "\t", "3,228"),
        ("inbo_*.csv", ",", "8/07/2018 0:00:00 +01:00"),
        ("solar_*_dst.csv", "\t", "7,3"),
    ],
)
def test_logger_files_that_others_wrote_split_into_their_columns(pattern: str, delimiter: str, cell: str) -> None:
    for path in sorted(LOGGERS.glob(pattern)):
        reading = read_csv(path, path.name)
        assert reading.delimiter == delimiter
        assert any(cell in row for row in reading.grid.rows)
