"""The rating envelope and the component that governs."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.engineering.errors import BadEnvelopeError, BelowAbsoluteZeroError, NotPositiveError
from witnessmark.engineering.rating import Envelope, Weakest, checked, lowest, margin, rating_at, weakest

FITTING = checked([(-20, 16), (110, 16)])
VALVE = checked([(-10, 25), (60, 25), (110, 10)])


@pytest.mark.parametrize(("celsius", "bar"), [(-10, 25), (60, 25), (85, 17.5), (110, 10), (-10.1, None), (110.1, None)])
def test_rating_runs_straight_between_points_and_nowhere_else(celsius: float, bar: float | None) -> None:
    found = rating_at(VALVE, celsius)
    assert found is None if bar is None else found == pytest.approx(bar)


def test_the_weakest_component_is_named_at_each_temperature() -> None:
    components = {"fitting": FITTING, "valve": VALVE}
    assert weakest(components, 20) == Weakest("fitting", 16)
    assert weakest(components, 100) == Weakest("valve", pytest.approx(13))
    assert weakest(components, -15) == Weakest("valve", None)
    assert weakest(components, 120) == Weakest("fitting", None)
    assert weakest({"b": FITTING, "a": FITTING}, 20).component == "a"


def test_a_component_rated_zero_governs() -> None:
    assert weakest({"hose": checked([(0, 0), (50, 0)]), "fitting": FITTING}, 20) == Weakest("hose", 0)


def test_envelope_of_the_section_has_a_corner_where_two_components_cross() -> None:
    """By hand: 25 - 0.3 (T - 60) = 16 at T = 90."""
    points = lowest({"fitting": FITTING, "valve": VALVE})
    assert [(round(p.temperature, 9), round(p.pressure, 9)) for p in points] == [
        (-10, 16),
        (60, 16),
        (90, 16),
        (110, 10),
    ]
    assert lowest({"cold": checked([(0, 16), (20, 16)]), "hot": checked([(30, 16), (60, 16)])}) == ()


envelopes = st.lists(
    st.tuples(st.integers(-20, 120), st.floats(0, 40)), min_size=2, max_size=6, unique_by=lambda point: point[0]
).map(lambda points: checked(sorted(points)))


@given(st.lists(envelopes, min_size=1, max_size=4), st.floats(-20, 120))
def test_envelope_of_the_section_is_the_weakest_component_everywhere(curves: list[Envelope], celsius: float) -> None:
    components = {str(index): curve for index, curve in enumerate(curves)}
    section = lowest(components)
    governing = weakest(components, celsius)
    if governing.rating is None:
        assert not section or rating_at(section, celsius) is None
    else:
        assert rating_at(section, celsius) == pytest.approx(governing.rating, abs=1e-7)


def test_margin_is_a_share_of_the_rating() -> None:
    assert margin(16, 12) == pytest.approx(0.25)
    assert margin(10, 12) == pytest.approx(-0.2)
    with pytest.raises(NotPositiveError, match="rating"):
        margin(0, 1)


@pytest.mark.parametrize(
    ("points", "words"),
    [([], "no points"), ([(20, 16), (20, 10)], "does not come after"), ([(60, 16), (20, 16)], "after")],
)
def test_a_table_that_is_no_envelope_is_refused(points: list[tuple[float, float]], words: str) -> None:
    with pytest.raises(BadEnvelopeError, match=words):
        checked(points)


def test_no_components_and_absolute_zero_are_refused() -> None:
    with pytest.raises(BadEnvelopeError, match="no rated component"):
        weakest({}, 20)
    with pytest.raises(BadEnvelopeError, match="no rated component"):
        lowest({})
    with pytest.raises(BadEnvelopeError):
        rating_at((), 20)
    with pytest.raises(BelowAbsoluteZeroError):
        rating_at(FITTING, -300)
