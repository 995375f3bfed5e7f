"""Sizes, families and tubes at their corners."""

from collections.abc import Callable
from typing import Any

import pytest

from witnessmark.checks.judgement import Answer
from witnessmark.checks.sizes import joint_family_unknown, joint_not_of_section_tube, joint_size_unknown
from witnessmark.model.finding import Outcome as Result
from witnessmark.pipeline import Outcome

Make = Callable[..., Outcome]
Record = Callable[..., Any]


def asked(check: Any, outcome: Outcome) -> Answer:
    answer: Answer = check.CHECK.run(outcome.project, outcome.workings)
    return answer


@pytest.mark.parametrize("check", [joint_family_unknown, joint_not_of_section_tube, joint_size_unknown])
def test_a_project_without_records_is_no_pass(check: Any, make_outcome: Make) -> None:
    assert asked(check, make_outcome()) == Answer(0, ())


def test_joints_of_a_section_that_lack_the_same_are_one_finding(record: Record, make_outcome: Make) -> None:
    joints = [record("joints", joint_id=f"J{n}", section_id="S1", raw={"od_mm": "DN20"}) for n in (3, 1, 2)]
    joints.append(record("joints", joint_id="J4", section_id="S1", od_mm=22.0))
    joints.append(record("joints", joint_id="J5", section_id="S1", status="void"))
    answer = asked(joint_size_unknown, make_outcome(joints=tuple(joints)))
    both, material = answer.findings
    assert answer.examined == 4
    assert both.joint_ids == ("J1", "J2", "J3")
    assert both.message == (
        "3 joints, the first of them J1, of section S1 have no readable outside diameter (the log says 'DN20') and no tube material."
    )
    assert material.message == "Joint J4 of section S1 has no readable tube material."


@pytest.mark.parametrize(
    ("joint", "section", "batch", "found"),
    [("F", None, None, 0), (None, "F", None, 0), (None, None, "F", 0), (None, None, None, 1)],
)
def test_a_family_is_known_from_joint_section_or_batch(
    joint: str | None, section: str | None, batch: str | None, found: int, record: Record, make_outcome: Make
) -> None:
    outcome = make_outcome(
        sections=(record("sections", section_id="S1", system_id="H", system_family=section),),
        batches=(record("batches", batch_id="B1", system_family=batch),),
        joints=(record("joints", joint_id="J1", section_id="S1", system_family=joint, fitting_batch_id="B1"),),
    )
    answer = asked(joint_family_unknown, outcome)
    assert (answer.examined, len(answer.findings)) == (1, found)


def test_a_column_of_families_left_empty_is_one_finding_a_system(record: Record, make_outcome: Make) -> None:
    sections = tuple(record("sections", section_id=f"S{n}", system_id="H") for n in (1, 2))
    joints = tuple(record("joints", joint_id=f"J{n}", section_id=f"S{n % 2 + 1}") for n in range(8))
    flange = record("joints", joint_id="J9", section_id="S1", joint_type="flange")
    (finding,) = asked(joint_family_unknown, make_outcome(sections=sections, joints=(*joints, flange))).findings
    assert (finding.outcome, finding.subject.id, len(finding.joint_ids)) == (Result.CANNOT_TELL, "H", 8)
    assert "of all 8 pressed joints is in no row" in finding.message


def _pipework(record: Record, joint_od: float, joint_material: str = "copper", **tables: Any) -> dict[str, Any]:
    return {
        "sections": (
            record("sections", section_id="S1", from_node="A", to_node="B"),
            record("sections", section_id="S2", from_node="B", to_node="C"),
        ),
        "tubes": (
            record("tubes", section_id="S1", material="copper", od_mm=22.0),
            record("tubes", section_id="S2", material="copper", od_mm=15.0),
        ),
        "joints": (
            record(
                "joints", joint_id="J1", section_id="S1", od_mm=joint_od, material_tube=joint_material, status="made"
            ),
        ),
        **tables,
    }


def test_a_joint_of_another_size_is_found_with_the_tubes_that_are_there(record: Record, make_outcome: Make) -> None:
    (finding,) = asked(joint_not_of_section_tube, make_outcome(**_pipework(record, 28.0))).findings
    assert finding.message == (
        "Joint J1 of section S1 is of 28 mm copper tube; the tubes there are 15 mm copper, 22 mm copper."
    )
    assert finding.joint_ids == ("J1",)


def test_a_joint_of_another_material_is_found(record: Record, make_outcome: Make) -> None:
    answer = asked(joint_not_of_section_tube, make_outcome(**_pipework(record, 22.0, "carbon_steel")))
    assert [finding.subject.id for finding in answer.findings] == ["S1"]


@pytest.mark.parametrize("od", [22.0, 15.0])
def test_the_tube_of_the_section_and_of_its_neighbour_both_fit(od: float, record: Record, make_outcome: Make) -> None:
    assert asked(joint_not_of_section_tube, make_outcome(**_pipework(record, od))) == Answer(1, ())


def test_the_size_of_a_drain_on_the_section_fits(record: Record, make_outcome: Make) -> None:
    drain = record("valves", valve_id="DR-1", od_mm=12.0, section_ids=("S1",))
    assert asked(joint_not_of_section_tube, make_outcome(**_pipework(record, 12.0, valves=(drain,)))).findings == ()


def test_tubes_that_are_not_all_recorded_give_no_ground_for_a_finding(record: Record, make_outcome: Make) -> None:
    """Which tubes are missing is told by the check on the content of the section."""
    unknown = (
        record("tubes", section_id="S1", material="copper"),
        record("tubes", section_id="S2", material="copper", od_mm=15.0),
    )
    only_own = (record("tubes", section_id="S1", material="copper", od_mm=22.0),)
    nowhere = (record("sections", section_id="S1"),)
    for tables in ({"tubes": unknown}, {"tubes": only_own}, {"tubes": ()}, {"sections": nowhere}):
        assert asked(joint_not_of_section_tube, make_outcome(**_pipework(record, 28.0, **tables))) == Answer(0, ())
