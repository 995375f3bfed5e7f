"""Whether a gauge was fit for a test."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.engineering.errors import BadProcedureError, NotPositiveError
from witnessmark.engineering.gauge_fitness import GaugeRules, class_error, judge, share_of_span

RULES = GaugeRules(0.25, 0.75, 0.5)  # common practice, no published source


@pytest.mark.parametrize(
    ("percent", "top", "error"), [(1.6, 25, 0.4), (1.0, 16, 0.16), (0.6, 10, 0.06), (2.5, 40, 1.0)]
)
def test_class_is_a_share_of_the_span(percent: float, top: float, error: float) -> None:
    """EN 837-1, error is class per cent of span; 0 to 25 bar, class 1.6, +-0.4 bar trade check value, computed."""
    assert class_error(percent, 0, top) == pytest.approx(error)


def test_a_40_bar_gauge_is_too_coarse_for_9_bar_and_0_2_bar() -> None:
    found = judge(9, 0, 40, RULES, class_percent=1.6, resolution=0.5, smallest_drop=0.2)
    assert found.share_of_span == pytest.approx(0.225)
    assert not found.in_working_range
    assert found.error == pytest.approx(0.64)
    assert found.error_small_enough is False
    assert found.fine_enough is False


def test_a_16_bar_fine_gauge_is_fit_for_9_bar() -> None:
    found = judge(9, 0, 16, RULES, class_percent=0.25, resolution=0.05, smallest_drop=0.2)
    assert found.in_working_range
    assert found.error_small_enough is True
    assert found.fine_enough is True


def test_what_is_not_recorded_cannot_be_told() -> None:
    found = judge(9, 0, 16, RULES)
    assert found.error is None
    assert found.error_small_enough is None
    assert found.fine_enough is None
    assert judge(9, 0, 16, RULES, class_percent=1.0).error_small_enough is None


@pytest.mark.parametrize(
    ("bar", "inside"), [(3.9, False), (4, True), (12, True), (12.1, False), (20, False), (-1, False)]
)
def test_working_range_is_25_to_75_percent_both_included(bar: float, inside: bool) -> None:
    assert judge(bar, 0, 16, RULES).in_working_range is inside


@given(st.floats(-1, 0), st.floats(1, 60))
def test_ends_of_the_dial_are_0_and_1(low: float, high: float) -> None:
    assert share_of_span(low, low, high) == 0
    assert share_of_span(high, low, high) == pytest.approx(1)


def test_a_range_that_runs_backwards_and_rules_that_cross_are_refused() -> None:
    with pytest.raises(NotPositiveError, match="span"):
        share_of_span(5, 16, 0)
    with pytest.raises(BadProcedureError, match="lowest share"):
        judge(5, 0, 16, GaugeRules(0.75, 0.25, 0.5))
