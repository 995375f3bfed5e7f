"""Moments of a logger file, a whole column at once; a date that could be two is a fault, never a choice."""

import datetime
import re
from dataclasses import dataclass
from zoneinfo import ZoneInfo

import numpy as np
import pandas as pd
from numpy.typing import NDArray

DATE = re.compile(r"(\d{1,4})([./-])(\d{1,2})\2(\d{1,4})")
CLOCK = re.compile(r"(\d{1,2}):(\d{2})(?::(\d{2})(?:([.,])\d+)?)?")
_OFFSET = re.compile(r"(?:Z|[+-]\d{2}:?\d{2})\Z")
_ORDERS = {"dmy": ("%d", "%m", "%Y"), "mdy": ("%m", "%d", "%Y"), "ymd": ("%Y", "%m", "%d")}
_HOUR = 3600.0


class UnclearTime(Exception):
    """Moments that cannot be read: ``kind`` is the slug, ``str()`` the fact, ``remedy`` what settles it."""

    def __init__(self, kind: str, message: str, remedy: str) -> None:
        self.kind = kind
        self.remedy = remedy
        super().__init__(message)


@dataclass(frozen=True, slots=True)
class Moments:
    """Seconds since the first moment, NaN where there is none; the first moment; whether a clock change was undone."""

    seconds: NDArray[np.float64]
    first: datetime.datetime | None
    unreadable: int
    clock_changed: str = ""


def is_moment(text: str) -> bool:
    """Whether a cell holds a day and a time of day."""
    return bool(DATE.match(text.strip()) and CLOCK.search(text))


def is_day(text: str) -> bool:
    """Whether a cell holds a day alone."""
    return bool(DATE.fullmatch(text.strip()))


def is_clock(text: str) -> bool:
    """Whether a cell holds a time of day alone."""
    return bool(CLOCK.fullmatch(text.strip()))


def read_moments(cells: pd.Series, order: str, zone_name: str) -> Moments:
    """Read a column of moments. Raises ``UnclearTime``."""
    sample = cells.iloc[:: max(1, len(cells) // 2000)]
    texts = [str(text).strip() for text in sample]
    first = next((text for text in texts if is_moment(text)), None)
    if first is None:
        raise UnclearTime("logger-times-unclear", "no moment could be read in the time column", "check the time column")
    order = order or _order(texts, cells)
    times = _parsed(cells, first, order)
    unreadable = int(times.isna().sum())
    valid = times.dropna()
    if valid.empty:
        raise UnclearTime(
            "logger-times-unclear", f"moments such as '{first}' could not be read as {order}", "correct 'date_order'"
        )
    zone = ZoneInfo(zone_name)
    aware = _OFFSET.search(first) is not None
    nanoseconds = times.to_numpy(dtype="datetime64[ns]").astype("int64").astype(np.float64)
    nanoseconds[times.isna().to_numpy()] = np.nan
    start = float(nanoseconds[~np.isnan(nanoseconds)][0])
    seconds = np.round((nanoseconds - start) / 1e9, 3)
    began = valid.iloc[0].to_pydatetime()
    if aware:
        return Moments(seconds, began.replace(tzinfo=datetime.UTC).astimezone(zone), unreadable)
    seconds, changed = _without_clock_change(seconds, began, zone)
    return Moments(seconds, began.replace(tzinfo=zone), unreadable, changed)


def _order(texts: list[str], cells: pd.Series) -> str:
    """The one order of day, month and year in which every date of the column is a day."""
    orders = _possible(texts)
    if len(orders) > 1 and len(cells) > len(texts):
        orders = _possible(dict.fromkeys(str(text).strip().partition(" ")[0] for text in cells))
    if len(orders) == 1:
        return orders[0]
    example = next((text for text in texts if DATE.match(text)), "")
    if not orders:
        raise UnclearTime("logger-times-unclear", f"dates such as '{example}' are no days", "correct the file")
    raise UnclearTime(
        "logger-date-could-be-two",
        f"no day of the file is above the 12th, so that '{example}' could be day and month or month and day",
        "say 'date_order' for this file under 'loggers' in project.yml",
    )


def _possible(texts: object) -> list[str]:
    orders = {"dmy", "mdy", "ymd"}
    for text in texts:  # type: ignore[attr-defined]  # a list or the keys of a dict
        found = DATE.match(text)
        if not found:
            continue
        parts = [found.group(1), found.group(3), found.group(4)]
        if len(parts[0]) == 4:
            orders &= {"ymd"}
            continue
        orders.discard("ymd")
        if int(parts[0]) > 12:
            orders.discard("mdy")
        if int(parts[1]) > 12:
            orders.discard("dmy")
        if len(orders) == 1:
            break
    return sorted(orders)


def _parsed(cells: pd.Series, example: str, order: str) -> pd.Series:
    date, clock = DATE.match(example), CLOCK.search(example)
    if date is None or clock is None:
        return pd.Series(pd.NaT, index=cells.index)
    parts = _ORDERS[order]
    short_year = len(date.group(4)) == 2 and order != "ymd"
    between = example[date.end() : clock.start()]
    fast = _fixed_width(cells, date, clock, order, short_year) if clock.group(3) and not clock.group(4) else None
    if fast is not None and not _OFFSET.search(example[clock.start() :]):
        return fast
    form = date.group(2).join("%y" if short_year and part == "%Y" else part for part in parts)
    form += between + "%H:%M" + (":%S" if clock.group(3) else "") + (f"{clock.group(4)}%f" if clock.group(4) else "")
    rest = example[clock.end() :]
    if _OFFSET.search(rest):
        # Every moment with its offset is a moment of UTC: nothing of the building's clock is in it.
        form += rest[: len(rest) - len(rest.lstrip())] + "%z"
        return pd.to_datetime(cells.str.strip(), format=form, errors="coerce", utc=True).dt.tz_localize(None)
    return pd.to_datetime(cells.str.strip(), format=form, errors="coerce")


def _fixed_width(
    cells: pd.Series, date: re.Match[str], clock: re.Match[str], order: str, short_year: bool
) -> pd.Series | None:
    """All moments at once where every cell has its figures at the same places; ``None`` where that is not so."""
    width = clock.end()
    text = np.asarray(cells.to_numpy(dtype=object), dtype=f"U{width + 1}")
    codes = text.view(np.uint32).reshape(len(text), width + 1)
    if codes[:, width].any():
        return None
    spans = [date.span(1), date.span(3), date.span(4), clock.span(1), clock.span(2), clock.span(3)]
    digits = codes.astype(np.int64) - ord("0")
    marks = np.ones(width, dtype=bool)
    values = []
    for low, high in spans:
        marks[low:high] = False
        part = digits[:, low:high]
        if ((part < 0) | (part > 9)).any():
            return None
        values.append(part @ (10 ** np.arange(high - low - 1, -1, -1)))
    if (codes[:, :width][:, marks] != codes[0, :width][marks]).any():
        return None
    by_part = dict(zip(_ORDERS[order], values[:3], strict=True))
    year = by_part["%Y"] + (2000 if short_year else 0)
    month, day = by_part["%m"], by_part["%d"]
    if ((month < 1) | (month > 12) | (day < 1) | (day > 28)).any() or (values[3] > 23).any():
        frame = pd.DataFrame({"year": year, "month": month, "day": day})
        days = pd.to_datetime(frame, errors="coerce").to_numpy(dtype="datetime64[s]")
    else:
        months = (year - 1970) * 12 + month - 1
        days = months.astype("datetime64[M]").astype("datetime64[D]") + (day - 1).astype("timedelta64[D]")
        days = days.astype("datetime64[s]")
    seconds = values[3] * 3600 + values[4] * 60 + values[5]
    moments = days + seconds.astype("timedelta64[s]")
    moments[(values[3] > 23) | (values[4] > 59) | (values[5] > 59)] = np.datetime64("NaT")
    return pd.Series(moments.astype("datetime64[ns]"))


def _without_clock_change(
    seconds: NDArray[np.float64], began: datetime.datetime, zone: ZoneInfo
) -> tuple[NDArray[np.float64], str]:
    """True seconds of a logger that followed the clock of the building past a change."""
    steps = np.diff(seconds)
    usual = float(np.nanmedian(np.abs(steps))) if steps.size else 0.0
    near = max(usual, 60.0) * 1.5
    said = ""
    for at in np.flatnonzero((np.abs(steps + _HOUR) <= near) | (np.abs(steps - _HOUR) <= near)):
        local = began + datetime.timedelta(seconds=float(seconds[at]))
        shift = _shift_of(local, zone)
        if steps[at] < 0 and shift < 0:
            seconds[at + 1 :] += _HOUR
            said = f"the clock went back on {local:%Y-%m-%d}, and the hour that came twice was counted twice"
        elif steps[at] > 0 and shift > 0 and usual < _HOUR / 2:
            seconds[at + 1 :] -= _HOUR
            said = f"the clock went forward on {local:%Y-%m-%d}, and the hour that never was is left out"
    return seconds, said


def _shift_of(local: datetime.datetime, zone: ZoneInfo) -> float:
    """By how much the clock was moved on that day, [s]."""
    noon = datetime.datetime.combine(local.date(), datetime.time(12), zone)
    before = (noon - datetime.timedelta(days=1)).utcoffset()
    after = noon.utcoffset()
    return (after - before).total_seconds() if after is not None and before is not None else 0.0
