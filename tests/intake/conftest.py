"""Small project folders whose records stand in the test that uses them."""

from collections.abc import Callable
from pathlib import Path

import pytest

SETTINGS = """\
project: {id: T-1, name: Test project, time_zone: Europe/London, completion_date: 2026-06-12}
issue: {number: P01, date: 2026-05-15}
tags: {host: tags.example}
"""


@pytest.fixture
def make_project(tmp_path: Path) -> Callable[..., Path]:
    """Write a project folder: records by file name, and what project.yml says beside the least it must."""

    def make(records: dict[str, str | bytes], yml: str = "") -> Path:
        (tmp_path / "project.yml").write_text(SETTINGS + yml, encoding="utf-8")
        if not any(name.startswith("sections") for name in records):
            records = {"sections.csv": "section_id,name\nS1,Riser\nS2,Branch\n", **records}
        for name, content in records.items():
            path = tmp_path / "records" / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(content if isinstance(content, bytes) else content.encode("utf-8"))
        return tmp_path

    return make
