"""Sampling plans against the published tables, and operating points against scipy's binomial distribution."""

import csv
import math
from pathlib import Path

import pytest
from scipy.stats import binom

from witnessmark.engineering.acceptance_sampling import (
    LetterRow,
    NoSamplingPlan,
    PlanRow,
    acceptance_probability,
    code_letter,
    plan_for,
)
from witnessmark.engineering.errors import EngineeringError

REFERENCE = Path(__file__).parents[2] / "shared" / "reference"

# ISO 2859-1, sample size code letters, as reproduced in public excerpts: last lot size of a range, letters I, II, III.
LETTERS = (
    (8, "AAB"), (15, "ABC"), (25, "BCD"), (50, "CDE"), (90, "CEF"), (150, "DFG"), (280, "EGH"), (500, "FHJ"),
    (1200, "GJK"), (3200, "HKL"), (10000, "JLM"), (35000, "KMN"), (150000, "LNP"), (500000, "MPQ"), (10**9, "NQR"),
)  # fmt: skip
# ISO 2859-1, single sampling, normal inspection, as reproduced in public excerpts: plans to be used, arrows resolved.
PUBLISHED = """
A 1.0 13 0 1|B 1.0 13 0 1|C 1.0 13 0 1|D 1.0 13 0 1|E 1.0 13 0 1|G 1.0 50 1 2|H 1.0 50 1 2|J 1.0 80 2 3|L 1.0 200 5 6
M 1.0 315 7 8|N 1.0 500 10 11|P 1.0 800 14 15|Q 1.0 1250 21 22
A 2.5 5 0 1|B 2.5 5 0 1|C 2.5 5 0 1|D 2.5 5 0 1|E 2.5 20 1 2|G 2.5 32 2 3|H 2.5 50 3 4|J 2.5 80 5 6|L 2.5 200 10 11
M 2.5 315 14 15|N 2.5 500 21 22|P 2.5 500 21 22|Q 2.5 500 21 22
A 4.0 3 0 1|B 4.0 3 0 1|C 4.0 3 0 1|D 4.0 13 1 2|E 4.0 13 1 2|G 4.0 32 3 4|H 4.0 50 5 6|J 4.0 80 7 8|L 4.0 200 14 15
M 4.0 315 21 22|N 4.0 315 21 22|P 4.0 315 21 22|Q 4.0 315 21 22
"""
ARROWS = {("D", "2.5"): "up", ("E", "2.5"): "down", ("G", "1.0"): "down", ("C", "4.0"): "up", ("D", "4.0"): "down",
          ("N", "4.0"): "up", ("P", "2.5"): "up", ("A", "1.0"): "down", ("E", "1.0"): "", ("B", "4.0"): ""}  # fmt: skip


@pytest.fixture(scope="module")
def letters() -> list[LetterRow]:
    with (REFERENCE / "sampling_letters.csv").open(encoding="utf-8", newline="") as stream:
        return [
            LetterRow(
                int(row["lot_from"]),
                int(row["lot_to"]) if row["lot_to"] else None,
                (row["level_I"], row["level_II"], row["level_III"]),
            )
            for row in csv.DictReader(stream)
        ]


@pytest.fixture(scope="module")
def plans() -> list[PlanRow]:
    with (REFERENCE / "sampling_plans.csv").open(encoding="utf-8", newline="") as stream:
        return [
            PlanRow(row["letter"], row["aql"], row["arrow"], int(row["size"]), int(row["accept"]), int(row["reject"]))
            for row in csv.DictReader(stream)
        ]


def test_letters_are_those_of_the_published_table_on_both_sides_of_every_limit(letters: list[LetterRow]) -> None:
    lot = 2
    for last, wanted in LETTERS:
        for edge in (lot, last):
            assert "".join(code_letter(letters, edge, level) for level in ("I", "II", "III")) == wanted, edge
        lot = last + 1


@pytest.mark.parametrize("line", PUBLISHED.replace("\n", "|").strip("|").split("|"))
def test_plans_are_those_of_the_published_table_arrows_resolved(line: str, plans: list[PlanRow]) -> None:
    letter, aql, *numbers = line.split()
    (row,) = [row for row in plans if (row.letter, row.aql) == (letter, aql)]
    assert [row.size, row.accept, row.reject] == list(map(int, numbers))


@pytest.mark.parametrize(("key", "arrow"), ARROWS.items(), ids=str)
def test_arrows_point_as_published(key: tuple[str, str], arrow: str, plans: list[PlanRow]) -> None:
    (row,) = [row for row in plans if (row.letter, row.aql) == key]
    assert row.arrow == arrow


def test_inside_the_table_an_arrow_leads_to_a_plan_that_is_there(plans: list[PlanRow]) -> None:
    """Every resolved plan is a plan without an arrow at the same AQL, below for 'down' and above for 'up'."""
    order = list(dict.fromkeys(row.letter for row in plans))
    for row in plans:
        assert row.reject == row.accept + 1
        if not row.arrow:
            continue
        (aim,) = [p for p in plans if p.aql == row.aql and not p.arrow and (p.size, p.accept) == (row.size, row.accept)]
        step = order.index(aim.letter) - order.index(row.letter)
        assert step > 0 if row.arrow == "down" else step < 0
        between = order[
            min(order.index(aim.letter), order.index(row.letter)) + 1 : max(
                order.index(aim.letter), order.index(row.letter)
            )
        ]
        assert all(p.arrow for p in plans if p.aql == row.aql and p.letter in between)


def test_a_sample_as_large_as_the_lot_is_the_whole_lot(letters: list[LetterRow], plans: list[PlanRow]) -> None:
    """ISO 2859-1: where the sample is as large as the lot or larger, every unit is inspected."""
    plan = plan_for(letters, plans, 8, "II", "1.0")
    assert (plan.letter, plan.size, plan.whole_lot) == ("A", 8, True)
    assert plan_for(letters, plans, 3059, "II", "2.5")[::2] == ("K", 125)
    assert not plan_for(letters, plans, 13, "II", "1.0").whole_lot


# Operating points, binomial, computed with scipy.
@pytest.mark.parametrize(
    ("size", "accept", "fraction", "wanted"),
    [
        (50, 1, 0.01, 0.9106), (50, 1, 0.10, 0.0338), (80, 2, 0.01, 0.9534), (80, 2, 0.10, 0.0107),
        (50, 3, 0.025, 0.9638), (50, 3, 0.10, 0.2503), (80, 5, 0.025, 0.9848), (80, 5, 0.10, 0.1769),
        (13, 0, 0.01, 0.8775),
    ],
)  # fmt: skip
def test_operating_points(size: int, accept: int, fraction: float, wanted: float) -> None:
    assert acceptance_probability(size, accept, fraction) == pytest.approx(wanted, abs=5e-5)


def test_operating_characteristic_is_the_binomial_distribution_everywhere(plans: list[PlanRow]) -> None:
    for row in plans:
        for fraction in (0.0, 0.001, 0.01, 0.04, 0.15, 0.5, 1.0):
            assert acceptance_probability(row.size, row.accept, fraction) == pytest.approx(
                float(binom.cdf(row.accept, row.size, fraction)), abs=1e-9
            )


@pytest.mark.parametrize(("lot", "level", "aql"), [(1, "II", "1.0"), (50, "IV", "1.0"), (50, "II", "3.0")])
def test_what_the_tables_do_not_hold_is_refused_in_words(
    lot: int, level: str, aql: str, letters: list[LetterRow], plans: list[PlanRow]
) -> None:
    with pytest.raises(NoSamplingPlan, match="The sampling tables hold no"):
        plan_for(letters, plans, lot, level, aql)


@pytest.mark.parametrize(
    ("size", "accept", "fraction"),
    [(50, 1, math.nan), (50, 1, -0.1), (50, 1, 1.1), (0, 0, 0.1), (10**9, 1, 0.1), (50, -1, 0.1), (50, 51, 0.1)],
)
def test_numbers_without_a_meaning_are_refused(size: int, accept: int, fraction: float) -> None:
    with pytest.raises(EngineeringError):
        acceptance_probability(size, accept, fraction)
