"""Volume of a gas installation against a published example."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.engineering.errors import NegativeError, NotPositiveError
from witnessmark.engineering.gas_volume import installation_volume, purge_volume


def test_published_example_of_nine_metres_of_15_mm_and_a_small_meter() -> None:
    """0.008 + 9 m x 0.00014 m3/m x 1.1 = 0.009386 m3, purge 1.5 times; IGEM/UP/1B, published."""
    found = installation_volume(9 * 0.14, 0.1, 8)
    assert found == pytest.approx(9.386)
    assert purge_volume(found, 1.5) == pytest.approx(14.079)


@given(st.floats(0, 1000), st.floats(0, 1), st.floats(0, 100))
def test_fittings_and_meter_only_add(pipe: float, share: float, meter: float) -> None:
    assert installation_volume(pipe, share, meter) >= pipe


def test_nonsense_is_refused() -> None:
    with pytest.raises(NegativeError):
        installation_volume(-1, 0.1, 8)
    with pytest.raises(NotPositiveError):
        purge_volume(0, 1.5)
