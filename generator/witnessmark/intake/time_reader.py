"""Times of day, and moments (a date with a time) in the building's time zone."""

from __future__ import annotations

import datetime as dt
import re
from zoneinfo import ZoneInfo

from witnessmark.intake.cell import CellValue
from witnessmark.intake.date_reader import DateOrder, SerialBase, from_serial, read_date
from witnessmark.intake.readings import Fault, Read, answer, joined, shown, text_of, unusable
from witnessmark.model.day_words import day_words

_CLOCK = re.compile(r"(\d{1,2})\s*[:.hH]\s*(\d{2})(?:[:.](\d{2})(?:[.,]\d+)?)?\Z")
_HALF_DAY = re.compile(r"(\d{1,2})(?:\s*[:.]\s*(\d{2})(?:[:.](\d{2}))?)?\s*([ap])\.?\s*m\.?\Z", re.IGNORECASE)
_MILITARY = re.compile(r"(\d{2})(\d{2})\s*(?:h|hrs?|hours)\.?\Z", re.IGNORECASE)
_MOMENT = re.compile(
    r"(.+?)(?:T|,?\s+(?:at\s+)?)(\d{1,2}\s*[:.h]\s*\d{2}(?:[:.]\d{2}(?:[.,]\d+)?)?\s*(?:[ap]\.?m\.?)?)\s*(Z|UTC|[+-]\d{2}:?\d{2})?\Z",
    re.IGNORECASE | re.DOTALL,
)


def read_time(value: CellValue, *, column: str, twelve_hour: bool | None = None) -> Read[dt.time] | Fault:
    """Read a time of day.

    ``twelve_hour`` False says the column keeps the 24-hour clock. Without it, 2:00 to 6:59 with no leading zero and
    no am or pm is a fault, because a day's work rarely begins before seven.
    """
    fault = unusable(value)
    if fault is not None:
        return fault
    if isinstance(value, dt.datetime):
        return Read(value.time(), f"took the time of {text_of(value)}" if value.date() > dt.date(1904, 1, 1) else None)
    if isinstance(value, dt.time):
        return Read(value)
    text = text_of(value)
    if isinstance(value, float | int) and not isinstance(value, bool):
        if 0 <= value < 1:
            moment = dt.datetime(2000, 1, 1) + dt.timedelta(seconds=round(value * 86400))
            return Read(moment.time(), f"read the day fraction {text} as {moment.time().isoformat('minutes')}")
        return _not_a_time(text)
    if not isinstance(value, str):
        return _not_a_time(text)
    return _from_text(text, column, twelve_hour)


def read_moment(
    value: CellValue,
    *,
    column: str,
    zone: str | None = None,
    order: DateOrder | None = None,
    earliest: dt.date = dt.date(1950, 1, 1),
    latest: dt.date = dt.date(2150, 12, 31),
    serials: SerialBase | None = None,
) -> Read[dt.datetime] | Fault:
    """Read a date with a time.

    A text with its own offset keeps that instant, shown in ``zone`` when given. Without an offset the time is local to
    ``zone`` (an IANA name): a clock time that the change of clocks skips or repeats is a fault. With neither the
    result has no zone.
    """
    fault = unusable(value)
    if fault is not None:
        return fault
    text = text_of(value)
    repair: str | None = None
    offset: str | None = None
    if isinstance(value, dt.datetime):
        moment = value
    elif isinstance(value, int | float) and not isinstance(value, bool) and serials is not None:
        converted = from_serial(value, serials)
        if converted is None:
            return Fault("not-a-date", f"{shown(text)} is no date and time", "type it as YYYY-MM-DD hh:mm")
        moment, repair = converted, f"read serial number {text} as {converted.isoformat(' ', 'minutes')}"
    else:
        found = _MOMENT.match(text) if isinstance(value, str) else None
        if not found:
            day = read_date(value, column=column, order=order, earliest=earliest, latest=latest, serials=serials)
            if isinstance(day, Fault):
                return day
            return Fault("time-missing", f"{shown(text)} has no time of day", "add the time as hh:mm")
        day = read_date(found.group(1), column=column, order=order, earliest=earliest, latest=latest)
        if isinstance(day, Fault):
            return day
        time = read_time(found.group(2), column=column)
        if isinstance(time, Fault):
            return time
        offset = found.group(3)
        moment = dt.datetime.combine(day.value, time.value)
        repair = joined([part for part in (day.repair, time.repair) if part])
    if not earliest <= moment.date() <= latest:
        return Fault(
            "date-far-off", f"{shown(text)} is outside {day_words(earliest)} to {day_words(latest)}", "correct the year"
        )
    return _zoned(moment, text, offset, zone, repair)


def _zoned(
    moment: dt.datetime, text: str, offset: str | None, zone: str | None, repair: str | None
) -> Read[dt.datetime] | Fault:
    place = ZoneInfo(zone) if zone else None
    if offset:
        aware = moment.replace(tzinfo=_offset(offset))
        return Read(aware.astimezone(place) if place else aware, repair)
    if moment.tzinfo is not None or place is None:
        return Read(moment, repair)
    early, late = moment.replace(tzinfo=place, fold=0), moment.replace(tzinfo=place, fold=1)
    if early.utcoffset() == late.utcoffset():
        return Read(early, repair)
    back = early.astimezone(dt.UTC).astimezone(place).replace(tzinfo=None, fold=0)
    if back == moment:
        return Fault(
            "time-could-be-two",
            f"{shown(text)} came twice in {zone}, when the clocks went back",
            f"add the offset, {early.isoformat(' ', 'minutes')[-6:]} or {late.isoformat(' ', 'minutes')[-6:]}",
        )
    return Fault(
        "time-impossible", f"{shown(text)} was skipped in {zone}, when the clocks went forward", "correct the time"
    )


def _offset(text: str) -> dt.tzinfo:
    if text.upper() in {"Z", "UTC"}:
        return dt.UTC
    digits = text[1:].replace(":", "")
    minutes = int(digits[:2]) * 60 + int(digits[2:])
    return dt.timezone((1 if text[0] == "+" else -1) * dt.timedelta(minutes=min(minutes, 1439)))


def _from_text(text: str, column: str, twelve_hour: bool | None) -> Read[dt.time] | Fault:
    if not text.isascii():
        text = text.replace("\u00a0", " ").replace("\u202f", " ")
    half = _HALF_DAY.match(text)
    if half:
        hour = int(half.group(1))
        if not 1 <= hour <= 12:
            return _not_a_time(text)
        hour = hour % 12 + (12 if half.group(4).casefold() == "p" else 0)
        return _time(hour, half.group(2), half.group(3), text)
    clock = _CLOCK.match(text)
    if clock:
        hour = int(clock.group(1))
        if twelve_hour is not False and len(clock.group(1)) == 1 and 1 <= hour <= 6:
            minute = clock.group(2)
            return Fault(
                "time-could-be-two",
                f"{shown(text)} could be {hour:02d}:{minute} or {hour + 12}:{minute}",
                f"write it as hh:mm, or {answer(column, 'clock', '24h')}",
            )
        return _time(hour, clock.group(2), clock.group(3), text)
    military = _MILITARY.match(text)
    if military:
        return _time(int(military.group(1)), military.group(2), None, text)
    return _not_a_time(text)


def _time(hour: int, minute: str | None, second: str | None, text: str) -> Read[dt.time] | Fault:
    try:
        time = dt.time(hour, int(minute or 0), int(second or 0))
    except ValueError:
        return Fault(
            "time-impossible", f"{shown(text)} is no time of day", "correct the time; midnight is 00:00 of the next day"
        )
    plain = time.isoformat() if second else time.isoformat("minutes")
    return Read(time, None if plain == text else f"read {shown(text)} as {plain}")


def _not_a_time(text: str) -> Fault:
    return Fault("not-a-time", f"{shown(text)} is not a time of day", "type the time as hh:mm")
