#!/usr/bin/env python3
"""One command for each job: it sets up what the job needs, then does it.

    python3 task.py demo     set up, build the demo pack into demo_project/handover/
    python3 task.py test     set up, run every test, browser tests included
    python3 task.py lint     ruff, strict mypy, the module map
    python3 task.py bench    the benchmark table
    python3 task.py golden   rewrite the golden pages after a change that was meant

Needs Python 3.11 or newer with pip, and nothing else. Words after the job are handed on to it.
"""

import hashlib
import os
import shutil
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent
VENV = ROOT / ".venv"
BIN = VENV / ("Scripts" if os.name == "nt" else "bin")
PYTHON = BIN / ("python.exe" if os.name == "nt" else "python")
DEBIAN_PACKAGES = {"chromium": ("chromium", "fonts-dejavu-core"), "java": ("default-jre-headless",)}
"""Programs that tests need beside Python, and Debian's packages for them; a browser without a font draws no text."""


def run(*command: str | Path, env: dict[str, str] | None = None) -> None:
    """Run a command; its failure is the job's failure."""
    code = subprocess.call([str(part) for part in command], cwd=ROOT, env=env)
    if code:
        sys.exit(code)


def set_up(extra: str) -> None:
    """Make .venv with the program in it, and with the extra where one is named; a second call costs nothing."""
    wanted = hashlib.sha256(b"".join((ROOT / name).read_bytes() for name in ("pyproject.toml", "constraints.txt")))
    stamp = VENV / f"installed{'-' + extra if extra else ''}.txt"
    if PYTHON.exists() and stamp.is_file() and stamp.read_text(encoding="utf-8") == wanted.hexdigest():
        return
    print("setting up .venv ...", file=sys.stderr, flush=True)
    pip: list[str | Path] = [PYTHON, "-m", "pip"]
    if not PYTHON.exists() and subprocess.call([sys.executable, "-m", "venv", str(VENV)], stdout=subprocess.DEVNULL):
        # Debian's Python leaves ensurepip out; its own pip can fill a venv from outside.
        run(sys.executable, "-m", "venv", "--clear", "--without-pip", VENV)
    if subprocess.call([*map(str, pip), "--version"], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL):
        pip = [sys.executable, "-m", "pip", "--python", PYTHON]
    what = f".[{extra}]" if extra else "."
    run(
        *pip, "install", "--quiet", "--disable-pip-version-check", "--no-compile",
        "--constraint", "constraints.txt", "--editable", what,
    )  # fmt: skip
    stamp.write_text(wanted.hexdigest(), encoding="utf-8")


def find_programs() -> None:
    """Install the programs that tests need with Debian's packages where that is possible; else say what is missing."""
    missing = [name for name in DEBIAN_PACKAGES if not shutil.which(name)]
    if not missing:
        return
    packages = [package for name in missing for package in DEBIAN_PACKAGES[name]]
    root = hasattr(os, "geteuid") and os.geteuid() == 0
    sudo = [] if root else ["sudo", "-n"]
    if shutil.which("apt-get") and (root or shutil.which("sudo")):
        print(f"installing {', '.join(packages)} ...", file=sys.stderr, flush=True)
        env = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
        subprocess.call([*sudo, "apt-get", "update", "-qq"], stdout=subprocess.DEVNULL, env=env)
        subprocess.call(
            [*sudo, "apt-get", "install", "-y", "-qq", "--no-install-recommends", *packages],
            stdout=subprocess.DEVNULL, env=env,
        )  # fmt: skip
    still = [name for name in missing if not shutil.which(name)]
    if still:
        wanted = " ".join(packages)
        sys.exit(f"The tests need {' and '.join(still)}; install the Debian packages {wanted}, or their like.")


def main(words: list[str]) -> None:
    """Do the job that the first word names."""
    job, rest = (words[0], words[1:]) if words else ("", [])
    if job == "demo":
        set_up("")
        run(BIN / "witnessmark", "build", "demo_project", *rest)
    elif job == "test":
        set_up("test")
        find_programs()
        run(PYTHON, "-m", "pytest", *rest)
    elif job == "lint":
        set_up("test")
        run(PYTHON, "-m", "ruff", "check", ".")
        run(PYTHON, "-m", "ruff", "format", "--check", ".")
        run(PYTHON, "-m", "mypy")
        run(BIN / "lint-imports")
    elif job == "bench":
        set_up("test")
        run(PYTHON, "tests/benchmarks/bench.py", *rest)
    elif job == "golden":
        set_up("test")
        run(PYTHON, "-m", "pytest", "tests/site", "-k", "golden", "--rewrite-golden")
    else:
        sys.exit((__doc__ or "").strip())


if __name__ == "__main__":
    if sys.version_info < (3, 11):  # noqa: UP036  # this file is started by whatever Python is at hand
        sys.exit("Witnessmark needs Python 3.11 or newer.")
    main(sys.argv[1:])
