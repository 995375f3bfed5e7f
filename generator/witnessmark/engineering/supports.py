"""Support spacing, looked up in a table that is handed in: spacing is custom and code, never computed here."""

from collections.abc import Iterable
from typing import NamedTuple

from witnessmark.engineering.inputs import positive

SAME_SIZE = 0.05  # [mm]


class SupportRow(NamedTuple):
    """One row of a spacing table: basis, material family, size as outside diameter, [mm], spacings, [m]."""

    basis: str
    material: str
    size: float
    horizontal: float
    vertical: float


def row_for(rows: Iterable[SupportRow], basis: str, material: str, size: float) -> SupportRow | None:
    """Return the row of a basis, material and outside diameter, [mm], or None where the table has none.

    No neighbouring size is taken instead.
    """
    wanted = positive("outside diameter", size, "mm")
    for row in rows:
        if row.basis == basis and row.material == material and abs(row.size - wanted) <= SAME_SIZE:
            return row
    return None


def is_within(actual: float, row: SupportRow, *, vertical: bool) -> bool:
    """Whether an actual spacing, [m], is no more than the table allows."""
    allowed = row.vertical if vertical else row.horizontal
    return positive("spacing", actual, "m") <= positive("spacing of the table", allowed, "m")


def count_for(length: float, spacing: float) -> int:
    """Return the least number of supports for a straight length, [m], at a spacing, [m], one at each end included."""
    spans = positive("length", length, "m") / positive("spacing", spacing, "m")
    whole = int(spans)
    return whole + 1 + (spans - whole > 1e-9)
