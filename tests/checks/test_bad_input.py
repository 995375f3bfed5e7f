"""Records that contradict themselves or are not there: findings, no crash, and nothing unproven shown as complete."""

import random
from collections.abc import Callable
from types import ModuleType
from typing import Any

import pytest

from witnessmark.checks.registry import CRASHED
from witnessmark.evidence.chain import ChainBook, ChainState
from witnessmark.intake.errors import UnusableProject
from witnessmark.pipeline import Outcome

Tables = dict[str, list[dict[str, str]]]
Settings = dict[str, Any]
Judged = Callable[..., Outcome]


def _contradicting_rows(tables: Tables, _settings: Settings) -> set[str]:
    row = tables["joints"][0]
    tables["joints"].append(
        {**row, "od_mm": "22" if row["od_mm"] != "22" else "28", "operative_id": "", "press_date": ""}
    )
    return {row["section_id"]}


def _a_joint_that_replaces_itself(tables: Tables, _settings: Settings) -> set[str]:
    row = tables["joints"][0]
    row["replaces_joint"] = row["joint_id"]
    return {row["section_id"]}


def _joints_that_replace_each_other(tables: Tables, _settings: Settings) -> set[str]:
    first, second, third = tables["joints"][:3]
    first["replaces_joint"], second["replaces_joint"], third["replaces_joint"] = (
        second["joint_id"],
        third["joint_id"],
        first["joint_id"],
    )
    return {first["section_id"], second["section_id"], third["section_id"]}


def _tests_that_name_no_section(tables: Tables, _settings: Settings) -> set[str]:
    for row in tables["tests"]:
        row["section_ids"] = "all of level 3"
    return {row["section_id"] for row in tables["sections"]}


def _presses_centuries_ago(tables: Tables, _settings: Settings) -> set[str]:
    for row in tables["joints"]:
        row["press_date"] = row["press_date"].replace("202", "182", 1)
    return {row["section_id"] for row in tables["joints"]}


def _tests_centuries_ahead(tables: Tables, _settings: Settings) -> set[str]:
    for row in tables["tests"]:
        row["date"] = row["date"].replace("202", "252", 1)
    return {row["section_id"] for row in tables["sections"]}


def _services_centuries_ahead(tables: Tables, _settings: Settings) -> set[str]:
    for row in tables["tool_services"]:
        row["serviced_on"], row["due_on"] = "2525-01-01", "2526-01-01"
    return {row["section_id"] for row in tables["joints"]}


def _one_person_presses_and_checks_everywhere(tables: Tables, _settings: Settings) -> set[str]:
    who = tables["joints"][0]["operative_id"]
    for row in tables["joints"]:
        row["operative_id"] = row["checker_id"] = who
    return {row["section_id"] for row in tables["joints"]}


def _half_the_tables_are_missing(tables: Tables, _settings: Settings) -> set[str]:
    for name in (
        "tests",
        "operatives",
        "trainings",
        "tools",
        "tool_services",
        "instruments",
        "calibrations",
        "batches",
        "documents",
        "valves",
        "flushings",
    ):
        del tables[name]
    return {row["section_id"] for row in tables["sections"]}


def _all_but_systems_and_sections_are_missing(tables: Tables, _settings: Settings) -> set[str]:
    for name in tables.keys() - {"systems", "sections"}:
        del tables[name]
    return {row["section_id"] for row in tables["sections"]}


def _nothing_but_joints_and_sections(tables: Tables, _settings: Settings) -> set[str]:
    for name in tables.keys() - {"joints", "sections"}:
        del tables[name]
    return {row["section_id"] for row in tables["sections"]}


def _no_settings_beyond_the_least(_tables: Tables, settings: Settings) -> set[str]:
    for name in settings.keys() - {"project", "issue", "tags"}:
        del settings[name]
    del settings["project"]["completion_date"]
    return {"LTHW-1", "CHW-1", "MCW-1", "CA-1"}


def _test_ends_before_it_begins(tables: Tables, _settings: Settings) -> set[str]:
    row = next(r for r in tables["tests"] if r["stage"] == "strength")
    row["start_time"], row["end_time"] = row["end_time"], row["start_time"]
    return set(row["section_ids"].split("; "))


def _two_stages_of_one_name_disagree(tables: Tables, _settings: Settings) -> set[str]:
    row = next(r for r in reversed(tables["tests"]) if r["stage"] == "strength")
    tables["tests"].append({**row, "result": "fail", "end_pressure_bar": "0.1"})
    return set()


BAD = {
    case.__name__.strip("_").replace("_", " "): case
    for case in (
        _contradicting_rows, _a_joint_that_replaces_itself, _joints_that_replace_each_other, _tests_that_name_no_section, _presses_centuries_ago,
        _tests_centuries_ahead, _services_centuries_ahead, _one_person_presses_and_checks_everywhere, _half_the_tables_are_missing,
        _all_but_systems_and_sections_are_missing, _nothing_but_joints_and_sections, _no_settings_beyond_the_least, _test_ends_before_it_begins,
        _two_stages_of_one_name_disagree,
    )
}  # fmt: skip


@pytest.mark.parametrize("case", BAD)
def test_bad_records_are_told_and_prove_nothing(case: str, sound: ModuleType, judged: Judged) -> None:
    tables, settings = sound.sound_records(21)
    sections = BAD[case](tables, settings)
    outcome = judged(21, tables, settings)
    chains = ChainBook(outcome.project, outcome.judgement)
    assert crashed(outcome) == []
    assert outcome.judgement.findings
    assert {name for name in sections if good(chains.section_states[name])} == set()
    assert not good(chains.pack.state)


def test_a_concession_for_an_unknown_check_waives_nothing(sound: ModuleType, judged: Judged) -> None:
    tables, settings = sound.sound_records(22)
    row = tables["joints"][0]
    row["operative_id"] = ""
    tables["concessions"][0] |= {"check": "operative-uknown", "subject": "", "section_ids": row["section_id"]}
    outcome = judged(22, tables, settings)
    assert crashed(outcome) == []
    assert any(f.subject.id == tables["concessions"][0]["concession_id"] for f in outcome.judgement.findings)
    assert not any(f.outcome.value == "waived" for f in outcome.judgement.findings)
    assert not good(ChainBook(outcome.project, outcome.judgement).section_states[row["section_id"]])


def test_two_concessions_that_disagree_waive_nothing(sound: ModuleType, judged: Judged) -> None:
    """One accepts that the operative is unknown and another refuses it: the stricter holds, and the disagreement is told."""
    tables, settings = sound.sound_records(23)
    row = tables["joints"][0]
    row["operative_id"] = ""
    accepted = tables["concessions"][0]
    accepted |= {"check": "operative-unknown", "subject": "", "section_ids": row["section_id"]}
    alone = judged(23, tables, settings)
    assert any(f.outcome.value == "waived" for f in alone.judgement.findings), "the first alone is in force"
    tables["concessions"].append({**accepted, "concession_id": "CN-900", "decision": "refused"})
    outcome = judged(23, tables, settings)
    assert crashed(outcome) == []
    assert not any(f.outcome.value == "waived" for f in outcome.judgement.findings)
    assert any(f.subject.id in ("CN-900", accepted["concession_id"]) for f in outcome.judgement.findings)
    assert not good(ChainBook(outcome.project, outcome.judgement).section_states[row["section_id"]])


CHAINS_OF_LOSS = 30
EVIDENCE = ("tests", "trainings", "tool_services", "calibrations", "batches")


@pytest.mark.parametrize("case", range(CHAINS_OF_LOSS))
def test_losing_evidence_never_makes_a_chain_better(case: int, sound: ModuleType, judged: Judged) -> None:
    """Four losses, one after the other, of rows or cells of the evidence: no joint, section or system gains by any.

    Broken and unproven are one here: a test without its gauge cannot be said to have been read on a wrong one.
    """
    rng = random.Random(f"loss {case}")
    seed = 30 + case % 6
    tables, settings = sound.sound_records(seed)
    before: dict[str, int] = {}
    for step in range(4):
        told = lose(rng, tables, EVIDENCE)
        outcome = judged(seed, tables, settings)
        assert crashed(outcome) == []
        after = standing(outcome)
        assert {name: told for name, rank in after.items() if rank > before.get(name, 9)} == {}, f"step {step}"
        before = after


@pytest.mark.parametrize("case", range(80))
def test_whatever_is_missing_no_check_stops(case: int, sound: ModuleType, judged: Judged) -> None:
    """Rows, cells, columns and whole tables are lost at random; what remains is judged, or refused in one sentence."""
    rng = random.Random(f"missing {case}")
    seed = 40 + case % 4
    tables, settings = sound.sound_records(seed)
    for _ in range(rng.choice((1, 3, 10, 40))):
        lose(rng, tables, sorted(tables.keys() - {"files"}))
    if not any(row.get("section_id") for row in tables.get("sections", [])):
        with pytest.raises(UnusableProject, match="section"):
            judged(seed, tables, settings)
        return
    assert crashed(judged(seed, tables, settings)) == []


def lose(rng: random.Random, tables: Tables, names: tuple[str, ...] | list[str]) -> str:
    """Lose some rows, cells, a column or a whole table; what was lost, in words."""
    there = [name for name in names if tables.get(name)]
    if not there:
        return "nothing is left"
    name = rng.choice(there)
    rows = tables[name]
    how = rng.choices(("rows", "cells", "column", "table"), (6, 6, 3, 1))[0]
    if how == "table":
        del tables[name]
        return f"table {name}"
    if how == "rows":
        lost = [rows.pop(rng.randrange(len(rows))) for _ in range(rng.randint(1, max(1, len(rows) // 4)))]
        return f"rows of {name}: {lost}"
    field = rng.choice(sorted({field for row in rows for field in row}))
    for row in rows if how == "column" else rng.sample(rows, rng.randint(1, max(1, len(rows) // 4))):
        row[field] = ""
    return f"{how} {field} of {name}"


def crashed(outcome: Outcome) -> list[str]:
    """What checks that stopped on an error said."""
    return [f.message for f in outcome.judgement.findings if f.rule.slug == CRASHED.slug]


def good(state: ChainState) -> bool:
    """Whether a reader would take the state for complete."""
    return state in (ChainState.COMPLETE, ChainState.CONCEDED)


def standing(outcome: Outcome) -> dict[str, int]:
    """How well every joint, section, system and the pack stand, broken and unproven as one."""
    chains = ChainBook(outcome.project, outcome.judgement)
    states = {f"joint {name}": state for name, state in chains.joint_states.items()}
    states |= {f"section {name}": state for name, state in chains.section_states.items()}
    states |= {f"system {name}": state for name, state in chains.system_states.items()}
    states["pack"] = chains.pack.state
    return {name: max(state.rank, ChainState.UNPROVEN.rank) for name, state in states.items()}
