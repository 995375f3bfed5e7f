"""Computed columns of ``tests.csv``, and the relation of test stages to sections as a table of its own."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from operator import itemgetter
from typing import TYPE_CHECKING

from witnessmark.model.finding import Severity
from witnessmark.model.project import Records
from witnessmark.model.records import TestStage
from witnessmark.pack.data_table import DataColumn, DataTable, ForeignKey, figure
from witnessmark.pack.record_tables import record_number, reference_columns, register_keys
from witnessmark.pack.verdict_figures import verdict_figures

if TYPE_CHECKING:
    from witnessmark.pipeline import Outcome


def stage_figures(outcome: Outcome) -> tuple[DataColumn, ...]:
    """Columns that stand behind the record columns of ``tests.csv``."""
    joints = outcome.project.joints_of_section
    found = Counter((f.subject.id, f.rule.severity) for f in outcome.judgement.findings if f.subject.kind == "test")

    def drop(stage: TestStage) -> float | None:
        if stage.start_pressure_bar is None or stage.end_pressure_bar is None:
            return None
        return stage.start_pressure_bar - stage.end_pressure_bar

    def findings(severity: Severity) -> Callable[[TestStage], int]:
        return lambda stage: found[stage.test_id, severity]

    return (
        figure("pressure_drop_bar", "number", "Pressure drop", "Gauge pressure at the start less that at the end, as "
               "recorded and not corrected for temperature; a rise is negative.", drop, "bar"),
        figure("section_count", "integer", "Sections", "Sections that the stage names.", lambda t: len(t.section_ids)),
        figure("joint_count", "integer", "Joints", "Joint records of the sections that the stage names.",
               lambda t: sum(len(joints.get(section_id, ())) for section_id in t.section_ids)),
        *(
            figure(f"findings_{severity.value}", "integer", f"Findings: {severity.value}",
                   f"Findings of severity '{severity.value}' about this test, over all its attempts and stages.",
                   findings(severity))
            for severity in Severity
        ),
        *verdict_figures(outcome),
    )  # fmt: skip


def stage_sections(records: Records) -> DataTable:
    """One row per test stage and section: what ``tests.section_ids`` says, as a relation."""
    rows = [
        (f"tests-{number:06d}", section_id)
        for number, stage in enumerate(records.tests, start=1)
        for section_id in stage.section_ids
    ]
    section = {
        "name": "section_id",
        "type": "string",
        "title": "Section",
        "description": "Section that the stage covers.",
    }
    inside, outside = reference_columns(section, "sections", register_keys(records, "sections"), itemgetter(1))
    return DataTable(
        name="test_sections",
        title="Sections of test stages",
        description="One row per test stage and section that it covers.",
        primary_key="record",
        columns=(
            record_number("test_sections"),
            figure("test_record", "string", "Test stage", "Row of tests.csv.", itemgetter(0), required=True),
            inside,
            outside,
        ),
        rows=rows,
        foreign_keys=(ForeignKey("test_record", "tests", "record"), ForeignKey("section_id", "sections", "section_id")),
    )
