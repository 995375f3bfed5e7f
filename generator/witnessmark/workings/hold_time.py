"""How long a hold lasted by the clock, in the time zone of the building: past midnight and past clock changes."""

import datetime
from dataclasses import dataclass
from functools import lru_cache
from zoneinfo import ZoneInfo

from witnessmark.engineering.calendar_terms import minutes_between


@dataclass(frozen=True, slots=True)
class HoldTime:
    """Minutes from start to end; the least, where the clock leaves two answers."""

    minutes: float | None
    crossed_midnight: bool = False
    clock_changed: bool = False
    remark: str = ""
    """What had to be considered, in one sentence; why there is no answer, where there is none."""


@lru_cache(maxsize=4096)
def hold_by_clock(day: datetime.date, start: datetime.time, end: datetime.time, zone_name: str) -> HoldTime:
    """The hold between two clock times of a test that began on ``day``.

    An end earlier than the start lies on the next day. A time that the clock skips is no moment; where an hour comes
    twice, the shortest hold that fits counts.
    """
    if start == end:
        return HoldTime(None, remark=f"It starts and ends at {start:%H:%M}: no time passed, or a whole day.")
    zone = ZoneInfo(zone_name)
    began = _moments(day, start, zone)
    ended = _moments(day, end, zone)
    # On the night the clock goes back, 01:40 to 01:20 may be forty minutes of one day.
    crossed = end < start and not any(_utc(b) > _utc(a) for a in began for b in ended)
    if crossed:
        try:
            ended = _moments(day + datetime.timedelta(days=1), end, zone)
        except OverflowError:
            return HoldTime(None, remark="The day after the test is beyond the calendar.")
    for moments, time in ((began, start), (ended, end)):
        if not moments:
            return HoldTime(
                None, crossed, True, f"There was no {time:%H:%M} that night: the clock went forward past it."
            )
    if len(began) > 1 or len(ended) > 1:
        lengths = sorted(minutes_between(a, b) for a in began for b in ended if _utc(b) > _utc(a))
        if not lengths:
            return HoldTime(None, crossed, True, "The end comes before the start, whichever of the two hours is meant.")
        return HoldTime(
            lengths[0],
            crossed,
            True,
            "The clock went back that night, so an hour came twice: the shortest hold counts.",
        )
    minutes = minutes_between(began[0], ended[0])
    changed = began[0].utcoffset() != ended[0].utcoffset()
    remark = "The hold runs past midnight." if crossed else ""
    if changed:
        remark = "The clock changed during the hold, which is counted in true minutes."
    return HoldTime(minutes, crossed, changed, remark)


def moment(day: datetime.date, time: datetime.time, zone_name: str) -> datetime.datetime | None:
    """The first moment of that day and clock time; ``None`` where the clock skipped it."""
    moments = _moments(day, time, ZoneInfo(zone_name))
    return moments[0] if moments else None


def _moments(day: datetime.date, time: datetime.time, zone: ZoneInfo) -> list[datetime.datetime]:
    found = []
    for fold in (0, 1):
        local = datetime.datetime.combine(day, time.replace(tzinfo=None, fold=fold), zone)
        back = local.astimezone(datetime.UTC).astimezone(zone)
        if back.replace(tzinfo=None, fold=0) == local.replace(tzinfo=None, fold=0):
            found.append(local)
    return found[:1] if len(found) == 2 and found[0].utcoffset() == found[1].utcoffset() else found


def _utc(local: datetime.datetime) -> datetime.datetime:
    return local.astimezone(datetime.UTC)
