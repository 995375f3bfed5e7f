"""Chase lists as files: they read as a message, and the table holds every joint."""

from __future__ import annotations

import csv
import datetime
from collections.abc import Callable
from pathlib import Path
from typing import Any

from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.source import SourceLocation
from witnessmark.pack.chase_files import write_chase_files
from witnessmark.pipeline import Outcome as PipelineOutcome

RULE = Rule("tool-service-overdue", "?", Severity.BREAKS, "", "the subcontractor who pressed the joint", "", "", "")


def made(record: Any, make_outcome: Callable[..., PipelineOutcome], message: str, name: str) -> PipelineOutcome:
    joints = tuple(record("joints", joint_id=f"J{n:03d}", section_id="S1") for n in range(212))
    place = SourceLocation("records/tools.xlsx", "Services", 9, "D", "due")
    finding = Finding(
        RULE, Outcome.FAIL, message, "Show the service record.", Subject("tool", "PT-02"), place,
        section_ids=("S1",), joint_ids=tuple(joint.joint_id for joint in joints),
    )  # fmt: skip
    return make_outcome((finding,), sections=(record("sections", section_id="S1", subcontractor=name),), joints=joints)


def test_the_text_can_be_sent_as_it_is_and_the_table_holds_every_joint(
    record: Any, make_outcome: Callable[..., PipelineOutcome], tmp_path: Path
) -> None:
    outcome = made(
        record, make_outcome, "Tool PT-02 was due for service on 9 May 2026 and pressed 212 ends since.", "SUB-1"
    )
    text, table = write_chase_files(outcome, tmp_path / "chase")
    lines = text.read_text(encoding="utf-8").splitlines()
    assert lines[:3] == ["To: SUB-1", "Project: Quayside House", "Issue: P03 of 15 May 2026"]
    assert "1. [breaks the evidence] Tool PT-02 was due for service on 9 May 2026 and pressed 212 ends" in lines[7]
    assert max(map(len, lines)) <= 100
    assert "172 more" in text.read_text(encoding="utf-8")
    with table.open(encoding="utf-8-sig", newline="") as stream:
        (row,) = csv.DictReader(stream)
    assert len(row["joints"].split("; ")) == 212
    assert (row["file"], row["row"], row["column"]) == ("records/tools.xlsx", "9", "D")
    assert outcome.project.settings.issue.date == datetime.date(2026, 5, 15)


def test_rows_of_which_the_same_is_said_are_one_point(
    record: Any, make_outcome: Callable[..., PipelineOutcome], tmp_path: Path
) -> None:
    """Of each row the table keeps a line, under the number of the point."""
    findings = tuple(
        Finding(
            RULE, Outcome.FAIL, f"Joint J{row} is logged as a fitting.", "Log each end.", Subject("joint", f"J{row}"),
            SourceLocation("records/joints.csv", "", row, "H", "Kind"), section_ids=("S1",),
        )
        for row in (2, 3, 4, 9)
    )  # fmt: skip
    outcome = make_outcome(findings, sections=(record("sections", section_id="S1", subcontractor="SUB-1"),))
    text, table = write_chase_files(outcome, tmp_path / "chase")
    said = text.read_text(encoding="utf-8")
    assert "1 point open, first things first: 1 breaking the evidence." in said
    assert "Look at: records/joints.csv, rows 2 to 4, 9, column H (Kind)" in said
    assert "The same of: J3, J4, J9" in said
    with table.open(encoding="utf-8-sig", newline="") as stream:
        assert [(row["number"], row["row"]) for row in csv.DictReader(stream)] == [
            ("1", "2"), ("1", "3"), ("1", "4"), ("1", "9"),
        ]  # fmt: skip


def test_text_of_records_cannot_be_a_formula_or_a_control_character(
    record: Any, make_outcome: Callable[..., PipelineOutcome], tmp_path: Path
) -> None:
    outcome = made(record, make_outcome, "=cmd|' /C x'!A0 \x1b[2J \ud800 \u202e", "../../SUB\n1")
    text, table = write_chase_files(outcome, tmp_path / "chase")
    assert {path.parent for path in (text, table)} == {tmp_path / "chase"}
    assert "\x1b" not in text.read_text(encoding="utf-8")
    with table.open(encoding="utf-8-sig", newline="") as stream:
        (row,) = csv.DictReader(stream)
    assert row["what"].startswith("'=")


def test_two_addressees_whose_names_differ_only_in_blanks_keep_a_file_each(
    record: Any, make_outcome: Callable[..., PipelineOutcome], tmp_path: Path
) -> None:
    sections = (
        record("sections", section_id="S1", subcontractor="SUB 1"),
        record("sections", section_id="S2", subcontractor="sub-1"),
    )
    findings = tuple(
        Finding(RULE, Outcome.FAIL, "M.", "R.", Subject("section", s), section_ids=(s,)) for s in ("S1", "S2")
    )
    written = write_chase_files(make_outcome(findings, sections=sections), tmp_path / "chase")
    assert len({path.name.casefold() for path in written}) == 4
