"""Records made in Python, and a browser without a network, for every test that needs them."""

import dataclasses
import datetime
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from witnessmark.checks.judgement import CheckRun, Judgement, collect
from witnessmark.model.finding import Finding, Outcome as Answer, Rule, Severity, Subject
from witnessmark.model.project import Project, Records, Repair, SetAside, SourceAccount
from witnessmark.model.records import RECORD_CLASSES, Record
from witnessmark.model.settings import Duty, GuaranteeTerms, Issue, ProjectSettings, TagSettings
from witnessmark.model.source import RowSource, SourceColumn, SourceLocation, SourceTable
from witnessmark.pipeline import Outcome
from witnessmark.workings.work import work


def _as_written(value: Any) -> str:
    if value is None or value == ():
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return f"{value:g}"
    if isinstance(value, datetime.time):
        return value.strftime("%H:%M")
    return "; ".join(value) if isinstance(value, tuple) else str(value)


class RecordFactory:
    """Makes records of any table: fields not given are not in the records."""

    def __init__(self) -> None:
        self._rows: dict[str, int] = {}

    def __call__(self, table: str, raw: dict[str, str] | None = None, **values: Any) -> Record:
        """A record of ``table``; ``raw`` says how a cell stood in the file where it differs from the value."""
        kind = RECORD_CLASSES[table]
        names = [f.name for f in dataclasses.fields(kind) if f.name not in ("source", "recorded_as_end")]
        defaults: dict[str, Any] = {"section_ids": ()} if table == "tests" else {}
        filled = {name: values.get(name, defaults.get(name)) for name in names}
        row = self._rows[table] = self._rows.get(table, 1) + 1
        texts = tuple((raw or {}).get(name, _as_written(filled[name])) for name in names)
        columns = {name: SourceColumn(i, chr(65 + i % 26), name) for i, name in enumerate(names)}
        source = RowSource(SourceTable(f"records/{table}.csv", "", columns, tuple(names)), row, texts)
        if table == "joints":
            filled["recorded_as_end"] = values.get("recorded_as_end", True)
        return kind(source=source, **filled)


RULE = Rule(
    slug="test-before-last-joint",
    question="Was every section tested after its last joint was pressed?",
    severity=Severity.BREAKS,
    closes="A strength test of the section after its last joint.",
    whose="Contractor",
    what="The date of the last strength test against the date of the last pressed joint.",
    why="A joint pressed after the test has never been under pressure.",
    example="Joint J014 was pressed on 12 May; the only strength test of the section was on 9 May.",
)


@pytest.fixture
def record() -> RecordFactory:
    """Makes single records."""
    return RecordFactory()


@pytest.fixture
def settings() -> ProjectSettings:
    """Settings of a small invented project."""
    return ProjectSettings(
        id="quayside",
        name="Quayside House",
        time_zone="Europe/London",
        issue=Issue("P03", datetime.date(2026, 5, 15), "For information", "Handover"),
        tags=TagSettings(host="tags.example.org"),
        building="Offices on five levels",
        client="The client",
        contractor="MECH-1",
        completion_date=datetime.date(2026, 5, 8),
        duty=Duty("Duty engineer", "+44 20 7946 0018"),
        guarantee={
            "copper": GuaranteeTerms(
                "copper", 30, "completion", "GUAR-1", 30, datetime.date(2026, 5, 20), ("Only parts of one family.",)
            ),
        },
    )


@pytest.fixture
def make_outcome(settings: ProjectSettings, tmp_path: Path) -> Callable[..., Outcome]:
    """Works records out and judges them with the findings given."""

    def make(
        findings: tuple[Finding, ...] = (),
        runs: tuple[CheckRun, ...] = (),
        settings: ProjectSettings = settings,
        repairs: tuple[Repair, ...] = (),
        set_aside: tuple[SetAside, ...] = (),
        accounts: tuple[SourceAccount, ...] = (),
        folder: Path | None = None,
        **tables: tuple[Record, ...],
    ) -> Outcome:
        records = Records(**tables)  # type: ignore[arg-type]  # tables by name
        project = Project(folder or tmp_path / "project", settings, records, repairs, set_aside, accounts)
        judgement: Judgement = collect(runs, findings)
        return Outcome(project, work(project), judgement)

    return make


@pytest.fixture
def small_outcome(record: RecordFactory, make_outcome: Callable[..., Outcome]) -> Outcome:
    """Two systems, three sections (one sensitive, one of which little is known), joints, tests and a finding."""
    day = datetime.date
    return make_outcome(
        systems=(
            record(
                "systems",
                system_id="LTHW-F",
                name="Low temperature heating, flow",
                service="heating_flow",
                medium="treated_water",
                max_operating_pressure_bar=3.0,
                max_temperature_c=80.0,
                min_temperature_c=10.0,
                stops="Heating on levels 0 to 5",
                responsible_role="Duty engineer",
            ),
            record("systems", system_id="GAS", name="Natural gas", service="natural_gas", medium="natural_gas"),
        ),
        sections=(
            record(
                "sections",
                section_id="LTHW-F-R2",
                system_id="LTHW-F",
                name="Heating flow riser 2, levels 1 to 5",
                flow="up",
                level="1 to 5",
                location="Riser cupboard 2, left of the door",
                access="Key from the front desk",
                from_node="V-2-014",
                to_node="V-2-031",
                installed_on=day(2026, 3, 2),
                status="in_service",
                drawing="HTG-L02-104",
            ),
            record("sections", section_id="GAS-B1", system_id="GAS", name="Gas to the kitchen", sensitive=True),
            record("sections", section_id="X?", name=None),
        ),
        tubes=(
            record("tubes", section_id="LTHW-F-R2", material="copper", od_mm=54.0, wall_mm=1.2, length_m=12.5),
            record(
                "tubes",
                raw={"od_mm": "22mm"},
                section_id="LTHW-F-R2",
                material="copper",
                od_mm=22.0,
                wall_mm=0.9,
                length_m=3.0,
            ),
            record("tubes", section_id="GAS-B1", material="carbon_steel", od_mm=28.0),
        ),
        nodes=(
            record(
                "nodes",
                node_id="V-2-014",
                kind="valve",
                system_id="LTHW-F",
                name="Riser 2 isolating valve",
                close_by="Clockwise, quarter turn",
            ),
        ),
        joints=tuple(
            record(
                "joints",
                raw={"press_date": "02/03/2026", "od_mm": "54mm"},
                joint_id=f"LTHW-F-R2-J{n:03}",
                section_id="LTHW-F-R2",
                level="2",
                fitting_kind="elbow",
                od_mm=54.0,
                joint_type="press",
                material_tube="copper",
                operative_id="OP-03",
                tool_id="PT-02",
                press_date=day(2026, 3, 2),
                pressed_check=n % 2 == 0 or None,
                status="checked",
            )
            for n in range(1, 7)
        ),
        tests=(
            record(
                "tests",
                test_id="PT-014",
                attempt=1,
                stage="strength",
                section_ids=("LTHW-F-R2",),
                date=day(2026, 3, 9),
                result="pass",
                medium="water",
                required_pressure_bar=4.5,
                start_pressure_bar=4.6,
                end_pressure_bar=4.6,
                instrument_id="G-01",
                tester="OP-09",
                witness="W. Itness",
                certificate_no="TC-0142",
            ),
        ),
        instruments=(record("instruments", instrument_id="G-01", kind="gauge", serial="GA-50117", range_max_bar=16.0),),
        calibrations=(
            record("calibrations", instrument_id="G-01", calibrated_on=day(2026, 1, 8), certificate_no="CAL-7731"),
        ),
        tools=(record("tools", tool_id="PT-02", kind="press_tool", serial="T-88231"),),
        operatives=(
            record("operatives", operative_id="OP-03", name="Ada Press", initials="A.P.", role="Pipefitter"),
            record("operatives", operative_id="OP-09", name="Bo Check", initials="B.C.", role="Supervisor"),
        ),
        findings=(
            Finding(
                RULE,
                Answer.FAIL,
                "Joint LTHW-F-R2-J006 was pressed on 12 May by Ada Press; the only strength test was on 9 March.",
                "Test the section again.",
                Subject("section", "LTHW-F-R2"),
                SourceLocation("records/joints.csv", "", 7, "U", "press_date"),
                section_ids=("LTHW-F-R2",),
            ),
        ),
        runs=(CheckRun(RULE, 3, 1, 1, 0),),
        repairs=(Repair(SourceLocation("records/tubes.csv", "", 3, "C"), "tubes", "od_mm", "22mm", "22", "unit sign"),),
        set_aside=(SetAside(SourceLocation("records/joints.csv", "", 9), "joints", "sub-total", "Total;6"),),
        accounts=(SourceAccount("records/joints.csv", "", "joints", 7, 6, 1, 6, "ab" * 32),),
    )


@pytest.fixture
def finding_rule() -> Rule:
    """An example of a rule, for findings made in a test."""
    return RULE


Pages = Iterator[tuple[str, str]]
