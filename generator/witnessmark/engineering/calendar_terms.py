"""Terms counted on the calendar: when a guarantee ends, when a notice is due, how long a hold lasted.

The rules, stated because contracts differ:

- Years and months go first, then days. A day that the month does not have becomes the last day of that month
  (29 February 2024 and one year: 28 February 2025; 31 January and one month: the last day of February).
- Days are calendar days. A deadline of n days from a day falls n days later: the day itself is day 0.
- The last day of cover is a whole day. `first_day_counts` says which convention the terms follow. False: the start
  is an event during a day, and cover runs through the day of the same number. True: the start day is the first whole
  day of cover, which then ends the day before, save where the day was cut back to the end of a month, which is the end.
  (German civil code, sections 187 and 188, draws the same distinction; from memory.)
"""

from calendar import monthrange
from collections.abc import Iterable
from datetime import UTC, date, datetime, timedelta
from typing import NamedTuple

from witnessmark.engineering.errors import BeyondCalendarError, EndsBeforeStartError, NegativeError, NoTimeZoneError


class Term(NamedTuple):
    """A length of time as a contract words it."""

    years: int = 0
    months: int = 0
    days: int = 0


def add_term(start: date, term: Term) -> date:
    """Return the day a term after a day.

    Raises NegativeError for a negative part, BeyondCalendarError after the year 9999.

    >>> add_term(date(2024, 2, 29), Term(years=1))
    datetime.date(2025, 2, 28)
    """
    return _add(start, term)[0]


def last_day_of_cover(start: date, term: Term, *, first_day_counts: bool) -> date:
    """Return the last whole day on which cover runs.

    >>> last_day_of_cover(date(2026, 5, 12), Term(years=10), first_day_counts=True)
    datetime.date(2036, 5, 11)
    """
    end, cut_back = _add(start, term)
    return end - timedelta(days=1) if first_day_counts and not cut_back and end > start else end


def deadline(start: date, days: int) -> date:
    """Return the last day on which something due within so many calendar days of a day is in time."""
    return add_term(start, Term(days=days))


def days_between(start: date, end: date) -> int:
    """Return the calendar days from one day to another, negative if the second comes first."""
    return (end - start).days


def days_late(start: date, days_allowed: int, done: date) -> int:
    """Return how many days after its deadline something was done, 0 if in time.

    Raises EndsBeforeStartError when it was done before the period began.
    """
    if done < start:
        raise EndsBeforeStartError(start, done)
    return max(0, days_between(deadline(start, days_allowed), done))


def first_to_end(last_days: Iterable[date]) -> date | None:
    """Return the earliest of several last days of cover, or None for none."""
    return min(last_days, default=None)


def reminders(due: date, days_before: Iterable[int]) -> tuple[date, ...]:
    """Return the days on which to remind of a due day, earliest first, each once."""
    lead_times = set(days_before)
    for days in lead_times:
        if days < 0:
            raise NegativeError("days of a reminder before the due day", days, "days")
    try:
        return tuple(sorted(due - timedelta(days=days) for days in lead_times))
    except OverflowError:
        raise BeyondCalendarError(due, 0, -max(lead_times)) from None


def minutes_between(start: datetime, end: datetime) -> float:
    """Return the minutes that passed between two moments with time zones, [min], clock changes and midnight counted.

    Raises NoTimeZoneError for a moment without a zone, EndsBeforeStartError for the wrong order.
    """
    for moment in (start, end):
        if moment.utcoffset() is None:
            raise NoTimeZoneError(moment)
    passed = end.astimezone(UTC) - start.astimezone(UTC)
    if passed < timedelta(0):
        raise EndsBeforeStartError(start.isoformat(), end.isoformat())
    return passed / timedelta(minutes=1)


def _add(start: date, term: Term) -> tuple[date, bool]:
    for name, amount in zip(("years", "months", "days"), term, strict=True):
        if amount < 0:
            raise NegativeError(f"number of {name}", amount, name)
    months = start.month - 1 + term.months + 12 * term.years
    year, month = start.year + months // 12, months % 12 + 1
    if year > date.max.year:
        raise BeyondCalendarError(start, term.months + 12 * term.years, term.days)
    last = monthrange(year, month)[1]
    try:
        return date(year, month, min(start.day, last)) + timedelta(days=term.days), start.day > last
    except OverflowError:
        raise BeyondCalendarError(start, term.months + 12 * term.years, term.days) from None
