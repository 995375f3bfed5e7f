"""Terms on the calendar, against pandas and civil calendars."""

from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pandas import DateOffset, Timestamp

from witnessmark.engineering.calendar_terms import (
    Term,
    add_term,
    days_between,
    days_late,
    deadline,
    first_to_end,
    last_day_of_cover,
    minutes_between,
    reminders,
)
from witnessmark.engineering.errors import (
    BeyondCalendarError,
    EndsBeforeStartError,
    NegativeError,
    NoTimeZoneError,
)


@pytest.mark.parametrize(
    ("start", "term", "end"),
    [
        (date(2024, 2, 29), Term(years=1), date(2025, 2, 28)),
        (date(2024, 2, 29), Term(years=4), date(2028, 2, 29)),
        (date(2024, 2, 29), Term(years=30), date(2054, 2, 28)),
        (date(2026, 1, 31), Term(months=1), date(2026, 2, 28)),
        (date(2028, 1, 31), Term(months=1), date(2028, 2, 29)),
        (date(2026, 8, 31), Term(months=1), date(2026, 9, 30)),
        (date(2025, 12, 31), Term(months=2), date(2026, 2, 28)),
        (date(2026, 5, 12), Term(years=30), date(2056, 5, 12)),
        (date(2026, 12, 15), Term(days=30), date(2027, 1, 14)),
        # 2100 is no leap year (Gregorian rule; published).
        (date(2096, 2, 29), Term(years=4), date(2100, 2, 28)),
    ],
)
def test_term_ends_on_the_day_the_calendar_gives(start: date, term: Term, end: date) -> None:
    assert add_term(start, term) == end


@given(
    st.dates(date(1950, 1, 1), date(2200, 1, 1)),
    st.integers(0, 60),
    st.integers(0, 40),
    st.integers(0, 900),
)
def test_term_agrees_with_pandas(start: date, years: int, months: int, days: int) -> None:
    """pandas' DateOffset cuts back to month ends in the same way; outside library."""
    expected = Timestamp(start) + DateOffset(years=years, months=months, days=days)
    assert add_term(start, Term(years, months, days)) == expected.date()


@pytest.mark.parametrize(
    ("start", "term", "event", "whole_day"),
    [
        (date(2026, 5, 12), Term(years=10), date(2036, 5, 12), date(2036, 5, 11)),
        (date(2026, 1, 1), Term(years=2), date(2028, 1, 1), date(2027, 12, 31)),
        # Cut back to the end of the month: that is the end in both conventions (German civil code 188(3); from memory).
        (date(2024, 2, 29), Term(years=1), date(2025, 2, 28), date(2025, 2, 28)),
        (date(2026, 1, 31), Term(months=1), date(2026, 2, 28), date(2026, 2, 28)),
        (date(2026, 1, 1), Term(days=10), date(2026, 1, 11), date(2026, 1, 10)),
    ],
)
def test_last_day_of_cover_follows_the_stated_convention(start: date, term: Term, event: date, whole_day: date) -> None:
    assert last_day_of_cover(start, term, first_day_counts=False) == event
    assert last_day_of_cover(start, term, first_day_counts=True) == whole_day


@given(st.dates(date(1990, 1, 1), date(2100, 1, 1)), st.integers(0, 50), st.booleans())
def test_a_longer_guarantee_never_ends_earlier(start: date, years: int, counts: bool) -> None:
    shorter = last_day_of_cover(start, Term(years=years), first_day_counts=counts)
    longer = last_day_of_cover(start, Term(years=years + 1), first_day_counts=counts)
    assert start <= shorter < longer


def test_form_sent_on_day_31_of_30_is_one_day_late() -> None:
    assert deadline(date(2026, 3, 1), 30) == date(2026, 3, 31)
    assert days_late(date(2026, 3, 1), 30, date(2026, 3, 31)) == 0
    assert days_late(date(2026, 3, 1), 30, date(2026, 4, 1)) == 1
    with pytest.raises(EndsBeforeStartError, match="before the start"):
        days_late(date(2026, 3, 1), 30, date(2026, 2, 28))


def test_first_guarantee_to_end_is_named() -> None:
    assert first_to_end([date(2056, 5, 12), date(2036, 5, 12)]) == date(2036, 5, 12)
    assert first_to_end([]) is None


def test_reminders_come_earliest_first_and_once() -> None:
    assert reminders(date(2036, 3, 1), (30, 365, 30)) == (date(2035, 3, 2), date(2036, 1, 31))
    with pytest.raises(NegativeError):
        reminders(date(2036, 3, 1), (-1,))
    with pytest.raises(BeyondCalendarError):
        reminders(date(1, 1, 1), (1,))


def test_days_between_is_signed() -> None:
    assert days_between(date(2026, 3, 1), date(2026, 2, 28)) == -1


LONDON = ZoneInfo("Europe/London")


@pytest.mark.parametrize(
    ("start", "end", "minutes"),
    [
        (datetime(2026, 5, 12, 23, 30, tzinfo=LONDON), datetime(2026, 5, 13, 0, 30, tzinfo=LONDON), 60),
        # Clocks go forward on 29 March 2026 and back on 25 October 2026 (UK law: last Sunday of the month; published).
        (datetime(2026, 3, 29, 0, 30, tzinfo=LONDON), datetime(2026, 3, 29, 2, 30, tzinfo=LONDON), 60),
        (datetime(2026, 10, 25, 0, 30, tzinfo=LONDON), datetime(2026, 10, 25, 2, 30, tzinfo=LONDON), 180),
    ],
)
def test_hold_across_midnight_and_clock_change_counts_minutes_that_passed(
    start: datetime, end: datetime, minutes: float
) -> None:
    assert minutes_between(start, end) == minutes


def test_hold_that_ends_before_it_starts_is_refused() -> None:
    start = datetime(2026, 5, 12, 10, 0, tzinfo=UTC)
    with pytest.raises(EndsBeforeStartError, match="check both dates"):
        minutes_between(start, start - timedelta(minutes=1))


def test_moment_without_zone_is_refused() -> None:
    with pytest.raises(NoTimeZoneError, match="no time zone"):
        minutes_between(datetime(2026, 5, 12, 10, 0), datetime(2026, 5, 12, 11, 0, tzinfo=UTC))


@pytest.mark.parametrize("term", [Term(years=-1), Term(months=-1), Term(days=-1)])
def test_negative_term_is_refused(term: Term) -> None:
    with pytest.raises(NegativeError, match="cannot be negative"):
        add_term(date(2026, 1, 1), term)


@pytest.mark.parametrize("term", [Term(years=9000), Term(days=3_650_000), Term(days=10**12)])
def test_term_beyond_the_calendar_is_refused(term: Term) -> None:
    with pytest.raises(BeyondCalendarError, match="9999"):
        add_term(date(2026, 1, 1), term)
