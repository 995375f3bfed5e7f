"""Workbooks as sites save them; each workbook under test is made in its test."""

from __future__ import annotations

import datetime as dt
import random
import zipfile
from collections.abc import Callable
from pathlib import Path

import openpyxl
import pytest
from openpyxl.comments import Comment
from openpyxl.styles import Font
from openpyxl.utils.datetime import CALENDAR_MAC_1904
from openpyxl.worksheet.worksheet import Worksheet

from witnessmark.intake.grid import CellError, MergedRange
from witnessmark.intake.unreadable_file import UnreadableFile
from witnessmark.intake.xlsx_file import WorkbookReading, read_workbook


def book_of(sheet: Worksheet) -> openpyxl.Workbook:
    book = sheet.parent
    assert isinstance(book, openpyxl.Workbook)
    return book


def made(folder: Path, fill: Callable[[Worksheet], object]) -> Path:
    book = openpyxl.Workbook()
    sheet = book.worksheets[0]
    sheet.title = "Level 3"
    fill(sheet)
    path = folder / "log.xlsx"
    book.save(path)
    return path


def read(folder: Path, fill: Callable[[Worksheet], object]) -> WorkbookReading:
    return read_workbook(made(folder, fill), "log.xlsx")


def test_typed_cells_keep_their_type(tmp_path: Path) -> None:
    def fill(sheet: Worksheet) -> None:
        sheet.append(
            ["J1", 22, 0.9, True, dt.datetime(2026, 5, 12), dt.time(14, 30), dt.timedelta(hours=26), None, " 22 "]
        )

    (grid,) = read(tmp_path, fill).grids
    assert grid.sheet == "Level 3"
    assert grid.rows == [
        ("J1", 22, 0.9, True, dt.datetime(2026, 5, 12), dt.time(14, 30), dt.timedelta(hours=26), None, " 22 ")
    ]


def test_dates_counted_from_1904_are_the_same_days(tmp_path: Path) -> None:
    def fill(sheet: Worksheet) -> None:
        book_of(sheet).epoch = CALENDAR_MAC_1904
        sheet.append([dt.datetime(2026, 5, 12)])

    reading = read(tmp_path, fill)
    assert reading.base_1904
    assert reading.grids[0].rows[0] == (dt.datetime(2026, 5, 12),)
    assert [remark.kind for remark in reading.remarks] == ["base-1904"]


def test_merged_ranges_are_told_and_only_the_first_cell_has_the_value(tmp_path: Path) -> None:
    def fill(sheet: Worksheet) -> None:
        for row in (["S1", "J1"], ["", "J2"], ["", "J3"]):
            sheet.append(row)
        sheet.merge_cells("A1:A3")

    (grid,) = read(tmp_path, fill).grids
    assert grid.merged == (MergedRange(first_row=1, last_row=3, first_column=0, last_column=0),)
    assert [row[0] for row in grid.rows] == ["S1", None, None]


def test_hidden_rows_columns_and_sheets_are_read_and_told(tmp_path: Path) -> None:
    def fill(sheet: Worksheet) -> None:
        sheet.append(["Joint", "Size"])
        sheet.append(["J1", 22])
        sheet.row_dimensions[2].hidden = True
        sheet.column_dimensions["B"].hidden = True
        other = book_of(sheet).create_sheet("Old")
        other.append(["x"])
        other.sheet_state = "hidden"

    reading = read(tmp_path, fill)
    first, second = reading.grids
    assert first.hidden_rows == {2}
    assert first.hidden_columns == {1}
    assert first.rows[1] == ("J1", 22)
    assert second.sheet_hidden
    assert second.rows == [("x",)]
    assert [(remark.kind, remark.sheet) for remark in reading.remarks] == [
        ("rows-hidden", "Level 3"),
        ("columns-hidden", "Level 3"),
        ("sheet-hidden", "Old"),
    ]


def test_error_values_and_formulas_without_a_result_are_told_apart_from_blanks(tmp_path: Path) -> None:
    def fill(sheet: Worksheet) -> None:
        sheet.append(["#REF!", "=A1+1", None])

    reading = read(tmp_path, fill)
    (grid,) = reading.grids
    assert grid.rows == [(CellError("#REF!"),)]
    assert grid.uncached_formulas == {(1, 1)}
    assert [(remark.kind, remark.row, remark.column) for remark in reading.remarks] == [
        ("formula-not-calculated", 1, 1)
    ]


def test_a_formula_with_a_stored_result_reads_as_the_result(tmp_path: Path) -> None:
    path = made(tmp_path, lambda sheet: sheet.append([1, "=A1+1"]))
    with_value = tmp_path / "calculated.xlsx"
    with zipfile.ZipFile(path) as source, zipfile.ZipFile(with_value, "w") as target:
        for name in source.namelist():
            data = source.read(name)
            if name == "xl/worksheets/sheet1.xml":
                assert data.count(b"<v></v>") + data.count(b"<v/>") + data.count(b"<v />") == 1
                data = (
                    data.replace(b"<v></v>", b"<v>2</v>").replace(b"<v/>", b"<v>2</v>").replace(b"<v />", b"<v>2</v>")
                )
            target.writestr(name, data)
    (grid,) = read_workbook(with_value, "log.xlsx").grids
    assert grid.rows == [(1, 2)]
    assert grid.uncached_formulas == frozenset()


def test_a_date_beyond_the_calendar_becomes_an_error_cell_and_a_remark(tmp_path: Path) -> None:
    def fill(sheet: Worksheet) -> None:
        sheet["A1"] = 99_999_999
        sheet["A1"].number_format = "yyyy-mm-dd"

    reading = read(tmp_path, fill)
    assert reading.grids[0].rows == [(CellError("#VALUE!"),)]
    assert [remark.kind for remark in reading.remarks] == ["workbook-warning"]


def test_one_stray_cell_in_the_last_corner_does_not_exhaust_memory(tmp_path: Path) -> None:
    def fill(sheet: Worksheet) -> None:
        sheet["A1"] = "Joint"
        sheet["XFD1048576"].number_format = "0.00"
        sheet["ZZ9000"] = "x"

    (grid,) = read(tmp_path, fill).grids
    assert len(grid.rows) == 9000
    assert grid.value(9000, 701) == "x"
    assert grid.rows[1] == ()


def test_what_the_number_format_shows_is_kept_with_the_number(tmp_path: Path) -> None:
    """A sheet shows 5%, 6.5 bar and 0014 where the file stores 0.05, 6.5 and 14."""

    def fill(sheet: Worksheet) -> None:
        formats = [(0.05, "0%"), (0.125, "0.0%"), (6.5, '0.0" bar"'), (14, "0000"), (14, "0.00"), (1234, "#,##0")]
        for column, (value, number_format) in enumerate(formats, start=1):
            sheet.cell(1, column, value).number_format = number_format

    assert read(tmp_path, fill).grids[0].rows == [("5%", "12.5%", "6.5 bar", "0014", 14, 1234)]


def test_struck_through_rows_and_comments_are_remarked(tmp_path: Path) -> None:
    def fill(sheet: Worksheet) -> None:
        sheet.append(["Joint", "Size"])
        sheet.append(["J1", 22])
        sheet.append(["J2", 22])
        sheet["A3"].font = Font(strike=True)
        sheet["B2"].comment = Comment("cut out on Monday", "site")

    remarks = read(tmp_path, fill).remarks
    assert [(remark.kind, remark.row, remark.column) for remark in remarks] == [
        ("rows-struck-through", 3, None),
        ("comments-not-read", 2, 1),
    ]


def test_hidden_columns_to_the_end_of_the_sheet_are_no_remark_when_they_are_empty(tmp_path: Path) -> None:
    def fill(sheet: Worksheet) -> None:
        sheet.append(["Joint"])
        sheet.column_dimensions.group("C", "XFD", hidden=True)

    reading = read(tmp_path, fill)
    assert reading.remarks == ()
    assert 16_383 in reading.grids[0].hidden_columns


def test_sheets_are_found_by_name_in_any_case(tmp_path: Path) -> None:
    reading = read(tmp_path, lambda sheet: sheet.append(["x"]))
    found = reading.grid(" LEVEL 3 ")
    assert found is not None
    assert found.sheet == "Level 3"
    assert reading.grid("Level 4") is None


def test_an_empty_workbook_is_one_sentence(tmp_path: Path) -> None:
    with pytest.raises(UnreadableFile, match=r"^log\.xlsx: no sheet of the workbook holds a cell; save it again\.$"):
        read(tmp_path, lambda _: None)


@pytest.mark.parametrize(
    ("name", "data", "words"),
    [
        ("log.xlsx", b"", "the file holds no bytes"),
        ("log.xlsx", b"Joint,Size\nJ1,22\n", "not a workbook, or is damaged"),
        ("log.xlsx", b"PK\x03\x04 cut short", "not a workbook, or is damaged"),
        ("log.xls", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(600), "old binary kind"),
        ("log.xlsx", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + "EncryptedPackage".encode("utf-16-le"), "by a password"),
        ("log.ods", b"PK\x03\x04", r"\.ods workbooks are not read; open it .* save it as \.xlsx"),
        ("log.numbers", b"PK\x03\x04", r"\.numbers workbooks are not read"),
    ],
)
def test_what_is_not_a_readable_workbook_is_one_sentence(tmp_path: Path, name: str, data: bytes, words: str) -> None:
    path = tmp_path / name
    path.write_bytes(data)
    with pytest.raises(UnreadableFile, match=rf"^{name.replace('.', '[.]')}: .*{words}"):
        read_workbook(path, name)


@pytest.mark.parametrize(
    ("member", "words"),
    [
        ("content.xml", "OpenDocument"),
        ("xl/workbook.bin", "binary .xlsb"),
        ("Index/Document.iwa", ".numbers"),
        ("readme.txt", "an archive but not a workbook"),
        ("[Content_Types].xml", "the workbook is damaged"),
    ],
)
def test_archives_of_other_kinds_are_named_for_what_they_are(tmp_path: Path, member: str, words: str) -> None:
    path = tmp_path / "log.xlsx"
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr(member, "<x/>")
    with pytest.raises(UnreadableFile, match=words):
        read_workbook(path, "log.xlsx")


def test_a_workbook_that_unpacks_to_too_much_is_refused_unopened(tmp_path: Path) -> None:
    path = made(tmp_path, lambda sheet: sheet.append(["x"]))
    with zipfile.ZipFile(path, "a", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("xl/worksheets/sheet9.xml", bytes(30_000_000))
    assert path.stat().st_size < 100_000
    with pytest.raises(UnreadableFile, match="unpacks to 30 MB and the limit is 20 MB"):
        read_workbook(path, "log.xlsx", max_unpacked=20_000_000)


def test_a_workbook_damaged_inside_is_one_sentence(tmp_path: Path) -> None:
    path = made(tmp_path, lambda sheet: sheet.append(["x"]))
    broken = tmp_path / "broken.xlsx"
    with zipfile.ZipFile(path) as source, zipfile.ZipFile(broken, "w") as target:
        for name in source.namelist():
            data = source.read(name)
            target.writestr(name, data[: len(data) // 2] if name.startswith("xl/worksheets/") else data)
    with pytest.raises(UnreadableFile, match=r"^broken\.xlsx: the workbook is damaged"):
        read_workbook(broken, "broken.xlsx")


def test_a_missing_workbook_is_one_sentence(tmp_path: Path) -> None:
    with pytest.raises(UnreadableFile, match=r"^log\.xlsx: there is no such file"):
        read_workbook(tmp_path / "none.xlsx", "log.xlsx")


def test_a_workbook_cut_short_or_with_flipped_bytes_is_read_or_refused_in_one_sentence(tmp_path: Path) -> None:
    whole = made(tmp_path, lambda sheet: sheet.append(["Joint", 22, "=A1"])).read_bytes()
    chance = random.Random(7)
    damaged = [whole[:size] for size in range(0, len(whole), 400)]
    for _ in range(40):
        flipped = bytearray(whole)
        for _ in range(4):
            flipped[chance.randrange(len(flipped))] = chance.randrange(256)
        damaged.append(bytes(flipped))
    sentences = []
    for content in damaged:
        path = tmp_path / "damaged.xlsx"
        path.write_bytes(content)
        try:
            assert read_workbook(path, "damaged.xlsx").grids
        except UnreadableFile as error:
            sentences.append(str(error))
    assert len(sentences) > len(damaged) // 2
    assert all(sentence.startswith("damaged.xlsx: ") and "\n" not in sentence for sentence in sentences)
