"""When joints were checked, in words."""

from collections.abc import Sequence

from witnessmark.checks.joint_groups import named
from witnessmark.model.day_words import day_words
from witnessmark.model.records import Joint


def checked_on(joints: Sequence[Joint]) -> str:
    """'Joint J014 was checked on 12 May 2026', '3 joints, the first of them J014, were checked between … and …'.

    Every joint has a check date.
    """
    days = [joint.check_date for joint in joints if joint.check_date is not None]
    first, last = min(days), max(days)
    when = f"on {day_words(first)}" if first == last else f"between {day_words(first)} and {day_words(last)}"
    return f"{named(joints)} {'was' if len(joints) == 1 else 'were'} checked {when}"
