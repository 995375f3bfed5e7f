"""The export says how far the records carry, and never says more than they do."""

from __future__ import annotations

import csv
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.pack.data_export import export_data
from witnessmark.pipeline import Outcome as PipelineOutcome

RULE = Rule("joint-not-checked", "?", Severity.BREAKS, "", "", "", "", "")


@pytest.mark.parametrize(
    ("answer", "state"), [(Outcome.FAIL, "broken"), (Outcome.CANNOT_TELL, "unproven"), (None, "complete")]
)
def test_states_stand_in_the_rows_of_joints_sections_and_systems(
    record: Any, make_outcome: Callable[..., PipelineOutcome], tmp_path: Path, answer: Outcome | None, state: str
) -> None:
    finding = Finding(RULE, answer, "Joint J1 was not looked at.", "R.", Subject("joint", "J1")) if answer else None
    outcome = make_outcome(
        (finding,) if finding else (),
        systems=(record("systems", system_id="H"),),
        sections=(record("sections", section_id="S1", system_id="H"),),
        joints=tuple(record("joints", joint_id=f"J{n}", section_id="S1") for n in (1, 2)),
    )
    export_data(outcome, tmp_path)
    rows = {}
    for table in ("joints", "sections", "systems"):
        with (tmp_path / f"{table}.csv").open(encoding="utf-8", newline="") as stream:
            rows[table] = list(csv.DictReader(stream))
    assert [row["chain_state"] for row in rows["joints"]] == [state, "complete"]
    assert [row["chain_state"] for row in (*rows["sections"], *rows["systems"])] == [state, state]
    told = rows["sections"][0]["chain_sentence"]
    assert told == "Joint J1 was not looked at." if answer else told.startswith("The records show every link")
