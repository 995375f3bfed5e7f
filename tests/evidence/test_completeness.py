"""Cells of the matrix are counted from records; what is not there never looks as if it were."""

from collections.abc import Callable
from typing import Any

import pytest

from witnessmark.evidence.completeness import RECORD_TYPES, Cell, CellState, Completeness
from witnessmark.evidence.completeness_slugs import CHECKS_OF
from witnessmark.evidence.evidence import Evidence
from witnessmark.model.finding import Finding
from witnessmark.model.project import Project

HEATING = {"system_id": "HTG", "service": "heating_flow", "medium": "treated_water", "closed_circuit": True}
AIR = {"system_id": "CA", "service": "compressed_air", "medium": "compressed_air"}
POTABLE = {"system_id": "CWS", "service": "boosted_cold_water", "medium": "drinking_water", "potable": True}
JOINT = {"section_id": "H1", "operative_id": "OP-1", "tool_id": "PT-1", "jaw_id": "JW-1", "fitting_batch_id": "B-1"}


def cell(completeness: Completeness, section_id: str, record_type: str) -> Cell:
    row = completeness.section(section_id)
    assert row is not None
    return dict(zip(RECORD_TYPES, row.cells, strict=True))[record_type]


@pytest.fixture
def matrix(make_project: Callable[..., Project], evidence_of: Callable[..., Evidence]) -> Callable[..., Completeness]:
    """The matrix of one section H1 of system HTG, with the tables given."""

    def make(*findings: Finding, section: dict[str, Any] | None = None, **tables: Any) -> Completeness:
        tables.setdefault("systems", [HEATING])
        tables.setdefault("sections", [{"section_id": "H1", "system_id": "HTG"} | (section or {})])
        return evidence_of(make_project(**tables), *findings).completeness

    return make


def test_training_is_counted_joint_by_joint(matrix: Callable[..., Completeness]) -> None:
    """Three joints, one pressed by somebody without a training record and one by nobody known: 1 of 3."""
    joints = [
        JOINT | {"joint_id": "J1"},
        JOINT | {"joint_id": "J2", "operative_id": "OP-2"},
        JOINT | {"joint_id": "J3", "operative_id": None},
        JOINT | {"joint_id": "J4", "operative_id": None, "status": "void"},
    ]
    made = matrix(joints=joints, trainings=[{"operative_id": "OP-1"}, {"operative_id": None}])
    training = cell(made, "H1", "training")
    assert (training.state, training.there, training.needed) == (CellState.INCOMPLETE, 1, 3)
    assert training.joint_ids == ("J2", "J3")
    assert training.words == "1 of 3 joints pressed by someone with a training record"


@pytest.mark.parametrize(
    ("expected", "joints", "state"),
    [
        (2, 2, CellState.PRESENT),
        (3, 2, CellState.INCOMPLETE),
        (None, 2, CellState.INCOMPLETE),
        (None, 0, CellState.MISSING),
        (3, 0, CellState.MISSING),
        (0, 0, CellState.NOT_APPLICABLE),
    ],
)
def test_joint_log_against_the_ends_expected(
    matrix: Callable[..., Completeness], expected: int | None, joints: int, state: CellState
) -> None:
    """A log whose number of ends nobody stated is incomplete, however long it is."""
    made = matrix(section={"expected_ends": expected}, joints=[JOINT | {"joint_id": f"J{n}"} for n in range(joints)])
    assert cell(made, "H1", "joints").state == state


def test_tool_service_batches_and_certificates(matrix: Callable[..., Completeness]) -> None:
    """A joint without a tool is not served by a service record without a tool."""
    made = matrix(
        joints=[JOINT | {"joint_id": "J1", "tube_batch_id": "B-2"}, JOINT | {"joint_id": "J2", "tool_id": None}],
        operatives=[{"operative_id": "OP-1"}],
        tools=[{"tool_id": "PT-1"}, {"tool_id": "JW-1"}],
        tool_services=[{"tool_id": "PT-1"}, {"tool_id": None}],
        batches=[{"batch_id": "B-1", "document_id": "D-1"}, {"batch_id": "B-2"}],
    )
    counts = {key: (cell(made, "H1", key).there, cell(made, "H1", key).joint_ids) for key in
              ("operative", "tool", "service", "batch", "certificate")}  # fmt: skip
    assert counts == {
        "operative": (2, ()),
        "tool": (1, ("J2",)),
        "service": (1, ("J2",)),
        "batch": (1, ("J2",)),
        "certificate": (0, ("J1", "J2")),
    }


def test_stages_of_the_procedure_are_asked_for_and_no_others(
    make_project: Callable[..., Project], evidence_of: Callable[..., Evidence], settings: Any
) -> None:
    """A failed attempt is a record and no pass; a stage that the procedure has not is not applicable, by its id."""
    from dataclasses import replace

    from witnessmark.model.procedure import ProcedureStage, TestProcedure

    wet = TestProcedure("wet", "Wet", "Invented", (ProcedureStage(stage="leak"), ProcedureStage(stage="strength")))
    project = make_project(
        settings=replace(settings, testing={"heating_flow": "wet"}, procedures={"wet": wet}),
        systems=[HEATING, AIR],
        sections=[{"section_id": "H1", "system_id": "HTG"}, {"section_id": "A1", "system_id": "CA"}],
        tests=[
            {"test_id": "T1", "stage": "leak", "section_ids": ("H1",), "result": "fail"},
            {"test_id": "T2", "stage": "strength", "section_ids": ("H1",), "result": "pass", "instrument_id": "G-1",
             "document_id": "D-1"},
        ],
        calibrations=[{"instrument_id": "G-1"}],
    )  # fmt: skip
    made = evidence_of(project).completeness
    assert cell(made, "H1", "leak").state == CellState.INCOMPLETE
    assert cell(made, "H1", "strength").state == CellState.PRESENT
    assert cell(made, "H1", "visual").words == "not a stage of procedure wet"
    assert cell(made, "H1", "calibration").state == CellState.PRESENT
    assert cell(made, "H1", "test_certificate").state == CellState.MISSING
    assert cell(made, "A1", "strength").state == CellState.MISSING
    assert "names no procedure" in cell(made, "A1", "strength").words


@pytest.mark.parametrize(
    ("system", "record_type", "state", "words"),
    [
        (AIR, "flushing", CellState.NOT_APPLICABLE, "compressed air, by the systems table"),
        (AIR, "treatment", CellState.NOT_APPLICABLE, "compressed air, by the systems table"),
        (AIR, "valve", CellState.MISSING, "0 of 1 kinds of valve (isolating); no isolating"),
        (AIR, "insulation", CellState.NOT_APPLICABLE, "compressed air, by the systems table"),
        (HEATING, "insulation", CellState.MISSING, "no insulation inspections"),
        (HEATING, "flushing", CellState.MISSING, "no flush or chemical clean"),
        (HEATING, "disinfection", CellState.NOT_APPLICABLE, "not drinking water, by the systems table"),
        (HEATING, "treatment", CellState.MISSING, "0 of 2 events (dose, sample); no dose, no sample"),
        (POTABLE, "disinfection", CellState.MISSING, "no disinfection"),
        (POTABLE, "treatment", CellState.NOT_APPLICABLE, "not a closed circuit, by the systems table"),
        ({"system_id": "X"}, "flushing", CellState.MISSING, "no flush or chemical clean"),
        ({"system_id": "X"}, "disinfection", CellState.MISSING, "no disinfection"),
        ({"system_id": "X"}, "treatment", CellState.MISSING, "0 of 2 events (dose, sample); no dose, no sample"),
    ],
)
def test_water_is_asked_for_by_what_the_system_carries(
    matrix: Callable[..., Completeness], system: dict[str, Any], record_type: str, state: CellState, words: str
) -> None:
    """A system of which nothing is known is not let off."""
    made = matrix(systems=[system], sections=[{"section_id": "H1", "system_id": system["system_id"]}])
    assert (cell(made, "H1", record_type).state, cell(made, "H1", record_type).words) == (state, words)


def test_water_records_of_the_section_and_of_its_system_count(matrix: Callable[..., Completeness]) -> None:
    made = matrix(
        flushings=[{"flushing_id": "F1", "kind": "flush", "section_ids": ("H1",), "result": "pass"}],
        treatments=[
            {"treatment_id": "W1", "kind": "dose", "system_id": "HTG", "section_ids": ()},
            {"treatment_id": "W2", "kind": "sample", "system_id": None, "section_ids": ("H1",)},
        ],
    )
    assert cell(made, "H1", "flushing").state == CellState.PRESENT
    assert cell(made, "H1", "treatment").state == CellState.PRESENT


def test_flush_that_failed_is_a_record_and_not_present(matrix: Callable[..., Completeness]) -> None:
    made = matrix(flushings=[{"flushing_id": "F1", "kind": "flush", "section_ids": ("H1",), "result": "fail"}])
    assert cell(made, "H1", "flushing").state == CellState.INCOMPLETE


def test_valves_insulation_supports_drawing_and_photos(matrix: Callable[..., Completeness]) -> None:
    made = matrix(
        section={"from_node": "V-1", "to_node": "V-2", "drawing": "D1", "insulation": "none"},
        joints=[JOINT | {"joint_id": "J1", "photo": "DOC-1"}],
        valves=[
            {"valve_id": "V-1", "node_id": "V-1", "kind": "isolating", "section_ids": ()},
            {"valve_id": "DV-1", "kind": "drain", "section_ids": ("H1",)},
        ],
        nodes=[{"node_id": "V-1", "kind": "valve"}],
        supports=[{"support_id": "S1", "section_id": "H1", "result": None}],
    )
    assert cell(made, "H1", "valve").words == "2 of 3 kinds of valve (isolating, drain, vent); no vent"
    assert cell(made, "H1", "insulation").words == "'none', by the sections table"
    assert cell(made, "H1", "support").state == CellState.INCOMPLETE
    assert cell(made, "H1", "drawing").state == CellState.INCOMPLETE
    assert cell(made, "H1", "photo").state == CellState.PRESENT


@pytest.mark.parametrize(
    ("concealed", "state"),
    [(True, CellState.MISSING), (None, CellState.MISSING), (False, CellState.NOT_APPLICABLE)],
)
def test_photos_are_asked_for_where_nobody_can_look_any_more(
    matrix: Callable[..., Completeness], concealed: bool | None, state: CellState
) -> None:
    assert cell(matrix(section={"concealed": concealed}), "H1", "photo").state == state


def test_planned_section_is_asked_for_nothing_and_says_by_whom(matrix: Callable[..., Completeness]) -> None:
    row = matrix(section={"status": "planned"}).section("H1")
    assert row is not None
    assert {each.state for each in row.cells} == {CellState.NOT_APPLICABLE}
    assert row.cells[0].words == "section planned, by the sections table"


def test_gap_that_somebody_accepted_is_waived_and_names_the_role(
    matrix: Callable[..., Completeness], make_finding: Callable[..., Finding]
) -> None:
    """Only where every finding of that kind is accepted; a present record needs no waiver."""
    waived = make_finding("breaks", "waived", slug="section-without-joints", sections=("H1",))
    made = cell(matrix(waived), "H1", "joints")
    assert made.state == CellState.WAIVED
    assert made.words.endswith("accepted by Designer on 1 May 2026")
    still = make_finding("breaks", "cannot tell", slug="ends-do-not-add-up", sections=("H1",))
    assert cell(matrix(waived, still), "H1", "joints").state == CellState.MISSING
    assert cell(matrix(waived, still), "H1", "joints").slugs == ("ends-do-not-add-up",)


def test_totals_add_up(make_project: Callable[..., Project], evidence_of: Callable[..., Evidence]) -> None:
    """Three sections: totals by system, level and subcontractor hold each cell once."""
    project = make_project(
        systems=[HEATING, AIR],
        sections=[
            {"section_id": "A1", "system_id": "CA", "level": "1", "subcontractor": "SUB-2"},
            {"section_id": "H1", "system_id": "HTG", "level": "1", "subcontractor": "SUB-1"},
            {"section_id": "H2", "system_id": "HTG", "level": None, "subcontractor": None},
        ],
    )
    made = evidence_of(project).completeness
    assert [(total.name, total.sections) for total in made.by_system] == [("HTG", 2), ("CA", 1)]
    assert [total.name for total in made.by_level] == ["1", "not recorded"]
    assert [total.name for total in made.by_subcontractor] == ["SUB-1", "SUB-2", "not recorded"]
    flushing = list(RECORD_TYPES).index("flushing")
    assert made.total.cells[flushing][CellState.MISSING] == 2
    assert made.total.cells[flushing][CellState.NOT_APPLICABLE] == 1
    for totals in (made.by_system, made.by_level, made.by_subcontractor):
        for state in CellState:
            assert sum(total.of(state) for total in totals) == made.total.of(state)
    assert sum(made.total.of(state) for state in CellState) == 3 * len(RECORD_TYPES)


def test_slugs_behind_columns_exist() -> None:
    from witnessmark.checks.registry import RULES

    assert set(CHECKS_OF) <= set(RECORD_TYPES)
    assert {slug for slugs in CHECKS_OF.values() for slug in slugs} <= {rule.slug for rule in RULES}
