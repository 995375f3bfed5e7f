"""When joints were pressed, in words."""

from collections.abc import Sequence

from witnessmark.checks.joint_groups import named
from witnessmark.model.day_words import day_words
from witnessmark.model.records import Joint


def pressed_on(joints: Sequence[Joint]) -> str:
    """'joint J014 was pressed on 12 May 2026', '3 joints, the first of them J014, were pressed between … and …'."""
    words = named(joints)
    verb = "was" if len(joints) == 1 else "were"
    return f"{words[0].lower()}{words[1:]} {verb} pressed {press_days(joints)}".rstrip()


def press_days(joints: Sequence[Joint]) -> str:
    """'on 12 May 2026', 'between 12 May 2026 and 3 June 2026', 'on a day that the log does not tell'."""
    days = [joint.press_date for joint in joints if joint.press_date is not None]
    if not days:
        return "on a day that the log does not tell"
    first, last = min(days), max(days)
    return f"on {day_words(first)}" if first == last else f"between {day_words(first)} and {day_words(last)}"
