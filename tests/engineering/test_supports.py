"""Support spacing by table."""

import csv
from pathlib import Path

import pytest

from witnessmark.engineering.errors import NotPositiveError
from witnessmark.engineering.supports import SupportRow, count_for, is_within, row_for

TABLE = Path(__file__).parents[2] / "shared" / "reference" / "supports.csv"


@pytest.fixture(scope="module")
def rows() -> list[SupportRow]:
    with TABLE.open(encoding="utf-8", newline="") as stream:
        return [
            SupportRow(
                row["basis"],
                row["material_family"],
                float(row["size"]),
                float(row["horizontal_m"]),
                float(row["vertical_m"]),
            )
            for row in csv.DictReader(stream)
            if row["size_kind"] == "od"
        ]


@pytest.mark.parametrize(
    ("size", "horizontal", "vertical"),
    [(22, 1.8, 2.4), (28, 1.8, 2.4), (35, 2.4, 3.0), (42, 2.4, 3.0), (54, 2.7, 3.0)],
)
def test_published_spacing_of_copper_and_stainless(
    rows: list[SupportRow], size: float, horizontal: float, vertical: float
) -> None:
    """UK tables as printed in an installation manual; published."""
    for material in ("copper", "stainless_steel"):
        row = row_for(rows, "uk", material, size)
        assert row is not None
        assert (row.horizontal, row.vertical) == (horizontal, vertical)


def test_two_bases_disagree_on_54_mm_and_are_kept_apart(rows: list[SupportRow]) -> None:
    """2.7 m in the United Kingdom, published; 3.5 m in Germany, from memory."""
    british, german = row_for(rows, "uk", "copper", 54), row_for(rows, "din_1988", "copper", 54)
    assert british is not None
    assert german is not None
    assert (british.horizontal, german.horizontal) == (2.7, 3.5)
    assert is_within(2.7, british, vertical=False)
    assert not is_within(2.8, british, vertical=False)
    assert is_within(2.8, british, vertical=True)


def test_a_size_the_table_does_not_hold_is_not_guessed(rows: list[SupportRow]) -> None:
    assert row_for(rows, "uk", "copper", 50) is None
    assert row_for(rows, "elsewhere", "copper", 54) is None


@pytest.mark.parametrize(("metres", "spacing", "count"), [(2.4, 2.4, 2), (2.5, 2.4, 3), (0.5, 2.4, 2), (24, 2.4, 11)])
def test_supports_stand_at_both_ends(metres: float, spacing: float, count: int) -> None:
    assert count_for(metres, spacing) == count


def test_no_spacing_is_refused() -> None:
    with pytest.raises(NotPositiveError):
        count_for(10, 0)
