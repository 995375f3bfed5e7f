"""Doses and glycol: mass balances that can be done by hand."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.engineering.dosing import (
    concentration_after,
    dose,
    glycol_by_mass,
    glycol_by_volume,
    percent_by_mass,
    top_up,
)
from witnessmark.engineering.errors import CannotReachConcentrationError, OutsideValidityError


def test_one_percent_of_500_litres_is_5_litres() -> None:
    """By hand."""
    assert dose(500, 1) == 5
    assert glycol_by_volume(200, 30) == 60


def test_glycol_by_mass_follows_from_the_masses() -> None:
    """By hand: 30 % by mass with SG 1.11; 100 L holds x L glycol, 1.11 x/(1.11 x + 100 - x) = 0.3 gives 30/1.077 L."""
    litres = glycol_by_mass(100, 30, 1.11)
    assert litres == pytest.approx(30 / 1.077)
    assert 1.11 * litres / (1.11 * litres + 100 - litres) == pytest.approx(0.3)


@given(st.floats(1, 99), st.floats(1.01, 1.2))
def test_share_by_volume_and_by_mass_agree(percent: float, gravity: float) -> None:
    litres = glycol_by_mass(1000, percent_by_mass(percent, gravity), gravity)
    assert litres == pytest.approx(10 * percent)


@given(st.floats(10, 1e5), st.floats(0, 40), st.floats(0, 40), st.floats(41, 100))
def test_top_up_reaches_the_target(litres: float, now: float, target: float, product: float) -> None:
    added = top_up(litres, now, target, product)
    reached = concentration_after(litres, now, product, added)
    assert reached == pytest.approx(max(now, target), abs=1e-6)


def test_a_weak_product_is_refused() -> None:
    with pytest.raises(CannotReachConcentrationError, match="cannot bring the water"):
        top_up(100, 10, 30, 25)
    with pytest.raises(OutsideValidityError):
        concentration_after(100, 10, 95, 101)
    with pytest.raises(OutsideValidityError, match="dose"):
        dose(100, 101)
