"""Label sheets: vector, the same bytes every time, and read back from the page as a printer would put it on paper."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pypdf
import pypdfium2
import pytest
import zxingcpp
from numpy.typing import NDArray

from witnessmark.pack.label_sheet import LabelSizeDiffers, write_label_sheets
from witnessmark.pack.sheet_layout import SheetLayout
from witnessmark.pack.tag_face import TagFace
from witnessmark.pack.tag_layout import draw_tag

CODES = [f"KM74X{a}{b}" for a in "2346" for b in "346789"]


def page_pixels(path: Path, dpi: int, page: int = 0) -> NDArray[np.uint8]:
    """Grey pixels of one page."""
    with pypdfium2.PdfDocument(path) as document:
        return np.asarray(document[page].render(scale=dpi / 72, grayscale=True).to_pil())


def read_addresses(pixels: NDArray[np.uint8]) -> set[str]:
    return {read.text for read in zxingcpp.read_barcodes(pixels, formats=zxingcpp.BarcodeFormat.QRCode)}


@pytest.mark.parametrize("form", ["plate", "flag"])
def test_zxing_reads_every_tag_from_the_sheets_at_300_dpi(
    make_face: Callable[..., TagFace], tmp_path: Path, form: Any
) -> None:
    faces = [make_face(code) for code in CODES]
    report = write_label_sheets(tmp_path / "s.pdf", (draw_tag(face, form) for face in faces), SheetLayout())
    assert (report.labels, report.sheets, report.larger_versions) == (24, 3, {})
    read = [read_addresses(page_pixels(tmp_path / "s.pdf", 300, page)) for page in range(3)]
    assert read == [{face.address for face in faces[at : at + 10]} for at in (0, 10, 20)]


@pytest.mark.parametrize("form", ["plate", "flag"])
@pytest.mark.parametrize("size", [(90.0, 50.0), (70.0, 40.0)])
def test_module_and_quiet_zone_measured_on_the_page_are_what_the_standard_asks(
    make_face: Callable[..., TagFace], tmp_path: Path, form: Any, size: tuple[float, float]
) -> None:
    """ISO/IEC 18004: four modules of quiet zone on every side; module 0.75 mm or more for a printed tag."""
    layout = SheetLayout(columns=1, rows=1, label_width_mm=size[0], label_height_mm=size[1], cut_marks=False)
    drawing = draw_tag(make_face(), form, *size)
    write_label_sheets(tmp_path / "s.pdf", [drawing], layout)
    per_mm = 600 / 25.4
    left, top = round(11 * per_mm), round(12 * per_mm)
    page = page_pixels(tmp_path / "s.pdf", 600)
    dark = page[top : top + round(size[1] * per_mm), left : left + round(size[0] * per_mm)] < 128
    # In the upper half nothing dark stands to the left of the symbol.
    first_column = int(np.argmax(dark[: dark.shape[0] // 2].any(axis=0)))
    first_row = int(np.argmax(dark[:, first_column + 2]))
    finder = int(np.argmin(dark[first_row + 2, first_column:]))
    lower_left_finder = dark[first_row : first_row + round(finder / 7 * 31), first_column + 2]
    side = int(np.flatnonzero(lower_left_finder)[-1]) + 1
    module = side / 29
    quiet = int(4 * module) - 1
    assert finder / 7 == pytest.approx(module, abs=0.3)
    assert module / per_mm >= 0.75 - 0.005
    assert module / per_mm == pytest.approx(drawing.module, abs=0.005)
    last_row, last_column = first_row + side, first_column + side
    assert first_row >= quiet
    assert first_column >= quiet
    ring = dark[first_row - quiet : last_row + 1 + quiet, first_column - quiet : last_column + 1 + quiet].copy()
    assert ring.shape == (side + 1 + 2 * quiet,) * 2
    ring[quiet : quiet + side + 1, quiet : quiet + side + 1] = False
    assert not ring.any()


def test_hostile_texts_give_a_valid_pdf_whose_text_can_be_searched_and_whose_tags_can_be_read(
    hostile_face: Callable[..., TagFace], hostile_text: str, tmp_path: Path
) -> None:
    path = tmp_path / "s.pdf"
    face = hostile_face(hostile_text)
    write_label_sheets(path, [draw_tag(face, "plate"), draw_tag(face, "flag")], SheetLayout(), title=hostile_text)
    page = pypdf.PdfReader(path, strict=True).pages[0]
    assert "KM7-4XR2" in page.extract_text()
    assert read_addresses(page_pixels(path, 300)) == {face.address}


def test_no_character_on_the_page_leaves_its_label(hostile_face: Callable[..., TagFace], tmp_path: Path) -> None:
    """Measured by pdfium on the page, not by the widths we fitted with."""
    layout = SheetLayout(columns=1, rows=1, cut_marks=False, margin_top_mm=240.0)
    for form in ("plate", "flag"):
        write_label_sheets(tmp_path / "s.pdf", [draw_tag(hostile_face("W" * 300), form)], layout)  # type: ignore[arg-type]
        with pypdfium2.PdfDocument(tmp_path / "s.pdf") as document:
            words = document[0].get_textpage()
            boxes = [words.get_charbox(index) for index in range(words.count_chars())]
        assert len(boxes) > 50
        assert min(box[0] for box in boxes) / 72 * 25.4 >= 11.0
        assert max(box[2] for box in boxes) / 72 * 25.4 <= 101.0 + 0.05


def test_the_words_of_a_tag_can_be_searched_in_the_pdf(make_face: Callable[..., TagFace], tmp_path: Path) -> None:
    write_label_sheets(tmp_path / "s.pdf", [draw_tag(make_face(section_name="Kühlung Ø54 λ"))], SheetLayout())
    text = pypdf.PdfReader(tmp_path / "s.pdf").pages[0].extract_text()
    for part in ["KM7-4XR2", "HF-R2-L3-014", "Kühlung Ø54 λ", "6 bar · 82 °C", "crimson", "Print at 100 %"]:
        assert part in text


def test_the_pdf_holds_no_raster_image_and_only_embedded_fonts(
    make_face: Callable[..., TagFace], tmp_path: Path
) -> None:
    write_label_sheets(tmp_path / "s.pdf", [draw_tag(make_face(code)) for code in CODES], SheetLayout())
    for page in pypdf.PdfReader(tmp_path / "s.pdf").pages:
        resources: Any = page["/Resources"]
        assert list(page.images) == []
        assert "/XObject" not in resources
        assert b"BI" not in page.get_contents().get_data().split()
        for font in resources["/Font"].values():
            assert "/FontFile2" in font.get_object()["/FontDescriptor"].get_object()


def test_the_page_has_the_size_of_the_paper(make_face: Callable[..., TagFace], tmp_path: Path) -> None:
    layout = SheetLayout(page="A3", orientation="landscape")
    write_label_sheets(tmp_path / "s.pdf", [draw_tag(make_face())], layout)
    box = pypdf.PdfReader(tmp_path / "s.pdf").pages[0].mediabox
    assert [float(side) / 72 * 25.4 for side in (box.width, box.height)] == pytest.approx([420, 297], abs=0.01)


def test_a_long_host_is_counted_and_the_sheet_says_so(make_face: Callable[..., TagFace], tmp_path: Path) -> None:
    face = make_face(address="HTTPS://" + "H" * 30 + ".EXAMPLE/T/KM74XR2/")
    report = write_label_sheets(tmp_path / "s.pdf", [draw_tag(face)], SheetLayout())
    assert report.larger_versions == {4: 1}
    assert "28 characters" in pypdf.PdfReader(tmp_path / "s.pdf").pages[0].extract_text()


def test_a_tag_drawn_for_another_label_is_refused(make_face: Callable[..., TagFace], tmp_path: Path) -> None:
    with pytest.raises(LabelSizeDiffers, match="80 x 45 mm for a sheet of labels 90 x 50 mm"):
        write_label_sheets(tmp_path / "s.pdf", [draw_tag(make_face(), "plate", 80.0, 45.0)], SheetLayout())


def test_without_tags_the_sheet_says_so(tmp_path: Path) -> None:
    assert write_label_sheets(tmp_path / "s.pdf", [], SheetLayout()).sheets == 0
    assert "No tags to print." in pypdf.PdfReader(tmp_path / "s.pdf").pages[0].extract_text()
