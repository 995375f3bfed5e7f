"""What a test could have shown, against cases trade check value, computed independently."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.engineering.closed_pipe import Wall, wall_compliance, water_contents
from witnessmark.engineering.errors import NegativeError, NotPositiveError
from witnessmark.engineering.leak_sensitivity import (
    Sensitivity,
    gas_test,
    highest_air_share,
    smallest_visible_drop,
    water_test,
)

DROP_A_SECOND = 3.0  # [mL/min], common practice, no published source
TUBE = Wall(16e-6, wall_compliance(54, 1.5, 200, 0.3))


def sensitivity(share: float, drop: float, hold: float, litres: float = 500) -> Sensitivity:
    return water_test(
        litres,
        water_contents(20, 10),
        TUBE,
        pressure=10,
        air_share=share,
        visible_drop=drop,
        hold=hold,
        reference_leak=DROP_A_SECOND,
    )


@pytest.mark.parametrize(
    ("share", "drop", "hold", "leak", "tolerance"),
    [(0, 0.1, 60, 0.05, 0.005), (0.01, 0.1, 60, 0.9, 0.05), (0.01, 0.2, 15, 7, 0.15)],
)
def test_500_litres_of_54_stainless_at_9_bar(
    share: float, drop: float, hold: float, leak: float, tolerance: float
) -> None:
    """0.05, 0.9 and 7 mL/min, trade check value, computed independently; one drop a second is 3."""
    found = sensitivity(share, drop, hold)
    assert found.smallest_leak == pytest.approx(leak, abs=tolerance)
    assert found.shows_reference == (leak <= DROP_A_SECOND)


@given(st.floats(0, 0.05), st.floats(0.01, 1), st.floats(1, 300), st.floats(1, 5000))
def test_each_remedy_alone_would_just_show_the_leak(share: float, drop: float, hold: float, litres: float) -> None:
    found = sensitivity(share, drop, hold, litres)
    assert sensitivity(share, drop, found.hold_needed, litres).smallest_leak == pytest.approx(DROP_A_SECOND)
    assert sensitivity(share, drop, hold, found.volume_needed).smallest_leak == pytest.approx(DROP_A_SECOND)
    assert sensitivity(share, found.drop_needed, hold, litres).smallest_leak == pytest.approx(DROP_A_SECOND)
    assert found.shows_reference == (found.hold_needed <= hold * (1 + 1e-12))


@given(st.floats(0, 0.05), st.floats(0.001, 0.05))
def test_air_hides_leaks_and_time_shows_them(share: float, more: float) -> None:
    assert sensitivity(share + more, 0.1, 60).smallest_leak > sensitivity(share, 0.1, 60).smallest_leak
    assert sensitivity(share, 0.1, 120).smallest_leak == pytest.approx(sensitivity(share, 0.1, 60).smallest_leak / 2)


def test_gas_test_of_100_litres_with_one_millibar() -> None:
    """100 L, 1 mbar, 120 min: 100 x 0.001/1.01325/2 h = 0.0493 L/h = 0.82 mL/min; ideal gas, by hand."""
    found = gas_test(100, atmosphere=1.01325, visible_drop=0.001, hold=120, reference_leak=3)
    assert found.smallest_leak == pytest.approx(0.8225, abs=0.0005)
    assert found.shows_reference


def test_the_coarser_of_gauge_and_tolerance_counts() -> None:
    assert smallest_visible_drop(0.1, 0) == 0.1
    assert smallest_visible_drop(0.1, 0.2) == 0.2
    with pytest.raises(NotPositiveError, match="resolution"):
        smallest_visible_drop(0, 0.2)
    with pytest.raises(NegativeError):
        smallest_visible_drop(0.1, -0.2)


def air_limit(drop: float, hold: float, litres: float) -> float | None:
    return highest_air_share(
        litres,
        water_contents(20, 10),
        TUBE,
        pressure=10,
        visible_drop=drop,
        hold=hold,
        reference_leak=DROP_A_SECOND,
    )


def test_the_air_a_test_could_bear_is_the_air_at_which_it_just_shows_the_leak() -> None:
    share = air_limit(0.1, 60, 500)
    assert share is not None
    assert 0.01 < share < 0.05
    assert sensitivity(share, 0.1, 60).smallest_leak == pytest.approx(DROP_A_SECOND)
    assert sensitivity(share + 0.001, 0.1, 60).shows_reference is False


def test_a_hopeless_test_bears_no_air_and_a_small_section_any() -> None:
    assert air_limit(1.0, 2, 5000) is None
    assert air_limit(0.1, 60, 10) == 0.2
