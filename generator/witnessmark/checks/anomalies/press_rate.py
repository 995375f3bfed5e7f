"""How many press ends one operative made in a day, and in its busiest hour."""

import datetime
from collections.abc import Iterable, Sequence

from witnessmark.checks.making.pressed_joints import Lot, pressed_joints
from witnessmark.model.project import Project
from witnessmark.model.records import Joint

_STAMPS = 3
"""Different times of day below which the times were filled in for a whole shift and tell no rate."""


def days_of_operatives(project: Project) -> dict[tuple[str, datetime.date], Lot]:
    """Pressed joints by operative and day, in that order."""
    days = {
        (lot.operative_id, lot.press_date): lot
        for lot in pressed_joints(project).lots("operative_id", "press_date")
        if lot.operative_id is not None and lot.press_date is not None
    }
    return dict(sorted(days.items()))


def tells_rate(times: Iterable[datetime.time | None]) -> bool:
    """Whether the different times of a day tell a rate."""
    return len({(time.hour, time.minute) for time in times if time is not None}) >= _STAMPS


def timed(joints: Sequence[Joint]) -> list[tuple[int, Joint]]:
    """Minute of the day and joint, in order of time; empty where the times tell no rate."""
    minutes = [(j.press_time.hour * 60 + j.press_time.minute, j) for j in joints if j.press_time is not None]
    if len({minute for minute, _ in minutes}) < _STAMPS:
        return []
    return sorted(minutes, key=lambda pair: (pair[0], pair[1].joint_id))


def busiest_hour(minutes: Sequence[tuple[int, Joint]]) -> tuple[int, list[Joint]]:
    """Where the 60 minutes with the most joints begin, and these joints; the first such hour of several."""
    start, most, first = 0, 0, 0
    for end, (minute, _) in enumerate(minutes):
        while minute - minutes[start][0] >= 60:
            start += 1
        if end + 1 - start > most:
            most, first = end + 1 - start, start
    return (minutes[first][0] if minutes else 0), [joint for _, joint in minutes[first : first + most]]
