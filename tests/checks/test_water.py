"""Questions on flushing, filling, treatment and samples: what fires, on which day, and what stays silent."""

import csv
import dataclasses
import datetime
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

import witnessmark.checks.registry as registry
from witnessmark.checks.water.water_limits import water_limits
from witnessmark.model.bundled import shared_path
from witnessmark.model.finding import Finding, Outcome
from witnessmark.model.project import Project, Records
from witnessmark.model.settings import ProjectSettings
from witnessmark.model.threshold import thresholds
from witnessmark.workings.work import work

Ask = Callable[..., list[Finding]]
DAY = datetime.date
HEATING: dict[str, list[dict[str, Any]]] = {
    "systems": [{"system_id": "H", "name": "Heating", "service": "heating_flow", "medium": "treated_water"}],
    "sections": [{"section_id": "H1", "system_id": "H", "commissioned_on": DAY(2026, 5, 4)}],
    "tubes": [
        {"section_id": "H1", "material": "carbon_steel", "od_mm": 54.0, "wall_mm": 1.5, "length_m": 20.0},
        {"section_id": "H1", "material": "carbon_steel", "od_mm": 108.0, "wall_mm": 2.0, "length_m": 5.0},
    ],
    "tests": [
        {
            "test_id": "PT-1", "attempt": 1, "stage": "strength", "section_ids": ("H1",), "date": DAY(2026, 3, 9),
            "result": "pass",
        }
    ],
    "flushings": [
        {
            "flushing_id": "FL-1", "kind": "flush", "section_ids": ("H1",), "date": DAY(2026, 3, 9), "flow_l_s": 8.6,
            "result": "pass",
        }
    ],
    "treatments": [
        {"treatment_id": "WT-1", "kind": "fill", "system_id": "H", "date": DAY(2026, 3, 9)},
        {"treatment_id": "WT-2", "kind": "dose", "system_id": "H", "date": DAY(2026, 3, 23)},
        {"treatment_id": "WT-3", "kind": "sample", "system_id": "H", "date": DAY(2026, 4, 2), "ph": 8.2, "result": "in_limits"},
        {
            "treatment_id": "WT-4", "kind": "circulation", "system_id": "H", "from_date": DAY(2026, 3, 30),
            "date": DAY(2026, 4, 27), "hours_per_day": 1.0,
        },
    ],
}  # fmt: skip
POTABLE: dict[str, list[dict[str, Any]]] = {
    "systems": [{"system_id": "B", "name": "Cold water", "service": "boosted_cold_water", "medium": "drinking_water"}],
    "sections": [{"section_id": "B1", "system_id": "B", "commissioned_on": DAY(2026, 5, 4)}],
    "tubes": [{"section_id": "B1", "material": "copper", "od_mm": 54.0, "wall_mm": 1.2, "length_m": 20.0}],
    "tests": [
        {
            "test_id": "PT-1", "attempt": 1, "stage": "strength", "section_ids": ("B1",), "date": DAY(2026, 3, 9),
            "result": "pass",
        }
    ],
    "flushings": [
        {
            "flushing_id": "FL-1", "kind": "flush", "section_ids": ("B1",), "date": DAY(2026, 3, 10), "velocity_m_s": 2.0,
            "water_changes": 20.0, "result": "pass",
        },
        {
            "flushing_id": "FL-2", "kind": "disinfection", "section_ids": ("B1",), "date": DAY(2026, 4, 20),
            "concentration_mg_l": 50.0, "contact_min": 60.0, "neutralised": True, "result": "pass",
        },
    ],
    "treatments": [
        {
            "treatment_id": "WT-1", "kind": "sample", "system_id": "B", "date": DAY(2026, 4, 20), "laboratory": "LAB-1",
            "accreditation_no": "ACC-1", "legionella_cfu_l": 0.0, "result": "in_limits",
        }
    ],
}  # fmt: skip
_LISTS = {"tests": "section_ids", "flushings": "section_ids", "treatments": "section_ids"}


@pytest.fixture
def ask(record: Any, settings: ProjectSettings) -> Ask:
    """Puts one question to records: tables, changes of single rows by id (``None`` takes the row out), settings."""

    def put(
        slug: str,
        tables: dict[str, list[dict[str, Any]]],
        changes: dict[str, dict[str, Any] | None] | None = None,
        **setting: Any,
    ) -> list[Finding]:
        changes = changes or {}
        made: dict[str, Any] = {}
        for table, rows in tables.items():
            kept = []
            for row in rows:
                name = str(next(iter(row.values())))
                change = changes.get(name, {})
                if change is None:
                    continue
                full = {**({_LISTS[table]: ()} if table in _LISTS else {}), **row, **change}
                kept.append(record(table, **full))
            made[table] = tuple(kept)
        project = Project(Path(), dataclasses.replace(settings, **setting), Records(**made))
        check = next(check for check in registry.CHECKS if check.rule.slug == slug)
        return list(check.run(project, work(project)).findings)

    return put


WATER = [check.rule.slug for check in registry.CHECKS if ".checks.water." in check.run.__module__]


@pytest.mark.parametrize("slug", WATER)
@pytest.mark.parametrize("tables", [HEATING, POTABLE], ids=["heating", "potable"])
def test_sound_records_give_no_finding(slug: str, tables: dict[str, list[dict[str, Any]]], ask: Ask) -> None:
    assert ask(slug, tables) == []


@pytest.mark.parametrize("slug", WATER)
@pytest.mark.parametrize("medium", ["natural_gas", "compressed_air", "nitrogen", "condensate"])
def test_nothing_is_asked_of_gas_and_air(slug: str, medium: str, ask: Ask) -> None:
    tables = {**HEATING, "flushings": [], "treatments": []}
    assert ask(slug, tables, {"H": {"medium": medium, "service": "other"}}) == []


@pytest.mark.parametrize("slug", WATER)
def test_empty_tables_are_no_crash(slug: str, ask: Ask) -> None:
    assert ask(slug, {}) == []


@pytest.mark.parametrize(
    ("slug", "tables", "changes", "subject", "outcome", "words"),
    [
        ("section-not-flushed", HEATING, {"FL-1": None}, "H", Outcome.CANNOT_TELL, "any row in the flushing table"),
        ("section-not-flushed", HEATING, {"FL-1": {"date": None}}, "H", Outcome.CANNOT_TELL, "the day of flush FL-1"),
        ("flushed-before-the-test", HEATING, {"FL-1": {"date": DAY(2026, 3, 8)}}, "FL-1", Outcome.FAIL, "8 March 2026"),
        ("treated-before-flushing", HEATING, {"FL-1": {"date": DAY(2026, 3, 24)}}, "WT-2", Outcome.FAIL, "24 March 2026"),
        ("flush-failed", HEATING, {"FL-1": {"result": "fail"}}, "FL-1", Outcome.FAIL, "failed on 9 March 2026"),
        ("flush-failed", HEATING, {"FL-1": {"result": None}}, "FL-1", Outcome.CANNOT_TELL, "no result"),
        ("flush-too-slow", HEATING, {"FL-1": {"flow_l_s": 4.1}}, "FL-1", Outcome.FAIL, "in the 108 mm pipe"),
        ("flush-too-slow", HEATING, {"FL-1": {"flow_l_s": None}}, "FL-1", Outcome.CANNOT_TELL, "neither a flow nor"),
        ("flush-too-slow", POTABLE, {"FL-1": {"velocity_m_s": 1.5}}, "FL-1", Outcome.FAIL, "at least 2 m/s"),
        (
            "flush-velocity-not-of-its-flow", HEATING, {"FL-1": {"velocity_m_s": 2.0}}, "FL-1", Outcome.FAIL,
            "says 2 m/s; its 8.6 L/s are 1.01 m/s",
        ),
        ("flushed-with-too-few-changes", POTABLE, {"FL-1": {"water_changes": 19.0}}, "FL-1", Outcome.FAIL, "19 times"),
        ("flushed-with-too-few-changes", POTABLE, {"FL-1": {"water_changes": None}}, "FL-1", Outcome.CANNOT_TELL, "how many"),
        ("treatment-not-recorded", HEATING, {"WT-2": None}, "H", Outcome.CANNOT_TELL, "a dose"),
        (
            "treatment-not-recorded", HEATING, {"WT-1": {"date": DAY(2026, 4, 1)}}, "H", Outcome.CANNOT_TELL,
            "after the filling WT-1 of 1 April 2026",
        ),
        ("filled-long-before-treatment", HEATING, {"WT-2": {"date": DAY(2026, 4, 27)}}, "H", Outcome.FAIL, "49 days later"),
        ("water-not-sampled", HEATING, {"WT-3": None}, "H", Outcome.CANNOT_TELL, "a sample with its day"),
        ("water-not-sampled", HEATING, {"WT-3": {"date": DAY(2026, 3, 22)}}, "H", Outcome.CANNOT_TELL, "after the dose WT-2"),
        ("water-out-of-limits", HEATING, {"WT-3": {"ph": 7.1}}, "WT-3", Outcome.FAIL, "pH 7.1, where 8.2 to 10"),
        ("water-out-of-limits", HEATING, {"WT-3": {"result": "out_of_limits"}}, "WT-3", Outcome.FAIL, "by its report"),
        ("water-out-of-limits", HEATING, {"WT-3": {"result": None, "ph": None}}, "WT-3", Outcome.CANNOT_TELL, "neither"),
        ("circulation-not-kept-up", HEATING, {"WT-4": None}, "H", Outcome.CANNOT_TELL, "a circulation record"),
        (
            "circulation-not-kept-up", HEATING, {"WT-4": {"date": DAY(2026, 4, 26)}}, "H", Outcome.FAIL,
            "from 26 April 2026 to 4 May 2026, 8 days",
        ),
        ("circulation-not-kept-up", HEATING, {"WT-4": {"hours_per_day": 0.5}}, "WT-4", Outcome.FAIL, "0.5 h a day"),
        ("circulation-not-kept-up", HEATING, {"WT-4": {"hours_per_day": None}}, "WT-4", Outcome.CANNOT_TELL, "how many"),
        ("potable-not-disinfected", POTABLE, {"FL-2": None}, "B", Outcome.CANNOT_TELL, "a disinfection with its day"),
        ("potable-not-disinfected", POTABLE, {"FL-2": {"date": DAY(2026, 3, 8)}}, "FL-2", Outcome.FAIL, "PT-1"),
        ("potable-not-disinfected", POTABLE, {"FL-2": {"date": DAY(2026, 5, 5)}}, "FL-2", Outcome.FAIL, "commissioned"),
        ("disinfection-too-weak", POTABLE, {"FL-2": {"concentration_mg_l": 20.0}}, "FL-2", Outcome.FAIL, "20 mg/L"),
        ("disinfection-too-weak", POTABLE, {"FL-2": {"neutralised": False}}, "FL-2", Outcome.FAIL, "rinsed out"),
        ("disinfection-too-weak", POTABLE, {"FL-2": {"contact_min": None}}, "FL-2", Outcome.CANNOT_TELL, "contact time"),
        ("disinfection-not-sampled", POTABLE, {"WT-1": None}, "B", Outcome.CANNOT_TELL, "a sample after"),
        ("disinfection-not-sampled", POTABLE, {"WT-1": {"date": DAY(2026, 5, 5)}}, "WT-1", Outcome.FAIL, "5 May 2026"),
        ("disinfection-not-sampled", POTABLE, {"WT-1": {"accreditation_no": None}}, "WT-1", Outcome.CANNOT_TELL, "accreditation"),
        ("legionella-found", POTABLE, {"WT-1": {"legionella_cfu_l": 1.0}}, "WT-1", Outcome.FAIL, "1 cfu/L"),
        ("legionella-found", POTABLE, {"WT-1": {"legionella_cfu_l": None}}, "B", Outcome.CANNOT_TELL, "no legionella count"),
    ],
)  # fmt: skip
def test_one_fault_is_found_and_told(
    slug: str,
    tables: dict[str, list[dict[str, Any]]],
    changes: dict[str, dict[str, Any] | None],
    subject: str,
    outcome: Outcome,
    words: str,
    ask: Ask,
) -> None:
    findings = ask(slug, tables, changes)
    assert [(f.subject.id, f.outcome) for f in findings] == [(subject, outcome)]
    assert words in findings[0].message
    assert findings[0].section_ids


def test_a_section_left_full_by_a_test_is_no_filling(ask: Ask) -> None:
    """What a test left is asked about once, by the question on tests."""
    changes: dict[str, Any] = {
        "WT-1": None, "PT-1": {"made_safe": "left_full_untreated"}, "WT-2": {"date": DAY(2026, 4, 27)},
    }  # fmt: skip
    assert ask("filled-long-before-treatment", HEATING, changes) == []
    assert len(ask("left-full-untreated", HEATING, changes)) == 1


def test_draining_and_drying_ends_the_count(ask: Ask) -> None:
    tables = {
        **HEATING,
        "tests": [
            *HEATING["tests"],
            {**HEATING["tests"][0], "attempt": 2, "date": DAY(2026, 3, 12), "made_safe": "drained_dried"},
        ],
    }
    changes: dict[str, Any] = {"WT-2": {"date": DAY(2026, 4, 27)}}
    assert ask("filled-long-before-treatment", tables, changes) == []


def test_fourteen_days_are_allowed_and_fifteen_are_not(ask: Ask) -> None:
    """14 days: common practice, no published source; project.yml may say otherwise."""
    late: dict[str, Any] = {"WT-2": {"date": DAY(2026, 3, 24)}}
    assert ask("filled-long-before-treatment", HEATING) == []
    assert len(ask("filled-long-before-treatment", HEATING, late)) == 1
    assert ask("filled-long-before-treatment", HEATING, late, thresholds={"fill-to-treatment-days": 15}) == []


def test_copper_alone_is_not_asked_how_long_it_stood(ask: Ask) -> None:
    tables = {**HEATING, "tubes": [{**row, "material": "copper"} for row in HEATING["tubes"]]}
    assert ask("filled-long-before-treatment", tables, {"WT-2": {"date": DAY(2026, 4, 27)}}) == []


def test_a_later_clear_sample_at_the_same_place_ends_legionella(ask: Ask) -> None:
    found = {**POTABLE["treatments"][0], "legionella_cfu_l": 300.0, "sample_point": "Basin 2.04"}
    clear = {**found, "treatment_id": "WT-2", "date": DAY(2026, 4, 28), "legionella_cfu_l": 0.0}
    elsewhere = {**clear, "sample_point": "Basin 3.11"}
    assert ask("legionella-found", {**POTABLE, "treatments": [clear, found]}) == []
    still = ask("legionella-found", {**POTABLE, "treatments": [elsewhere, found]})
    assert [f.subject.id for f in still] == ["WT-1"]
    assert "'Basin 2.04'" in still[0].message


def test_glycol_is_held_against_the_designed_share(ask: Ask) -> None:
    weak: dict[str, Any] = {"H": {"glycol_percent": 30.0, "medium": "glycol_water"}, "WT-3": {"glycol_percent": 27.9}}
    assert [f.outcome for f in ask("glycol-below-design", HEATING, weak)] == [Outcome.FAIL]
    weak["WT-3"] = {"glycol_percent": 28.0}
    assert ask("glycol-below-design", HEATING, weak) == []
    weak["WT-3"] = {}
    assert [f.outcome for f in ask("glycol-below-design", HEATING, weak)] == [Outcome.CANNOT_TELL]


def test_one_metre_a_second_in_108_mm_tube_is_eight_and_a_half_litres_a_second(ask: Ask) -> None:
    """Trade table of content: 8.49 L/m for stainless tube of 108 x 2 mm, so 8.49 L/s at 1 m/s."""
    assert ask("flush-too-slow", HEATING, {"FL-1": {"flow_l_s": 8.49}}) == []
    assert len(ask("flush-too-slow", HEATING, {"FL-1": {"flow_l_s": 8.4}})) == 1


def test_a_hot_water_circulation_is_no_closed_circuit(ask: Ask) -> None:
    """The same water goes round it, and people drink it."""
    changes: dict[str, Any] = {"B": {"service": "hot_water_return", "closed_circuit": True}}
    assert ask("treatment-not-recorded", POTABLE, changes) == []


def test_published_flushing_figures_are_the_defaults() -> None:
    """Commentary beside EN 806-4, 6.2.1: at least 2 m/s and 20 changes."""
    with shared_path("reference/flushing.csv").open(encoding="utf-8", newline="") as handle:
        published = {row["rule"]: float(row["value"]) for row in csv.DictReader(handle)}
    assert thresholds()["flush-velocity-drinking-water-m-s"].default == published["velocity"] == 2
    assert thresholds()["flush-water-changes"].default == published["changes"] == 20


def test_limits_of_heating_water_are_the_published_ones() -> None:
    """VDI 2035-2, low-salt water: pH 8.2 to 10.0, less than 0.1 mg/L of oxygen."""
    limits = {one.field: one for one in water_limits("heating_flow")}
    assert (limits["ph"].minimum, limits["ph"].maximum) == (8.2, 10)
    assert limits["oxygen_mg_l"].maximum == 0.1


def test_every_water_limit_says_where_it_stands() -> None:
    with shared_path("reference/water_limits.csv").open(encoding="utf-8", newline="") as handle:
        rows = list(csv.DictReader(handle))
    assert rows
    for row in rows:
        assert row["standing"] in ("published", "common practice", "from memory")
        assert row["source"]
        assert row["minimum"] or row["maximum"]
        if row["minimum"] and row["maximum"]:
            assert float(row["minimum"]) < float(row["maximum"])
