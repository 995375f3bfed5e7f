"""Questions on valves: which ends need one, what counts as one, and what stays silent."""

import datetime as dt
from collections.abc import Callable
from typing import Any

import pytest

from witnessmark.checks.registry import CHECKS
from witnessmark.model.finding import Finding, Outcome
from witnessmark.pipeline import Outcome as Worked

Rows = list[dict[str, Any]]
Ask = Callable[..., list[Finding]]
RISER: dict[str, Rows] = {
    "systems": [{"system_id": "H", "name": "Heating", "service": "heating_flow", "medium": "treated_water"}],
    "sections": [
        {"section_id": "S1", "system_id": "H", "from_node": "P-1", "to_node": "V-1"},
        {"section_id": "S2", "system_id": "H", "from_node": "V-1", "to_node": "T-1"},
    ],
    "nodes": [
        {"node_id": "P-1", "kind": "plant", "system_id": "H"},
        {"node_id": "V-1", "kind": "valve", "system_id": "H", "location": "Cupboard 2"},
        {"node_id": "T-1", "kind": "terminal", "system_id": "H"},
    ],
    "valves": [
        {
            "valve_id": "V-1", "node_id": "V-1", "kind": "isolating", "section_ids": ("S1", "S2"), "holds_tight": True,
            "exercised_on": dt.date(2025, 5, 15), "photo_near": "D-1", "photo_far": "D-2",
        },
        {
            "valve_id": "D-1", "kind": "drain", "section_ids": ("S1", "S2"), "location": "Behind the door",
            "photo_near": "D-1", "photo_far": "D-2",
        },
        {"valve_id": "A-1", "kind": "vent", "section_ids": ("S1", "S2"), "location": "Above the tile"},
    ],
}  # fmt: skip
VALVES = [check.rule.slug for check in CHECKS if ".checks.valves." in check.run.__module__]


@pytest.fixture
def ask(record: Any, make_outcome: Callable[..., Worked]) -> Ask:
    """Puts one question to the riser, or to other tables; changes are by the first cell of a row."""

    def put(slug: str, tables: dict[str, Rows] = RISER, **changes: dict[str, Any]) -> list[Finding]:
        made = {
            name: tuple(
                record(
                    name,
                    **{
                        **({"section_ids": ()} if name == "valves" else {}),
                        **row,
                        **changes.get(f"{name}_{next(iter(row.values()))}".replace("-", ""), {}),
                    },
                )
                for row in rows
            )
            for name, rows in tables.items()
        }
        outcome = make_outcome(**made)
        check = next(check for check in CHECKS if check.rule.slug == slug)
        return list(check.run(outcome.project, outcome.workings).findings)

    return put


def told(findings: list[Finding]) -> list[tuple[str, Outcome]]:
    return [(finding.subject.id, finding.outcome) for finding in findings]


@pytest.mark.parametrize("slug", VALVES)
def test_a_sound_riser_gives_no_finding(slug: str, ask: Ask) -> None:
    assert ask(slug) == []


@pytest.mark.parametrize("slug", VALVES)
def test_empty_tables_are_no_crash(slug: str, ask: Ask) -> None:
    assert ask(slug, {}) == []


def test_no_valves_table_is_told_once_a_system(ask: Ask) -> None:
    tables = {**RISER, "valves": [], "nodes": [{**row, "kind": "tee"} for row in RISER["nodes"]]}
    for slug in ("section-end-not-isolated", "section-without-drain", "section-without-vent"):
        findings = ask(slug, tables)
        assert told(findings) == [("H", Outcome.CANNOT_TELL)]
        assert "any row in the valves table" in findings[0].message
        assert findings[0].section_ids == ("S1", "S2")


def test_a_valve_of_the_nodes_table_counts_without_a_row_of_its_own(ask: Ask) -> None:
    assert ask("section-end-not-isolated", {**RISER, "valves": RISER["valves"][1:]}) == []


def test_a_valve_that_only_regulates_shuts_nothing_off(ask: Ask) -> None:
    """Another valve of the system shows that the register is kept, so a lack is a fault and not a gap."""
    far = {"valve_id": "V-9", "kind": "isolating", "section_ids": ("S9",)}
    ninth = {"section_id": "S9", "system_id": "H", "from_node": "V-1", "to_node": "V-1"}
    tables = {**RISER, "valves": [*RISER["valves"], far], "sections": [*RISER["sections"], ninth]}
    findings = ask("section-end-not-isolated", tables, valves_V1={"kind": "regulating"})
    assert ("S1", Outcome.FAIL) in told(findings)
    assert "V-1" in findings[0].message


def test_a_valve_further_out_that_names_the_section_serves_a_tee(ask: Ask) -> None:
    tables = {**RISER, "nodes": [{**row, "kind": "tee"} if row["node_id"] == "T-1" else row for row in RISER["nodes"]]}
    assert told(ask("section-end-not-isolated", tables)) == [("S2", Outcome.FAIL)]
    out = {"valve_id": "V-2", "kind": "isolating", "section_ids": ("S2",)}
    assert ask("section-end-not-isolated", {**tables, "valves": [*RISER["valves"], out]}) == []


def test_a_section_between_plant_and_terminal_needs_one_valve(ask: Ask) -> None:
    alone = {**RISER, "sections": [{"section_id": "S3", "system_id": "H", "from_node": "P-1", "to_node": "T-1"}]}
    assert told(ask("section-end-not-isolated", alone)) == [("H", Outcome.CANNOT_TELL)]
    one = {"valve_id": "V-3", "node_id": "P-1", "kind": "isolating", "section_ids": ("S3",)}
    assert ask("section-end-not-isolated", {**alone, "valves": [one]}) == []


def test_an_end_that_is_not_recorded_cannot_be_told(ask: Ask) -> None:
    findings = ask("section-end-not-isolated", sections_S1={"from_node": None, "to_node": None})
    assert told(findings) == [("H", Outcome.CANNOT_TELL)]
    assert "the nodes at its ends" in findings[0].message


@pytest.mark.parametrize("kind", ["drain", "vent"])
def test_a_section_that_no_drain_or_vent_names_has_none(kind: str, ask: Ask) -> None:
    name = "valves_D1" if kind == "drain" else "valves_A1"
    findings = ask(f"section-without-{kind}", **{name: {"section_ids": ("S1",)}})
    assert told(findings) == [("S2", Outcome.FAIL)]


def test_a_drain_at_the_end_of_a_section_serves_it(ask: Ask) -> None:
    assert ask("section-without-drain", valves_D1={"section_ids": ("S1",)}, nodes_T1={"kind": "drain"}) == []


@pytest.mark.parametrize("medium", ["compressed_air", "natural_gas"])
@pytest.mark.parametrize("slug", ["section-without-drain", "section-without-vent"])
def test_gas_and_air_need_neither_drain_nor_vent(slug: str, medium: str, ask: Ask) -> None:
    assert ask(slug, {**RISER, "valves": []}, systems_H={"medium": medium}) == []


def test_blanks_of_many_valves_are_one_finding_a_system(ask: Ask) -> None:
    findings = ask("valve-not-photographed", valves_V1={"photo_far": None}, valves_D1={"photo_near": None})
    assert told(findings) == [("H", Outcome.CANNOT_TELL)]
    assert "valves D-1 and V-1" in findings[0].message.replace(", ", " and ")


def test_the_place_of_the_node_is_the_place_of_the_valve(ask: Ask) -> None:
    assert ask("valve-not-located") == []
    assert told(ask("valve-not-located", nodes_V1={"location": None})) == [("H", Outcome.CANNOT_TELL)]


def test_a_valve_exercised_twelve_months_ago_to_the_day_is_in_time(ask: Ask) -> None:
    """12 months: common practice, no published source. The issue is of 15 May 2026."""
    assert ask("valve-not-exercised") == []
    assert told(ask("valve-not-exercised", valves_V1={"exercised_on": dt.date(2025, 5, 14)})) == [("H", Outcome.FAIL)]
    assert told(ask("valve-not-exercised", valves_V1={"exercised_on": None})) == [("H", Outcome.CANNOT_TELL)]


def test_a_valve_that_was_never_proved_may_or_may_not_hold(ask: Ask) -> None:
    assert told(ask("valve-does-not-hold", valves_V1={"holds_tight": None})) == [("H", Outcome.CANNOT_TELL)]
    assert told(ask("valve-does-not-hold", valves_V1={"holds_tight": False})) == [("V-1", Outcome.FAIL)]


def test_positions_are_compared_where_both_are_written(ask: Ask) -> None:
    assert ask("valve-position-contradicted", valves_V1={"normal_position": "open"}) == []
    both = {"valves_V1": {"normal_position": "locked_open"}, "nodes_V1": {"normal_position": "closed"}}
    findings = ask("valve-position-contradicted", **both)
    assert told(findings) == [("V-1", Outcome.FAIL)]
    assert "stands locked open by the valves table and closed by node V-1" in findings[0].message
