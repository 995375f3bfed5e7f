"""A test against its procedure: required pressure, hold, drop."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.engineering.errors import BadProcedureError, EngineeringError, NegativeError, NotPositiveError
from witnessmark.engineering.procedure import (
    Reading,
    Requirement,
    is_capped,
    judge,
    required_hold,
    required_pressure,
    zero_drop_is_implausible,
)

NEEDED = Requirement(pressure=9, settle=30, hold=60, allowed_drop=0.2)
GOOD = Reading(start=9.1, end=9.0, settle=30, hold=60, topped_up=False)


@pytest.mark.parametrize(
    ("basis", "factor", "cap", "bar", "source"),
    [
        (5, 1.5, None, 7.5, "UK Water Fittings Regulations, 1.5 x maximum operating pressure; published example"),
        (7.5, 1.1, None, 8.25, "EN 806-4, 1.1 x maximum design pressure of 7.5 bar; published example"),
        (10, 1.1, None, 11, "EN 806-4 with 10 bar maximum design pressure; computed"),
        (6, 1.5, 16, 9, "1.5 x, never above 16 bar; common practice, no published source"),
        (12, 1.5, 16, 16, "1.5 x, never above 16 bar; common practice, no published source"),
        (1.5, 1.3, None, 1.95, "1.3 x operating, quoted German site practice; published forum answer"),
    ],
)
def test_required_pressure(basis: float, factor: float, cap: float | None, bar: float, source: str) -> None:
    assert required_pressure(basis, factor, cap=cap) == pytest.approx(bar), source


def test_1_1_times_design_is_1_65_times_operating_by_one_reading() -> None:
    """A published reading: design is at least 1.5 x operating, so the two rules do not contradict each other."""
    assert required_pressure(required_pressure(5, 1.5), 1.1) == pytest.approx(5 * 1.65)
    assert is_capped(12, 1.5, 16)
    assert not is_capped(10, 1.5, 16)


def test_a_least_pressure_lifts_and_must_stay_under_the_cap() -> None:
    assert required_pressure(1, 1.5, least=3) == 3
    with pytest.raises(BadProcedureError, match="least pressure of 20 bar"):
        required_pressure(1, 1.5, least=20, cap=16)


@pytest.mark.parametrize(("litres", "minutes"), [(0, 120), (100, 120), (101, 140), (200, 140), (250, 160), (600, 220)])
def test_dry_test_holds_longer_for_more_volume(litres: float, minutes: float) -> None:
    """German trade leaflet: 120 min to 100 L, 20 min more per further 100 L; from memory, 250 and 600 L computed."""
    assert required_hold(120, volume=litres, free_volume=100, extra_per_100_litres=20) == minutes


def test_a_full_record_within_tolerance_passes() -> None:
    verdict = judge(NEEDED, GOOD)
    assert verdict.passed is True
    assert verdict.unexplained_drop == pytest.approx(0.1)


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"start": 8.9}, "pressure_reached"),
        ({"end": 8.8}, "drop_within_tolerance"),
        ({"settle": 10}, "settled_long_enough"),
        ({"hold": 30}, "held_long_enough"),
        ({"topped_up": True}, "not_topped_up"),
        ({"end": None}, "readings_present"),
    ],
)
def test_each_fault_fails_the_stage(change: dict[str, float | None], field: str) -> None:
    verdict = judge(NEEDED, GOOD._replace(**change))
    assert getattr(verdict, field) is False
    assert verdict.passed is False


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"settle": None}, "settled_long_enough"),
        ({"hold": None}, "held_long_enough"),
        ({"topped_up": None}, "not_topped_up"),
        ({"end": 9.6}, "drop_within_tolerance"),
        ({"end": 8.85, "uncertainty": 0.1}, "drop_within_tolerance"),
    ],
)
def test_what_is_missing_or_unclear_is_never_a_pass(change: dict[str, float | None], field: str) -> None:
    verdict = judge(NEEDED, GOOD._replace(**change))
    assert getattr(verdict, field) is None
    assert verdict.passed is None


def test_an_empty_record_shows_nothing() -> None:
    verdict = judge(NEEDED, Reading())
    assert verdict.passed is False
    assert verdict.pressure_reached is None
    assert verdict.unexplained_drop is None


def test_temperature_is_taken_off_before_the_drop_is_judged() -> None:
    cooled = GOOD._replace(end=8.6, temperature_drop=0.45)
    assert judge(NEEDED, cooled).drop_within_tolerance is True
    assert judge(NEEDED, cooled._replace(temperature_drop=0.1)).drop_within_tolerance is False
    # A record that should have risen by 0.5 bar and did not has lost 0.5 bar.
    assert judge(NEEDED, GOOD._replace(end=9.1, temperature_drop=-0.5)).drop_within_tolerance is False


def test_a_stage_that_asks_no_settling_needs_no_record_of_it() -> None:
    assert judge(NEEDED._replace(settle=0), GOOD._replace(settle=None)).settled_long_enough is True


@given(st.floats(0, 1), st.floats(0, 1))
def test_a_larger_drop_never_looks_better(drop: float, more: float) -> None:
    order = {True: 2, None: 1, False: 0}
    small = judge(NEEDED, GOOD._replace(end=9.1 - drop, uncertainty=0.05)).drop_within_tolerance
    large = judge(NEEDED, GOOD._replace(end=9.1 - drop - more, uncertainty=0.05)).drop_within_tolerance
    assert order[large] <= order[small]


@pytest.mark.parametrize(
    ("drop", "kelvin", "rate", "resolution", "implausible"),
    [
        # 0.3 bar/K with half a per cent of air; trade check value, computed independently.
        (0.0, -3, 0.3, 0.1, True),
        (0.0, -0.5, 0.3, 0.1, False),
        (0.6, -3, 0.3, 0.1, False),
        (0.0, 3, 0.3, 0.1, True),
        (0.0, 0, 0.3, 0.1, False),
    ],
)
def test_no_drop_in_spite_of_a_change_of_temperature(
    drop: float, kelvin: float, rate: float, resolution: float, implausible: bool
) -> None:
    assert zero_drop_is_implausible(drop, kelvin, rate, resolution) is implausible


def test_nonsense_is_refused() -> None:
    with pytest.raises(NotPositiveError, match="basis pressure"):
        required_pressure(0, 1.5)
    with pytest.raises(NegativeError, match="hold"):
        judge(NEEDED, GOOD._replace(hold=-5))
    with pytest.raises(EngineeringError):
        judge(NEEDED, GOOD._replace(start=float("nan")))
