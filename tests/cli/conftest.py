"""A starter project to run commands on, and the command itself, in this process or as a user runs it."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import NamedTuple

import pytest

from witnessmark.cli.main import main
from witnessmark.pack.starter import write_starter


class Said(NamedTuple):
    """What a command left: exit code and what it printed."""

    code: int
    out: str
    err: str


@pytest.fixture
def project(tmp_path: Path) -> Path:
    folder = tmp_path / "site"
    write_starter(folder)
    return folder


@pytest.fixture
def run(capfd: pytest.CaptureFixture[str]) -> Callable[..., Said]:
    """Run the command line in this process."""

    def command(*arguments: str | Path) -> Said:
        with pytest.raises(SystemExit) as left:
            main([str(argument) for argument in arguments])
        out, err = capfd.readouterr()
        return Said(int(left.value.code or 0), out, err)

    return command


@pytest.fixture
def shell() -> Callable[..., subprocess.CompletedProcess[bytes]]:
    """Run the command line as a process of its own, in bytes as a pipe carries them."""

    def command(*arguments: str | Path, **environment: str) -> subprocess.CompletedProcess[bytes]:
        call = [sys.executable, "-c", "from witnessmark.cli.main import main; main()", *map(str, arguments)]
        return subprocess.run(call, capture_output=True, env=os.environ | environment, timeout=120, check=False)

    return command
