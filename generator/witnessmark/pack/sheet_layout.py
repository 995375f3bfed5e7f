"""The grid of labels on a sheet of paper, in millimetres."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, NamedTuple, get_args

from witnessmark.pack.tag_layout import LABEL_HEIGHT_MM, LABEL_WIDTH_MM

Page = Literal["A3", "A4", "A5", "Letter"]
Orientation = Literal["portrait", "landscape"]

PAGE_SIZES_MM: dict[str, tuple[float, float]] = {
    "A3": (297.0, 420.0),  # ISO 216
    "A4": (210.0, 297.0),
    "A5": (148.0, 210.0),
    "Letter": (215.9, 279.4),  # ANSI/ASME Y14.1, 8.5 x 11 in
}


class UnusableSheet(ValueError):
    """A sheet layout that no label can be printed from."""


class Place(NamedTuple):
    """Where a label is printed: sheet, row and column, each counted from 1."""

    sheet: int
    row: int
    column: int


@dataclass(frozen=True, slots=True)
class SheetLayout:
    """A page and its label grid; all lengths in [mm], margins from the top left corner of the turned page.

    Raises UnusableSheet with one sentence when the labels do not fit or a value makes no sense.
    """

    page: Page = "A4"
    orientation: Orientation = "portrait"
    columns: int = 2
    rows: int = 5
    label_width_mm: float = LABEL_WIDTH_MM
    label_height_mm: float = LABEL_HEIGHT_MM
    margin_left_mm: float = 11.0
    margin_top_mm: float = 12.0
    gap_x_mm: float = 8.0
    gap_y_mm: float = 4.0
    cut_marks: bool = True

    def __post_init__(self) -> None:
        if self.page not in PAGE_SIZES_MM:
            raise UnusableSheet(
                f"Label sheet: the page {self.page!r} is not known; use one of {', '.join(PAGE_SIZES_MM)}."
            )
        if self.orientation not in get_args(Orientation):
            raise UnusableSheet(f"Label sheet: the orientation {self.orientation!r} is neither portrait nor landscape.")
        for name in ("columns", "rows"):
            if getattr(self, name) < 1:
                raise UnusableSheet(f"Label sheet: {name} is {getattr(self, name)}; it must be 1 or more.")
        for name in ("label_width_mm", "label_height_mm"):
            if not getattr(self, name) > 0:
                raise UnusableSheet(f"Label sheet: {name} is {getattr(self, name):g}; it must be more than 0.")
        for name in ("margin_left_mm", "margin_top_mm", "gap_x_mm", "gap_y_mm"):
            if not getattr(self, name) >= 0:
                raise UnusableSheet(f"Label sheet: {name} is {getattr(self, name):g}; it must be 0 or more.")
        self._must_fit(
            "columns", "wide", self.columns, self.label_width_mm, self.gap_x_mm, self.margin_left_mm, self.width_mm
        )
        self._must_fit(
            "rows", "high", self.rows, self.label_height_mm, self.gap_y_mm, self.margin_top_mm, self.height_mm
        )

    def _must_fit(self, noun: str, way: str, count: int, label: float, gap: float, margin: float, page: float) -> None:
        used = margin + count * label + (count - 1) * gap
        # Half a hundredth of a millimetre is rounding, not paper.
        if used > page + 0.005:
            raise UnusableSheet(
                f"Label sheet: {count} {noun} of labels {label:g} mm {way} with {gap:g} mm gaps and "
                f"{margin:g} mm margin need {used:g} mm, {used - page:.4g} mm more than the {page:g} mm of {self.page} "
                f"{self.orientation}; use fewer {noun}, smaller labels or another page."
            )

    @property
    def width_mm(self) -> float:
        """Width of the page as it is turned."""
        short, long = PAGE_SIZES_MM[self.page]
        return long if self.orientation == "landscape" else short

    @property
    def height_mm(self) -> float:
        """Height of the page as it is turned."""
        short, long = PAGE_SIZES_MM[self.page]
        return short if self.orientation == "landscape" else long

    @property
    def labels_a_sheet(self) -> int:
        """Labels that one sheet holds."""
        return self.columns * self.rows

    @property
    def bottom_mm(self) -> float:
        """Lower edge of the lowest label, from the top of the page."""
        return self.margin_top_mm + self.rows * self.label_height_mm + (self.rows - 1) * self.gap_y_mm

    @property
    def right_mm(self) -> float:
        """Right edge of the rightmost label, from the left of the page."""
        return self.margin_left_mm + self.columns * self.label_width_mm + (self.columns - 1) * self.gap_x_mm

    def place(self, index: int) -> Place:
        """Place of the label with this index, counted from 0; labels run along rows, then down."""
        sheet, on_sheet = divmod(index, self.labels_a_sheet)
        row, column = divmod(on_sheet, self.columns)
        return Place(sheet + 1, row + 1, column + 1)

    def corner(self, place: Place) -> tuple[float, float]:
        """Upper left corner of a label from the upper left of the page, [mm]."""
        return (
            self.margin_left_mm + (place.column - 1) * (self.label_width_mm + self.gap_x_mm),
            self.margin_top_mm + (place.row - 1) * (self.label_height_mm + self.gap_y_mm),
        )

    def cut_lines(self) -> list[tuple[float, float, float, float]]:
        """Short lines (x1, y1, x2, y2) that prolong the label edges through margins and gaps, never over a label."""
        columns = [self.corner(Place(1, 1, column))[0] for column in range(1, self.columns + 1)]
        rows = [self.corner(Place(1, row, 1))[1] for row in range(1, self.rows + 1)]
        x_edges = sorted({round(x + side, 4) for x in columns for side in (0.0, self.label_width_mm)})
        y_edges = sorted({round(y + side, 4) for y in rows for side in (0.0, self.label_height_mm)})
        x_clear = _clear_stretches(columns, self.label_width_mm, self.width_mm)
        y_clear = _clear_stretches(rows, self.label_height_mm, self.height_mm)
        upright = [(x, start, x, end) for x in x_edges for start, end in y_clear]
        level = [(start, y, end, y) for y in y_edges for start, end in x_clear]
        return upright + level


_TICK_MM = 4.0
_OFF_LABEL_MM = 0.5


def _clear_stretches(starts: list[float], length: float, page: float) -> list[tuple[float, float]]:
    """Parts of one axis with no label on them, at most a tick long, a little off the labels."""
    ends = [start + length for start in starts]
    stretches = [(starts[0] - _TICK_MM, starts[0])]
    stretches += [(end, start) for end, start in zip(ends, starts[1:], strict=False)]
    stretches.append((ends[-1], ends[-1] + _TICK_MM))
    clear = [(max(start, 0.0) + _OFF_LABEL_MM, min(end, page) - _OFF_LABEL_MM) for start, end in stretches]
    return [(start, end) for start, end in clear if end - start >= 0.5]
