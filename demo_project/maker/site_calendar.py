"""Working days of the site: Monday to Friday, closed over Christmas and Easter."""

from __future__ import annotations

import datetime as dt

FIRST_DAY = dt.date(2025, 10, 6)
LAST_DAY = dt.date(2026, 4, 24)
COMPLETION = dt.date(2026, 6, 12)
ISSUE = dt.date(2026, 6, 26)
CLOSED = {dt.date(2025, 12, 22) + dt.timedelta(days=n) for n in range(14)} | {dt.date(2026, 4, 3), dt.date(2026, 4, 6)}
WORKING_DAYS = [
    day
    for day in (FIRST_DAY + dt.timedelta(days=n) for n in range((LAST_DAY - FIRST_DAY).days + 30))
    if day.weekday() < 5 and day not in CLOSED
]


def working_day(day: dt.date, later: int = 0) -> dt.date:
    """The working day that many working days after ``day``; ``day`` itself or the next one for 0."""
    start = next(n for n, candidate in enumerate(WORKING_DAYS) if candidate >= day)
    return WORKING_DAYS[start + later]


def clock(minutes: int) -> dt.time:
    """Minutes after midnight as a time."""
    return dt.time(minutes // 60, minutes % 60)
