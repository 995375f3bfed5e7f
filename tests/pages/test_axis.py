"""Axes: round ticks at the right places."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.pages.axis import Axis, round_ends, ticks_of


@pytest.mark.parametrize(
    ("low", "high", "words"),
    [
        (0, 20, ["0", "5", "10", "15", "20"]),
        (-25, 125, ["\u221225", "0", "25", "50", "75", "100", "125"]),
        (0, 0.03, ["0.00", "0.01", "0.02", "0.03"]),
        (0, 12.5, ["0.0", "2.5", "5.0", "7.5", "10.0", "12.5"]),
    ],
)
def test_ticks_stand_at_round_values(low: float, high: float, words: list[str]) -> None:
    assert [tick.words for tick in ticks_of(Axis(low, high, 0, 100), 6 if high > 100 else 5)] == words


@given(st.floats(-1e4, 1e4), st.floats(0, 1e4))
def test_ends_lie_around_the_values_and_ticks_within_the_ends(low: float, span: float) -> None:
    ends = round_ends(low, low + span, 5)
    assert ends[0] <= low + 1e-6
    assert ends[1] >= low + span - 1e-6
    ticks = ticks_of(Axis(*ends, 0, 100), 5)
    assert 2 <= len(ticks) <= 13
    assert all(-0.1 <= float(tick.place) <= 100.1 for tick in ticks)
