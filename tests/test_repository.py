"""The repository keeps what it promises: module map, the demo by MkDocs' own command, a wheel that works anywhere."""

import os
import subprocess
import sys
import venv
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
BIN = Path(sys.executable).parent


def run(*command: str | Path, cwd: Path = ROOT) -> subprocess.CompletedProcess[str]:
    env = {k: v for k, v in os.environ.items() if not k.startswith(("PYTHON", "PYTEST", "COV"))}
    return subprocess.run([str(c) for c in command], cwd=cwd, capture_output=True, text=True, env=env, check=False)


def test_imports_go_down_the_module_map_only() -> None:
    done = run(BIN / "lint-imports")
    assert done.returncode == 0, done.stdout
    assert "1 kept, 0 broken" in done.stdout


def test_a_forbidden_import_would_be_noticed(tmp_path: Path) -> None:
    """The contract can fail: a copy in which the model imports a check breaks it."""
    for name in ("generator", "pyproject.toml"):
        source = ROOT / name
        target = tmp_path / name
        if source.is_file():
            target.write_bytes(source.read_bytes())
        else:
            for path in source.rglob("*.py"):
                copy = target / path.relative_to(source)
                copy.parent.mkdir(parents=True, exist_ok=True)
                copy.write_bytes(path.read_bytes())
    bad = tmp_path / "generator" / "witnessmark" / "model" / "quantity.py"
    bad.write_text(bad.read_text(encoding="utf-8") + "\nimport witnessmark.checks.run\n", encoding="utf-8")
    code = "import sys; sys.path.insert(0, 'generator'); from importlinter import cli; sys.exit(cli.lint_imports())"
    done = run(sys.executable, "-c", code, cwd=tmp_path)
    assert done.returncode != 0
    assert "BROKEN" in done.stdout, done.stdout + done.stderr


def test_mkdocs_builds_the_demo_at_the_root(tmp_path: Path) -> None:
    done = run(sys.executable, "-m", "mkdocs", "build", "--strict", "--quiet", "--site-dir", tmp_path / "site")
    assert done.returncode == 0, done.stderr
    pages = list((tmp_path / "site" / "T").glob("*/index.html"))
    assert len(pages) >= 150


def test_every_package_says_what_lives_in_it() -> None:
    package = ROOT / "generator" / "witnessmark"
    folders = [path.parent for path in package.glob("*/__init__.py")]
    assert len(folders) == 10
    for folder in folders:
        assert (folder / "README.md").is_file(), folder.name


@pytest.mark.filterwarnings("default")
def test_a_wheel_works_in_an_empty_environment_in_another_folder(tmp_path: Path) -> None:
    """The wheel carries content/ and shared/; init, check and build run far from the checkout."""
    done = run(sys.executable, "-m", "pip", "wheel", "--quiet", "--no-deps", "--wheel-dir", tmp_path, ROOT)
    assert done.returncode == 0, done.stderr
    (wheel,) = tmp_path.glob("*.whl")
    names = zipfile.ZipFile(wheel).namelist()
    assert any(name.startswith("witnessmark/bundled/shared/contract/") for name in names)
    assert any(name.startswith("witnessmark/bundled/content/") for name in names)
    place = tmp_path / "empty"
    venv.create(place, with_pip=False)
    python = place / ("Scripts/python.exe" if os.name == "nt" else "bin/python")
    installed = run(
        sys.executable, "-m", "pip", "--python", python, "install", "--quiet", "--no-compile",
        "--constraint", ROOT / "constraints.txt", wheel, cwd=tmp_path,
    )  # fmt: skip
    assert installed.returncode == 0, installed.stderr
    where = run(python, "-c", "import witnessmark; print(witnessmark.__file__)", cwd=tmp_path)
    assert Path(where.stdout.strip()).is_relative_to(place), where.stdout + where.stderr
    tool = python.parent / "witnessmark"
    assert run(tool, "init", "starter", cwd=tmp_path).returncode == 0
    checked = run(tool, "check", "starter", cwd=tmp_path)
    assert checked.returncode in (0, 1), checked.stderr
    built = run(tool, "build", "starter", cwd=tmp_path)
    assert built.returncode == 0, built.stderr
    out = tmp_path / "starter" / "handover"
    for edition in ("audit", "facilities", "tag"):
        assert list((out / edition / "T").glob("*/index.html")), edition
    assert list((out / "tags").glob("*.svg"))
    assert (out / "audit" / "data" / "sections.csv").is_file()
