"""Two jobs at once must leave the same files as one after the other, and no error of either may be lost."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from witnessmark.cli import side_by_side as module
from witnessmark.cli.side_by_side import HelperFailed, side_by_side
from witnessmark.pack.refusal import CannotWrite


@pytest.fixture(params=[True, False], ids=["two processes", "one process"])
def processes(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> bool:
    monkeypatch.setattr(module, "_can_fork", lambda: request.param)
    return bool(request.param)


def writes(path: Path) -> Callable[[], None]:
    return lambda: path.write_text(f"{path.name} by {os.getpid()}") and None


def raises(error: BaseException) -> Callable[[], None]:
    def job() -> None:
        raise error

    return job


def nothing() -> None:
    return None


def test_both_jobs_are_done_when_it_returns(tmp_path: Path, processes: bool) -> None:
    side_by_side(writes(tmp_path / "here"), writes(tmp_path / "beside"))
    mine, other = ((tmp_path / name).read_text().split(" by ")[1] for name in ("here", "beside"))
    assert mine == str(os.getpid())
    assert (other != mine) is processes


@pytest.mark.usefixtures("processes")
def test_a_refusal_keeps_its_sentence() -> None:
    with pytest.raises(CannotWrite, match=r"^The label is too small\.$"):
        side_by_side(nothing, raises(CannotWrite("The label is too small.")))


def test_an_unexpected_error_beside_is_named_with_its_trace(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "_can_fork", lambda: True)
    with pytest.raises(HelperFailed, match="KeyError: 'bore'") as raised:
        side_by_side(nothing, raises(KeyError("bore")))
    assert "Traceback" in str(raised.value.__cause__)


def test_a_killed_helper_is_no_success(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "_can_fork", lambda: True)
    with pytest.raises(HelperFailed, match="stopped before it had finished"):
        side_by_side(nothing, lambda: os.kill(os.getpid(), signal.SIGKILL))


def test_the_helper_ends_with_the_process_that_started_it(tmp_path: Path) -> None:
    alive = tmp_path / "alive"
    script = (
        "import os, pathlib, signal, sys, time\n"
        "from witnessmark.cli.side_by_side import side_by_side\n"
        "def beside():\n"
        "    pathlib.Path(sys.argv[1]).write_text(str(os.getpid()))\n"
        "    time.sleep(60)\n"
        "def here():\n"
        "    while not pathlib.Path(sys.argv[1]).exists(): time.sleep(0.01)\n"
        "    time.sleep(0.2)\n"
        "    os.kill(os.getpid(), signal.SIGKILL)\n"
        "side_by_side(here, beside)\n"
    )
    subprocess.run([sys.executable, "-c", script, str(alive)], check=False, timeout=60)
    helper = int(alive.read_text())
    for _ in range(500):
        state = Path(f"/proc/{helper}/stat")
        if not state.exists() or state.read_text().rsplit(")", 1)[1].split()[0] == "Z":
            return
        time.sleep(0.01)
    raise AssertionError("the helper goes on")


@pytest.mark.usefixtures("processes")
def test_an_error_here_stops_the_helper() -> None:
    def long() -> None:
        signal.pause()

    with pytest.raises(ZeroDivisionError):
        side_by_side(raises(ZeroDivisionError()), long)
