"""The export must be a valid data package, whatever the records hold, and must say what the pages show."""

from __future__ import annotations

import csv
import dataclasses
import datetime
import json
import math
from pathlib import Path
from typing import Any

import pytest
from frictionless import Package

from witnessmark.checks.judgement import collect
from witnessmark.model.contract import TABLE_NAMES, contract
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project, Records, Repair, SetAside, SourceAccount
from witnessmark.model.records import RECORD_CLASSES, Record
from witnessmark.model.settings import GuaranteeTerms, Issue, ProjectSettings, TagSettings
from witnessmark.model.source import RowSource, SourceLocation, SourceTable
from witnessmark.pack.csv_writer import NumberWithoutValue, unguard_text
from witnessmark.pack.data_export import export_data
from witnessmark.pipeline import Outcome as PipelineOutcome
from witnessmark.workings.work import work

Rows = list[dict[str, str]]


def record(table: str, row: int = 2, **fields: Any) -> Any:
    """A record of a table; fields not given are not known."""
    cls = RECORD_CLASSES[table]
    source = RowSource(SourceTable(f"records/{table}.csv", "", {}, ()), row, ())
    blank: dict[str, Any] = {f.name: None for f in dataclasses.fields(cls) if f.name != "source"}
    blank |= {field.name: () for field in contract()[table].fields if field.reads == "refs"}
    if table == "joints":
        blank["recorded_as_end"] = True
    return cls(source=source, **(blank | fields))


REPAIR = Repair(SourceLocation("records/joints.csv", "", 7, "D", "size"), "joints", "od_mm", "22mm", "22", "unit in it")


def outcome(findings: list[Finding] | None = None, **tables: list[Record]) -> PipelineOutcome:
    """A judged project of the given records."""
    settings = ProjectSettings(
        id="QW",
        name="Quarry Wharf",
        time_zone="Europe/London",
        issue=Issue("P02", datetime.date(2026, 6, 1)),
        tags=TagSettings("pipes.quarry-wharf.example", "block/b"),
        guarantee={"copper": GuaranteeTerms("copper", 10, "commissioning", register_within_days=30)},
    )
    project = Project(
        folder=Path(),
        settings=settings,
        records=Records(**{name: tuple(rows) for name, rows in tables.items()}),
        repairs=(
            Repair(SourceLocation("records/joints.csv", "", 7, "D", "size"), "joints", "od_mm", "22mm", "22", ""),
        ),
        set_aside=(SetAside(SourceLocation("records/joints.csv", "", 9), "joints", "a total", "=SUM(A1)"),),
        accounts=(SourceAccount("records/joints.csv", "", "joints", 5, 4, 1, 8, "ab" * 32),),
    )
    return PipelineOutcome(project, work(project), collect((), findings or []))


RULE = Rule("tool-unknown", "Is every tool in the register?", Severity.WEAKENS, "Add it.", "Contractor", "", "", "")


def quarry_wharf() -> PipelineOutcome:
    """Two sections, conflicting joint rows, a tool that no register has, a formula as an id, an unknown length."""
    section = "=HEAT-1"
    return outcome(
        findings=[
            Finding(RULE, Outcome.FAIL, "Tool PT-99 is in no register.", "Add it.", Subject("tool", "PT-99"),
                    SourceLocation("records/joints.csv", "", 3, "S", "tool"), section_ids=(section, "GONE")),
            Finding(RULE, Outcome.CANNOT_TELL, "Cannot tell.", "Say.", Subject("test", "PT-1"), section_ids=("S-2",)),
        ],
        systems=[record("systems", system_id="LTHW", name="Heating", service="heating_flow", medium="water",
                        max_operating_pressure_bar=3.0, max_temperature_c=80.0, potable=False)],
        sections=[
            record("sections", section_id=section, system_id="LTHW", commissioned_on=datetime.date(2026, 5, 4),
                   from_node="V-1", to_node="V-404", concealed=True),
            record("sections", row=3, section_id="S-2", system_id="LTHW", max_operating_pressure_bar=1.5),
        ],
        tubes=[
            record("tubes", section_id=section, material="copper", od_mm=22.0, wall_mm=0.9, length_m=12.5),
            record("tubes", row=3, section_id=section, material="copper", od_mm=22.0, wall_mm=0.9, length_m=0.1),
            record("tubes", row=4, section_id="S-2", material="copper", od_mm=28.0, length_m=3.0),
        ],
        nodes=[record("nodes", node_id="V-1", kind="valve")],
        joints=[
            record("joints", joint_id="J1", section_id=section, tool_id="PT-1", press_time=datetime.time(7, 5, 30),
                   remarks="@cmd\x07 ﬁrst", press_date=datetime.date(2026, 3, 2)),
            record("joints", row=3, joint_id="J1", section_id=section, tool_id="PT-99"),
            record("joints", row=4, joint_id="J2", recorded_as_end=False),
        ],
        tools=[record("tools", tool_id="PT-1", kind="press_tool")],
        tests=[record("tests", test_id="PT-1", attempt=1, stage="strength", section_ids=(section, "S-2", "GONE"),
                      start_pressure_bar=6.0, end_pressure_bar=5.5, topped_up=False)],
        tags=[record("tags", code="2222222", section_id="S-2", first_issue="P01"),
              record("tags", code="3333333", section_id="GONE", first_issue="P01")],
    )  # fmt: skip


def rows(folder: Path, name: str) -> Rows:
    """Rows of an exported table as their texts."""
    with (folder / f"{name}.csv").open(encoding="utf-8-sig", newline="") as stream:
        return [{k: unguard_text(v) for k, v in row.items()} for row in csv.DictReader(stream)]


def errors_of(folder: Path) -> list[Any]:
    """What the frictionless library has to say against the package: types, constraints, primary and foreign keys."""
    return list(Package(str(folder / "datapackage.json")).validate().flatten(["type", "note"]))


def test_package_with_conflicts_and_dangling_references_is_valid_with_all_its_keys(tmp_path: Path) -> None:
    export_data(quarry_wharf(), tmp_path)
    assert errors_of(tmp_path) == []


def test_package_without_any_record_is_valid(tmp_path: Path) -> None:
    export_data(outcome(), tmp_path)
    assert errors_of(tmp_path) == []


@pytest.mark.parametrize(("name", "before", "after"), [
    ("joints", "records/joints.csv,,2", "records/joints.csv,,two"),
    ("tools", "PT-1,press_tool", "PT-7,press_tool"),
    ("systems", "LTHW,Heating", "LTHW-X,Heating"),
])  # fmt: skip
def test_validation_would_notice_a_broken_type_or_key(tmp_path: Path, name: str, before: str, after: str) -> None:
    export_data(quarry_wharf(), tmp_path)
    path = tmp_path / f"{name}.csv"
    text = path.read_text(encoding="utf-8")
    assert before in text
    path.write_text(text.replace(before, after), encoding="utf-8")
    assert errors_of(tmp_path) != []


def test_every_contract_field_is_exported_with_its_type_unit_and_choices(tmp_path: Path) -> None:
    export_data(quarry_wharf(), tmp_path)
    for name in TABLE_NAMES:
        schema = json.loads((tmp_path / f"{name}.schema.json").read_text(encoding="utf-8"))
        exported = {field["name"]: field for field in schema["fields"]}
        for field in contract()[name].fields:
            own = exported[field.name]
            assert (own["type"], own.get("unit", "")) == (field.type, field.unit)
            constraints = own.get("constraints", {})
            assert constraints.get("enum", []) == list(field.enum)
            assert (constraints.get("minimum"), constraints.get("maximum")) == (field.minimum, field.maximum)
        with (tmp_path / f"{name}.csv").open(encoding="utf-8-sig", newline="") as stream:
            assert next(csv.reader(stream)) == list(exported)


def test_every_column_is_described(tmp_path: Path) -> None:
    export_data(quarry_wharf(), tmp_path)
    guide = (tmp_path / "DATA.md").read_text(encoding="utf-8")
    for path in tmp_path.glob("*.schema.json"):
        for field in json.loads(path.read_text(encoding="utf-8"))["fields"]:
            assert field["description"], (path.name, field["name"])
            assert f"| `{field['name']}` |" in guide


def test_records_that_contradict_each_other_are_both_there_and_told_apart(tmp_path: Path) -> None:
    export_data(quarry_wharf(), tmp_path)
    assert [(r["record"], r["joint_id"], r["source_row"]) for r in rows(tmp_path, "joints")] == [
        ("joints-000001", "J1", "2"), ("joints-000002", "J1", "3"), ("joints-000003", "J2", "4"),
    ]  # fmt: skip


def test_a_reference_that_no_register_has_is_kept_beside_the_column(tmp_path: Path) -> None:
    export_data(quarry_wharf(), tmp_path)
    joint = rows(tmp_path, "joints")[1]
    assert (joint["tool_id"], joint["tool_id_unresolved"]) == ("", "PT-99")
    relation = rows(tmp_path, "test_sections")
    assert [(r["test_record"], r["section_id"], r["section_id_unresolved"]) for r in relation] == [
        ("tests-000001", "=HEAT-1", ""), ("tests-000001", "S-2", ""), ("tests-000001", "", "GONE"),
    ]  # fmt: skip


def test_cells_are_written_as_the_guide_says(tmp_path: Path) -> None:
    export_data(quarry_wharf(), tmp_path)
    raw = (tmp_path / "joints.csv").read_bytes()
    assert raw.startswith(b"record,")
    assert b"'@cmd" in raw
    assert b"''@cmd" not in raw
    first, *_, last = rows(tmp_path, "joints")
    assert (first["press_time"], first["press_date"], first["remarks"]) == ("07:05", "2026-03-02", "@cmd␇ ﬁrst")
    assert (first["recorded_as_end"], last["recorded_as_end"]) == ("yes", "no")
    assert rows(tmp_path, "systems")[0]["potable"] == "no"


def test_figures_of_a_section_are_full_and_what_is_missing_is_named(tmp_path: Path) -> None:
    # Content of 22 x 0.9 mm copper tube by geometry: pi/4 * 20.2^2 mm2 = 320.474 mm2, over 12.6 m 4.03797 l.
    export_data(quarry_wharf(), tmp_path)
    known, unknown = rows(tmp_path, "sections")
    assert float(known["length_m"]) == pytest.approx(12.6)
    assert float(known["content_l"]) == pytest.approx(math.pi / 4 * 20.2**2 * 12.6 / 1000, rel=1e-12)
    assert (known["bore_mm"], known["largest_od_mm"], known["content_l_missing"]) == ("20.2", "22.0", "")
    assert (known["used_max_pressure_bar"], unknown["used_max_pressure_bar"]) == ("3.0", "1.5")
    assert (known["used_max_temperature_c"], known["materials"]) == ("80.0", "copper")
    assert known["copper_guarantee_ends_on"] == known["first_guarantee_ends_on"]
    assert known["copper_guarantee_ends_on"].startswith("2036-05-")
    assert unknown["content_l"] == ""
    assert "the wall" in unknown["content_l_missing"]
    assert unknown["copper_guarantee_ends_on"] == ""
    assert "commissioning" in unknown["copper_guarantee_missing"]
    assert known["stainless_steel_guarantee_missing"] == ""
    counts = ("joint_count", "test_stage_count", "findings_breaks", "findings_weakens", "findings_tidy")
    assert [known[name] for name in counts] == ["2", "1", "0", "1", "0"]
    assert unknown["tag_address"] == "HTTPS://PIPES.QUARRY-WHARF.EXAMPLE/BLOCK/B/T/2222222/"


def test_sums_of_a_system_are_there_or_say_what_is_missing(tmp_path: Path) -> None:
    export_data(quarry_wharf(), tmp_path)
    (system,) = rows(tmp_path, "systems")
    assert system["section_count"] == "2"
    assert float(system["length_m"]) == pytest.approx(15.6)
    assert system["content_l"] == ""
    assert "the wall" in system["content_l_missing"]


def test_figures_of_a_test_stand_behind_its_record(tmp_path: Path) -> None:
    export_data(quarry_wharf(), tmp_path)
    (stage,) = rows(tmp_path, "tests")
    assert (stage["pressure_drop_bar"], stage["section_count"], stage["joint_count"]) == ("0.5", "3", "2")
    assert stage["findings_weakens"] == "1"
    assert list(stage).index("remarks") < list(stage).index("source_file") < list(stage).index("pressure_drop_bar")


def test_ledgers_say_what_became_of_every_row(tmp_path: Path) -> None:
    export_data(quarry_wharf(), tmp_path)
    (account,) = rows(tmp_path, "accounts")
    assert int(account["rows_in"]) == int(account["rows_used"]) + int(account["rows_set_aside"])
    assert rows(tmp_path, "set_aside")[0]["raw"] == "=SUM(A1)"
    repair = rows(tmp_path, "repairs")[0]
    assert (repair["raw"], repair["read"], repair["source_row"], repair["source_column"]) == ("22mm", "22", "7", "D")
    assert [(f["slug"], f["outcome"], f["source_row"]) for f in rows(tmp_path, "findings")] == [
        ("tool-unknown", "fail", "3"), ("tool-unknown", "cannot tell", ""),
    ]  # fmt: skip
    assert [r["section_id"] + r["section_id_unresolved"] for r in rows(tmp_path, "finding_sections")] == [
        "=HEAT-1", "GONE", "S-2",
    ]  # fmt: skip


def test_tags_hold_old_codes_and_those_given_now(tmp_path: Path) -> None:
    export_data(quarry_wharf(), tmp_path)
    tags = rows(tmp_path, "tags")
    assert [(t["section_id"], t["in_use"], t["first_issue"]) for t in tags] == [
        ("S-2", "yes", "P01"), ("GONE", "no", "P01"), ("=HEAT-1", "yes", "P02"),
    ]  # fmt: skip


def test_the_same_project_gives_the_same_bytes(tmp_path: Path) -> None:
    for name in ("a", "b"):
        export_data(quarry_wharf(), tmp_path / name)
    assert {p.name: p.read_bytes() for p in (tmp_path / "a").iterdir()} == {
        p.name: p.read_bytes() for p in (tmp_path / "b").iterdir()
    }


def test_a_number_that_is_none_is_refused(tmp_path: Path) -> None:
    with pytest.raises(NumberWithoutValue, match="od_mm"):
        export_data(outcome(tubes=[record("tubes", section_id="S", od_mm=math.nan)]), tmp_path)


LONGEST_ID: int = contract()["systems"].schema["fields"][0]["constraints"]["maxLength"]
HOSTILE: dict[str, str] = {
    "markup": "<b>&amp;</b>", "quotes": "\"a\" 'b'", "emoji": "\U0001f525", "marks": "\u202eabc\u202c",
    "control": "a\x00b\x1b", "formula": "=1+1", "guarded formula": "'=1+1", "line break": "a\r\nb\nc\rd",
    "longest id": "=" + "W" * (LONGEST_ID - 1), "lone surrogate": "a\ud800", "separator": "a;b,c\td",
}  # fmt: skip


def test_no_text_breaks_the_package(tmp_path: Path) -> None:
    keys = {text: text.replace("\ud800", "\ufffd") for text in HOSTILE.values()}
    export_data(
        outcome(
            systems=[record("systems", system_id=key, name=text) for text, key in keys.items()],
            sections=[record("sections", section_id=key, system_id=key, remarks=text) for text, key in keys.items()],
            joints=[record("joints", joint_id=text, section_id=key, tool_id=text) for text, key in keys.items()],
            tests=[record("tests", test_id=t, attempt=1, stage="leak", section_ids=(t,)) for t in HOSTILE.values()],
            findings=[
                Finding(RULE, Outcome.FAIL, text, text, Subject("joint", text), SourceLocation(text, text, 3))
                for text in HOSTILE.values()
            ],
        ),
        tmp_path,
    )
    assert errors_of(tmp_path) == []
    assert [row["system_id"] for row in rows(tmp_path, "systems")] == [shown(key) for key in keys.values()]


def shown(text: str) -> str:
    """A text with its control characters as their pictures."""
    return text.replace("\x00", "␀").replace("\x1b", "␛")


def test_figures_of_the_engineering_are_exported_in_full_with_their_units(tmp_path: Path) -> None:
    project = outcome(
        systems=[record("systems", system_id="H", service="heating_flow", medium="water",
                        max_operating_pressure_bar=3.0, max_temperature_c=80.0, min_temperature_c=10.0)],
        sections=[record("sections", section_id="S1", system_id="H", system_family="F", seal="EPDM",
                         elevation_low_m=0.0, elevation_high_m=20.0)],
        tubes=[record("tubes", section_id="S1", material="copper", od_mm=22.0, wall_mm=0.9, length_m=12.5)],
        ratings=[record("ratings", row=row, rating_id=f"R-{part}", component=part, temperature_c=celsius,
                        pressure_bar=16.0)
                 for row, (part, celsius) in enumerate(
                     [("fitting", -20.0), ("fitting", 110.0), ("seal", -20.0), ("seal", 110.0)], start=2)],
        tests=[record("tests", test_id="PT-1", attempt=1, stage="strength", section_ids=("S1",), medium="water",
                      procedure="water_1.5_mop", start_pressure_bar=6.5, gauge_elevation_m=0.0, pipe_start_c=12.0)],
    )  # fmt: skip
    export_data(project, tmp_path)
    assert errors_of(tmp_path) == []
    section, stage, tube = (rows(tmp_path, name)[0] for name in ("sections", "tests", "tubes"))
    rating, verdict = project.workings.ratings["S1"], next(iter(project.workings.verdicts.values()))
    assert float(section["operating_rating_bar"]) == rating.operating.rating_bar.value == 16.0
    assert float(section["static_head_bar"]) == rating.static_head_bar.value
    assert section["upset_rating_bar"] == ""
    assert "upset temperature" in section["upset_missing"]
    assert section["seal_outcome"] == "cannot tell"
    assert float(tube["expansion_mm"]) == project.workings.aids["S1"].sizes[0].expansion_mm.value
    assert float(stage["highest_point_bar"]) == verdict.highest_point_bar.value
    assert (stage["question_readings"], stage["question_hold"]) == ("fail", "cannot tell")
    units = {
        field["name"]: field.get("unit")
        for field in json.loads((tmp_path / "tests.schema.json").read_text(encoding="utf-8"))["fields"]
    }
    assert (units["highest_point_bar"], units["smallest_leak_with_air_ml_min"]) == ("bar", "mL/min")
