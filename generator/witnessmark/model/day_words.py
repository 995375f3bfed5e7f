"""Days in words, the same on every machine: no locale has a say."""

import datetime

_MONTHS = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November",
    "December",
)  # fmt: skip


def day_words(day: datetime.date) -> str:
    """'12 May 2026'."""
    return f"{day.day} {_MONTHS[day.month - 1]} {day.year}"
