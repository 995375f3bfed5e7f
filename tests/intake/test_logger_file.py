"""Logger files of any dialect become traces; what could be read in two ways is asked for, never chosen."""

import datetime
import time
from pathlib import Path

import numpy as np
import pytest

from witnessmark.intake.logger_file import LoggerFault, read_logger_file
from witnessmark.model.settings import LoggerAnswer
from witnessmark.model.trace import Trace

REAL = Path(__file__).resolve().parents[3] / "shared" / "real" / "loggers"
real = pytest.mark.skipif(not REAL.is_dir(), reason=f"the folder of real logger files is not there: {REAL}")


def read(
    folder: Path, text: str | bytes, zone: str = "Europe/London", **answer: object
) -> tuple[Trace | None, tuple[LoggerFault, ...]]:
    path = folder / "trace.csv"
    path.write_bytes(text if isinstance(text, bytes) else text.encode("utf-8"))
    return read_logger_file(path, "D-1", "trace.csv", LoggerAnswer("trace.csv", **answer), zone)  # type: ignore[arg-type]  # answers by name


def kinds(faults: tuple[LoggerFault, ...]) -> list[str]:
    return [fault.kind for fault in faults]


@pytest.mark.parametrize(
    "text",
    [
        "Time,Pressure (bar)\n2026-03-20 10:00:00,9.1\n2026-03-20 10:01:00,9.0\n",
        "Logger 12\nSerial;77\n\nDatum;Druck [bar]\n20.03.2026 10:00:00;9,1\n20.03.2026 10:01:00;9,0\n",
        '"Time","Pressure [bar]"\n"20/3/2026 10:00:00","9,1"\n"20/3/2026 10:01:00","9,0"\n',
        "Date\tTime\tP (bar)\n20/03/2026\t10:00:00\t9.1\n20/03/2026\t10:01:00\t9.0\n",
        "time,pressure (kPa)\n2026-03-20T10:00:00,910\n2026-03-20T10:01:00,900\n",
        "Time (s),Pressure (mbar)\n0,9100\n60,9000\n",
        "Time,Pressure (bar)\r\n2026-03-20 10:00:00+00:00,9.1\r\n2026-03-20 10:01:00+00:00,9.0\r\n",
    ],
)
def test_dialects_say_the_same(tmp_path: Path, text: str) -> None:
    trace, faults = read(tmp_path, text)
    assert trace is not None, faults
    assert faults == ()
    assert trace.seconds.tolist() == [0, 60]
    assert trace.pressures_bar == pytest.approx([9.1, 9.0])
    if "Time (s)" not in text:
        assert trace.started_at is not None
        assert trace.started_at.astimezone(datetime.UTC) == datetime.datetime(2026, 3, 20, 10, tzinfo=datetime.UTC)


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("", "logger-unreadable"),
        ("nothing of the kind\n", "logger-unreadable"),
        ("Time,Pressure\n2026-03-20 10:00:00,9.1\n2026-03-20 10:01:00,9.0\n", "logger-unit-not-stated"),
        ("Time,P1 (bar),P2 (bar)\n2026-03-20 10:00:00,9.1,1\n2026-03-20 10:01:00,9.0,1\n", "logger-pressure-unknown"),
        ("Time,Pressure (bar)\n08/06/2026 10:00:00,9.1\n08/06/2026 10:01:00,9.0\n", "logger-date-could-be-two"),
        ("Time;Pressure (mbar)\n2026-03-20 10:00:00;3,246\n2026-03-20 10:01:00;3,243\n", "logger-decimal-could-be-two"),
        ("Time;Pressure (bar)\n2026-03-20 10:00:00;-999,9\n2026-03-20 10:01:00;888,8\n", "logger-no-readings"),
        ("Time,Pressure (bar a)\n2026-03-20 10:00:00,9.1\n2026-03-20 10:01:00,9.0\n", "logger-unit-not-stated"),
    ],
)
def test_what_could_be_two_gives_no_trace_and_a_sentence(tmp_path: Path, text: str, kind: str) -> None:
    trace, faults = read(tmp_path, text)
    assert trace is None
    assert kinds(faults) == [kind]
    assert faults[0].message


def test_an_answer_settles_the_order_of_the_date(tmp_path: Path) -> None:
    text = "Time,Pressure (bar)\n08/06/2026 10:00:00,9.1\n08/06/2026 10:01:00,9.0\n"
    for order, month in (("dmy", 6), ("mdy", 8)):
        trace, _ = read(tmp_path, text, date_order=order)
        assert trace is not None
        assert trace.started_at is not None
        assert trace.started_at.month == month


def test_odd_readings_are_told(tmp_path: Path) -> None:
    rows = [f"2026-03-20 10:{m:02d}:00,9.0" for m in range(30)]
    rows[5], rows[6] = rows[6], rows[5]
    rows[10] = rows[9]
    rows[12:20] = []
    rows[14] = "2026-03-20 10:22:00,-999.9"
    rows.append("2026-03-20 10:31:00,")
    rows.append("2026-03-20 10:32:00,-3")
    trace, faults = read(tmp_path, "Time,Pressure (bar)\n" + "\n".join(rows) + "\n")
    assert trace is not None
    assert set(kinds(faults)) == {
        "logger-out-of-order", "logger-gap", "logger-sentinels", "logger-cells-empty", "logger-impossible-pressure",
    }  # fmt: skip
    assert np.isnan(trace.pressures_bar[[14, -2, -1]]).all()


@pytest.mark.parametrize(("day", "hours"), [("2026-10-25", 25), ("2026-03-29", 23), ("2026-03-20", 24)])
def test_a_day_on_which_the_clock_is_changed_has_its_true_length(tmp_path: Path, day: str, hours: int) -> None:
    """Length of those days in the United Kingdom: public calendar."""
    began = datetime.datetime.fromisoformat(day + "T00:00:00")
    london = [datetime.datetime.fromtimestamp(t, datetime.UTC) for t in _moments_of(began, hours)]
    from zoneinfo import ZoneInfo

    local = [moment.astimezone(ZoneInfo("Europe/London")) for moment in london]
    rows = [f"{moment:%Y-%m-%d %H:%M:%S},5.0" for moment in local]
    trace, faults = read(tmp_path, "Time,Pressure (bar)\n" + "\n".join(rows) + "\n")
    assert trace is not None
    assert trace.seconds[-1] == hours * 3600 - 600
    assert kinds(faults) == ([] if hours == 24 else ["logger-clock-changed"])


def _moments_of(began: datetime.datetime, hours: int) -> list[float]:
    from zoneinfo import ZoneInfo

    first = began.replace(tzinfo=ZoneInfo("Europe/London")).timestamp()
    return [first + 600 * n for n in range(hours * 6)]


def test_half_a_million_readings_are_read_in_seconds(tmp_path: Path) -> None:
    """Two seconds of a machine with nothing else to do; three times as much is let pass on a busy one."""
    times = np.datetime64("2026-03-20T00:00:00") + np.arange(500_000)
    text = "\n".join(f"{t.replace('T', ' ')},9.{n % 10}" for n, t in enumerate(np.datetime_as_string(times)))
    path = tmp_path / "long.csv"
    path.write_text("Time,Pressure (bar)\n" + text + "\n", encoding="utf-8")
    read(tmp_path, "Time,Pressure (bar)\n2026-03-20 10:00:00,9.1\n2026-03-20 10:01:00,9.0\n")
    began = time.process_time()
    trace, faults = read_logger_file(path, "D-1", "long.csv", LoggerAnswer("long.csv"), "Europe/London")
    assert time.process_time() - began < 6.0
    assert faults == ()
    assert trace is not None
    assert trace.readings == 500_000


@real
def test_a_real_file_with_the_comma_as_separator_and_decimal_sign() -> None:
    file = next(REAL.glob("inbo_*.csv"))
    trace, _ = read_logger_file(file, "D", file.name, LoggerAnswer(file.name), "Europe/Brussels")
    assert trace is None
    answer = LoggerAnswer(file.name, pressure="DRME_DRU", pressure_unit="mbar")
    trace, faults = read_logger_file(file, "D", file.name, answer, "Europe/Brussels")
    assert trace is not None, faults
    assert trace.pressures_bar[0] == pytest.approx(1.03324297)
    assert trace.started_at == datetime.datetime(2018, 6, 8, 11, tzinfo=datetime.UTC)
    assert (np.diff(trace.seconds) > 0).all()


@real
def test_a_real_file_that_gives_no_unit_needs_an_answer() -> None:
    file = next(REAL.glob("keller_*.txt"))
    trace, faults = read_logger_file(file, "D", file.name, LoggerAnswer(file.name), "Europe/Brussels")
    assert trace is None
    assert faults
    answer = LoggerAnswer(file.name, pressure="P1", pressure_unit="bar", decimal="comma")
    trace, _ = read_logger_file(file, "D", file.name, answer, "Europe/Brussels")
    assert trace is not None
    assert trace.pressures_bar[0] == pytest.approx(3.246)
    assert trace.readings > 500


@real
def test_a_real_file_whose_pressure_holds_only_sentinels_has_no_trace() -> None:
    file = next(REAL.glob("solar_*.csv"))
    trace, faults = read_logger_file(file, "D", file.name, LoggerAnswer(file.name), "Europe/Berlin")
    assert trace is None
    assert kinds(faults) == ["logger-no-readings"]
