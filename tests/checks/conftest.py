"""Made-up projects written as files, read, worked out and judged, one folder a seed."""

import gc
import importlib.util
import sys
from collections.abc import Callable
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

from witnessmark.checks.run import judge
from witnessmark.intake.project_reader import read_project
from witnessmark.pipeline import Outcome
from witnessmark.workings.work import work


@pytest.fixture(scope="session")
def sound() -> ModuleType:
    """The generator of projects in which everything is right."""
    name = "sound_project.sound"
    if name not in sys.modules:
        spec = importlib.util.spec_from_file_location(name, Path(__file__).with_name("sound.py"))
        assert spec is not None
        assert spec.loader is not None
        module = importlib.util.module_from_spec(spec)
        sys.modules[name] = module
        spec.loader.exec_module(module)
    return sys.modules[name]


@pytest.fixture(scope="session")
def judged(sound: ModuleType, tmp_path_factory: pytest.TempPathFactory) -> Callable[..., Outcome]:
    """Writes tables and settings as the project of a seed, reads them and asks all checks.

    The folder of a seed is written again only where a file differs, so that many breaks of one project cost little.
    """
    root = tmp_path_factory.mktemp("sound")
    written: dict[int, Any] = {}

    def run(seed: int, tables: dict[str, list[dict[str, str]]], settings: dict[str, Any]) -> Outcome:
        files = sound.project_files(tables, settings)
        sound.write_files(root / str(seed), files, written.get(seed, {}))
        written[seed] = files
        collecting = gc.isenabled()
        gc.disable()
        try:
            project = read_project(root / str(seed))
            workings = work(project)
            return Outcome(project, workings, judge(project, workings))
        finally:
            if collecting:
                gc.enable()

    return run
