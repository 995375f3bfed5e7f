"""The walk sheet prints every joint of the sample, numbers its pages, and stands hostile text."""

from __future__ import annotations

import csv
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pypdf
import pytest

from witnessmark.evidence.sample import draw
from witnessmark.pack.walk_sheet import HEADER, write_walk_sheet, write_walk_table
from witnessmark.pipeline import Outcome


@pytest.fixture
def outcome(record: Any, make_outcome: Callable[..., Outcome]) -> Outcome:
    joints = [
        record("joints", joint_id=f"J{n:04d}-A", section_id="S1", level=str(n % 12), od_mm=22.0, fitting_kind="elbow")
        for n in range(400)
    ]
    hostile = record(
        "joints", joint_id="<b>&\u202e\x07J", section_id="S1", location="<img src=x> " + "W" * 300, od_mm=108.0
    )
    return make_outcome(
        sections=(record("sections", section_id="S1", name="Riser", concealed=True),), joints=(*joints, hostile)
    )


def text_of(path: Path) -> list[str]:
    return [page.extract_text() for page in pypdf.PdfReader(path).pages]


def test_every_joint_of_the_sample_is_on_the_sheet_and_every_sheet_says_what_it_is(
    outcome: Outcome, tmp_path: Path
) -> None:
    sample = draw(outcome.project, "P03", aql="4.0")
    assert write_walk_sheet(outcome, sample, tmp_path / "a.pdf") == len(sample.walk)
    pages = text_of(tmp_path / "a.pdf")
    joined = "\n".join(pages)
    for sampled in sample.walk:
        if sampled.joint.joint_id.startswith("J"):
            assert sampled.joint.joint_id in joined
    assert len(pages) > 1
    for number, page in enumerate(pages, start=1):
        assert f"Sheet {number} of {len(pages)}" in page
        assert "Issue P03, 15 May 2026" in page
        assert "seed P03" in page
    assert "(concealed)" in joined
    assert "<b>&" in joined


def test_the_same_seed_prints_the_same_bytes(outcome: Outcome, tmp_path: Path) -> None:
    for name in ("a", "b"):
        write_walk_sheet(outcome, draw(outcome.project, "x"), tmp_path / f"{name}.pdf")
    assert (tmp_path / "a.pdf").read_bytes() == (tmp_path / "b.pdf").read_bytes()


def test_levels_are_walked_in_the_order_of_their_numbers(outcome: Outcome, tmp_path: Path) -> None:
    sample = draw(outcome.project, "x")
    assert write_walk_table(outcome, sample, tmp_path / "a.csv") == len(sample.walk)
    with (tmp_path / "a.csv").open(encoding="utf-8-sig", newline="") as stream:
        rows = list(csv.DictReader(stream))
    assert tuple(rows[0]) == HEADER
    levels = [int(row["level"]) for row in rows if row["level"]]
    assert levels == sorted(levels)
    assert max(levels) > 9
    assert {row["photo"] for row in rows} == {""}


def test_no_joint_is_a_sheet_that_says_so(make_outcome: Callable[..., Outcome], tmp_path: Path) -> None:
    empty = make_outcome()
    assert write_walk_sheet(empty, draw(empty.project, "x"), tmp_path / "a.pdf") == 0
    assert "No joint to look at." in text_of(tmp_path / "a.pdf")[0]
