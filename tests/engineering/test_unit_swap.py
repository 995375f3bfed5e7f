"""A figure in the wrong unit is asked about, never repaired."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.engineering.errors import EngineeringError
from witnessmark.engineering.unit_swap import BAR_IN, units_that_fit


@pytest.mark.parametrize(
    ("typed", "units"),
    [
        (130.5, ("psi",)),
        (900.0, ("kPa",)),
        (0.9, ("MPa",)),
        (9000.0, ("mbar",)),
        (9.0, ()),
        (92.0, ("metres of water",)),
        (30.0, ()),
    ],
)
def test_nine_bar_typed_in_another_unit(typed: float, units: tuple[str, ...]) -> None:
    """Conversion factors of NIST SP 811; from memory."""
    assert units_that_fit(typed, 8.5, 9.5) == units


@given(st.sampled_from(sorted(BAR_IN)), st.floats(8, 10))
def test_the_unit_meant_is_always_among_those_asked_about(unit: str, bar: float) -> None:
    assert unit in units_that_fit(bar * BAR_IN[unit], bar * 0.99, bar * 1.01)


def test_nonsense_is_refused() -> None:
    with pytest.raises(EngineeringError):
        units_that_fit(float("nan"), 1, 10)
    with pytest.raises(EngineeringError):
        units_that_fit(9, 0, 10)
