"""A logger's CSV file of any dialect to a trace; what could be read in two ways is told, never chosen."""

import io
import re
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from witnessmark.intake.logger_layout import LoggerLayout, find_layout
from witnessmark.intake.logger_times import Moments, UnclearTime, read_moments
from witnessmark.intake.text_encoding import decode
from witnessmark.intake.units import Conversion, UnitFault, conversion
from witnessmark.intake.unreadable_file import UnreadableFile
from witnessmark.model.settings import LoggerAnswer
from witnessmark.model.trace import Trace, TraceRemark

_PRESSURE = re.compile(r"press|druck|druk|pression|presi|\bp\d?\b", re.IGNORECASE)
_TEMPERATURE = re.compile(r"temp|°\s*c\b|\bt\d?\b", re.IGNORECASE)
_UNIT = re.compile(r"[\[(]\s*([^\])]+?)\s*[\])]|(?<![a-z])(m?bar|psi|kpa|mpa|hpa)(?![a-z])", re.IGNORECASE)
_NO_READING = (-999.9, -999.0, -999.99, -9999.0, 888.8, 999.9, 9999.0)
_VACUUM = -1.05
_BEYOND_ANY_TEST = 150.0
_GAP_FACTOR = 5.0
_ANSWER = "say it for this file under 'loggers' in project.yml"
_OF_UNIT = {"s": 1.0, "sec": 1.0, "min": 60.0, "h": 3600.0}


@dataclass(frozen=True, slots=True)
class LoggerFault:
    """Why a logger file gave no trace, or something odd about one that did: slug, fact, remedy."""

    kind: str
    message: str
    remedy: str = ""


class _Unreadable(Exception):
    def __init__(self, kind: str, message: str, remedy: str) -> None:
        self.fault = LoggerFault(kind, message, remedy)
        super().__init__(message)


def read_logger_file(
    path: Path, document_id: str, file: str, answer: LoggerAnswer, zone_name: str
) -> tuple[Trace | None, tuple[LoggerFault, ...]]:
    """Read one file: the trace, or ``None``, and what there is to tell."""
    try:
        return _read(path, document_id, file, answer, zone_name)
    except _Unreadable as error:
        return None, (error.fault,)
    except UnclearTime as error:
        return None, (LoggerFault(error.kind, str(error), error.remedy),)
    except UnreadableFile as error:
        return None, (LoggerFault("logger-unreadable", error.message, error.remedy),)
    except OSError as error:
        return None, (LoggerFault("logger-unreadable", f"the file cannot be read ({error.strerror})"),)


def _read(
    path: Path, document_id: str, file: str, answer: LoggerAnswer, zone_name: str
) -> tuple[Trace | None, tuple[LoggerFault, ...]]:
    text, _, _ = decode(path.read_bytes(), file, answer.encoding or None)
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    layout = find_layout(text, answer.delimiter, answer.time)
    if layout is None:
        raise _Unreadable(
            "logger-unreadable",
            "no column of times beside a column of numbers was found",
            "save the trace as CSV with date, time and pressure, or describe the file under 'loggers' in project.yml",
        )
    pressure = _channel(layout, answer.pressure, _PRESSURE, "pressure")
    if pressure is None:
        shown = ", ".join(repr(layout.headings[c]) for c in layout.numbers)
        raise _Unreadable(
            "logger-pressure-unknown", f"it is not clear which column is the pressure: {shown}",
            f"name it as 'pressure'; {_ANSWER}",
        )  # fmt: skip
    factor = _to_bar(layout.headings[pressure], answer.pressure_unit)
    temperature = _channel(layout, answer.temperature, _TEMPERATURE, "temperature", optional=True)
    frame, lost = _frame(text, layout, pressure, temperature)
    remarks: list[LoggerFault] = []
    if lost:
        remarks.append(
            LoggerFault("logger-rows-lost", f"{lost} lines have more cells than the others and were left out")
        )
    comma = _decimal_comma(layout, answer.decimal)
    values = _numbers(frame[pressure], comma)
    bars = values * factor.factor + factor.offset
    bars = _without_sentinels(values, bars, answer.no_reading, remarks)
    warmth = None if temperature is None else _plausible(_numbers(frame[temperature], comma))
    moments = _moments(frame, layout, answer, zone_name)
    if moments.unreadable:
        remarks.append(LoggerFault("logger-times-unread", f"{moments.unreadable} moments could not be read"))
    if moments.clock_changed:
        remarks.append(LoggerFault("logger-clock-changed", moments.clock_changed))
    remarks += _order_and_gaps(moments.seconds)
    if not np.isfinite(bars).any():
        raise _Unreadable(
            "logger-no-readings", f"the column '{layout.headings[pressure]}' holds no pressure at all",
            "attach the file that holds the readings, or name another column",
        )  # fmt: skip
    trace = Trace(
        document_id,
        file,
        moments.first,
        moments.seconds,
        bars,
        warmth,
        tuple(TraceRemark(remark.kind, remark.message) for remark in remarks),
    )
    return trace, tuple(remarks)


def _order_and_gaps(seconds: NDArray[np.float64]) -> list[LoggerFault]:
    steps = np.diff(seconds[np.isfinite(seconds)])
    if not steps.size:
        return []
    told = []
    back, same = int(np.count_nonzero(steps < 0)), int(np.count_nonzero(steps == 0))
    if back or same:
        message = f"its moments go back {back} times and repeat {same} times"
        told.append(LoggerFault("logger-out-of-order", message))
    rising = steps[steps > 0]
    wide = rising[rising > _GAP_FACTOR * np.median(rising)] if rising.size else rising
    if wide.size:
        message = f"{wide.size} gaps, the longest of {float(wide.max()) / 60:.3g} min"
        told.append(LoggerFault("logger-gap", message))
    return told


def _channel(
    layout: LoggerLayout, named: str, words: re.Pattern[str], what: str, *, optional: bool = False
) -> int | None:
    if named:
        found = [c for c, heading in enumerate(layout.headings) if heading.casefold() == named.strip().casefold()]
        if not found:
            shown = ", ".join(repr(heading) for heading in layout.headings if heading)
            raise _Unreadable(
                "logger-pressure-unknown", f"no column is headed '{named}'; there are {shown}",
                f"correct '{what}'; {_ANSWER}",
            )  # fmt: skip
        return found[0]
    found = [c for c, heading in enumerate(layout.headings) if words.search(heading) and c in layout.numbers]
    if len(found) == 1:
        return found[0]
    if (
        not optional
        and not found
        and len(layout.numbers) == 1
        and not any(_TEMPERATURE.search(layout.headings[c]) for c in layout.numbers)
    ):
        return layout.numbers[0]
    return None


def _to_bar(heading: str, answered: str) -> Conversion:
    found = _UNIT.search(heading)
    unit = answered or ((found.group(1) or found.group(2)) if found else "")
    if not unit:
        raise _Unreadable(
            "logger-unit-not-stated", f"the heading '{heading}' gives no unit of pressure",
            f"name it as 'pressure_unit'; {_ANSWER}",
        )  # fmt: skip
    try:
        return conversion(unit, "bar")
    except UnitFault as error:
        raise _Unreadable("logger-unit-not-stated", str(error), f"name 'pressure_unit'; {_ANSWER}") from error


def _frame(text: str, layout: LoggerLayout, pressure: int, temperature: int | None) -> tuple[pd.DataFrame, int]:
    wanted = {pressure, temperature, layout.moment, layout.day, layout.clock}
    columns = sorted({c for c in wanted if c is not None} | ({layout.elapsed[0]} if layout.elapsed else set()))
    options = {
        "sep": layout.separator,
        "header": None,
        "skiprows": layout.first_line,
        "usecols": columns,
        "dtype": str,
        "keep_default_na": False,
        "skip_blank_lines": True,
        "names": list(range(layout.width)),
        "on_bad_lines": "skip",
        "engine": "c",
    }
    frame = pd.read_csv(io.StringIO(text), **options)  # type: ignore[call-overload]  # options are of one kind each
    filled = text.count("\n") + (not text.endswith("\n")) - layout.first_line - text.count("\n\n")
    return frame.fillna(""), max(0, filled - len(frame)) if '"' not in text else 0


def _decimal_comma(layout: LoggerLayout, answered: str) -> bool:
    if answered:
        return answered == "comma"
    cells = [row[c] for row in layout.sample for c in layout.numbers if c < len(row)]
    with_comma = [cell for cell in cells if "," in cell and "." not in cell]
    if not with_comma:
        return any("," in cell and cell.rfind(",") > cell.rfind(".") for cell in cells)
    sure = [cell for cell in with_comma if len(cell.rpartition(",")[2]) != 3 or cell.lstrip("+-").startswith("0,")]
    if sure:
        return True
    raise _Unreadable(
        "logger-decimal-could-be-two", f"'{with_comma[0]}' could be a decimal comma or a thousand",
        f"say 'decimal'; {_ANSWER}",
    )  # fmt: skip


def _numbers(cells: pd.Series, comma: bool) -> NDArray[np.float64]:
    texts = cells.str.replace(".", "", regex=False).str.replace(",", ".", regex=False) if comma else cells
    numbers: NDArray[np.float64] = pd.to_numeric(texts, errors="coerce").to_numpy(dtype=np.float64, na_value=np.nan)
    return numbers


def _plausible(celsius: NDArray[np.float64]) -> NDArray[np.float64]:
    kept = celsius.copy()
    kept[(kept < -60) | (kept > 300)] = np.nan
    return kept


def _without_sentinels(
    values: NDArray[np.float64], bars: NDArray[np.float64], named: tuple[float, ...], remarks: list[LoggerFault]
) -> NDArray[np.float64]:
    off = np.isin(values, named) | (np.isin(values, _NO_READING) & ((bars > _BEYOND_ANY_TEST) | (bars < _VACUUM)))
    impossible = ((bars < _VACUUM) | (np.abs(bars) > 1e6)) & ~off
    kept = bars.copy()
    kept[off | impossible] = np.nan
    if off.any():
        shown = ", ".join(f"{value:g}" for value in np.unique(values[off])[:4])
        remarks.append(LoggerFault("logger-sentinels", f"{int(off.sum())} readings say that there is none ({shown})"))
    if impossible.any():
        message = (
            f"{int(impossible.sum())} readings are no possible gauge pressure, such as {bars[impossible][0]:g} bar"
        )
        remarks.append(LoggerFault("logger-impossible-pressure", message))
    empty = int(np.count_nonzero(np.isnan(values)))
    if empty:
        remarks.append(LoggerFault("logger-cells-empty", f"{empty} cells of the pressure hold no number"))
    return kept


def _moments(frame: pd.DataFrame, layout: LoggerLayout, answer: LoggerAnswer, zone_name: str) -> Moments:
    if layout.moment is not None:
        return read_moments(frame[layout.moment], answer.date_order, zone_name)
    if layout.day is not None and layout.clock is not None:
        joined = frame[layout.day].str.strip() + " " + frame[layout.clock].str.strip()
        return read_moments(joined, answer.date_order, zone_name)
    column, unit = layout.elapsed or (0, "s")
    comma = _decimal_comma(layout, answer.decimal)
    seconds = _numbers(frame[column], comma) * _OF_UNIT[unit]
    known = seconds[np.isfinite(seconds)]
    return Moments(seconds - known[0] if known.size else seconds, None, int(np.isnan(seconds).sum()))
