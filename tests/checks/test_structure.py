"""Checks of what belongs to what, at their corners."""

from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.checks.judgement import Answer
from witnessmark.checks.structure import (
    ends_do_not_add_up,
    fitting_end_missing,
    joint_replaces_itself,
    joint_without_section,
    open_end,
    replaced_joint_not_in_log,
    section_without_joints,
    section_without_system,
    test_without_section,
)
from witnessmark.checks.structure.replacements import circles
from witnessmark.model.finding import Outcome as Result
from witnessmark.pipeline import Outcome

Make = Callable[..., Outcome]
Record = Callable[..., Any]


def asked(check: Any, outcome: Outcome) -> Answer:
    answer: Answer = check.CHECK.run(outcome.project, outcome.workings)
    return answer


def test_circles_of_replacements_are_found_whatever_hangs_on_them() -> None:
    leads_to = {"A": {"A"}, "B": {"C"}, "C": {"D"}, "D": {"B"}, "E": {"B"}, "F": {"G"}}
    assert sorted(circles(leads_to)) == [("A",), ("B", "C", "D")]


@given(st.dictionaries(st.sampled_from("ABCDEF"), st.sets(st.sampled_from("ABCDEF"), max_size=3), max_size=6))
def test_a_circle_is_found_exactly_where_a_joint_leads_back_to_itself(leads_to: dict[str, set[str]]) -> None:
    def reached(start: str) -> set[str]:
        seen: set[str] = set()
        waiting = list(leads_to.get(start, ()))
        while waiting:
            name = waiting.pop()
            if name not in seen:
                seen.add(name)
                waiting += leads_to.get(name, ())
        return seen

    found = circles(leads_to)
    assert bool(found) == any(name in reached(name) for name in leads_to)
    assert all(name in reached(name) for circle in found for name in circle)


def test_a_long_line_of_replacements_is_no_circle() -> None:
    assert circles({f"J{n}": {f"J{n + 1}"} for n in range(20_000)}) == []


def test_joints_that_replace_each_other_are_one_finding(record: Record, make_outcome: Make) -> None:
    joints = tuple(record("joints", joint_id=a, replaces_joint=b, section_id="S1") for a, b in ("AB", "BC", "CA"))
    (finding,) = asked(joint_replaces_itself, make_outcome(joints=joints)).findings
    assert finding.message == "Joints A, B, C replace each other in a circle."
    assert finding.joint_ids == ("A", "B", "C")


def test_the_name_of_a_fitting_stands_for_its_ends(record: Record, make_outcome: Make) -> None:
    joints = (
        record("joints", joint_id="J14-A", status="cut_out"),
        record("joints", joint_id="J14-B", status="cut_out"),
        record("joints", joint_id="J15-A", replaces_joint="J14"),
        record("joints", joint_id="J15-B", replaces_joint="j14-b; J14-A"),
    )
    outcome = make_outcome(joints=joints)
    assert asked(replaced_joint_not_in_log, outcome) == Answer(2, ())
    assert asked(joint_replaces_itself, outcome) == Answer(2, ())


def test_joints_that_replace_what_is_gone_are_one_finding_a_section(record: Record, make_outcome: Make) -> None:
    sections = {1: "S1", 2: "S1", 3: None}
    joints = tuple(
        record("joints", joint_id=f"J{n}", replaces_joint=f"OLD-{n}", section_id=section)
        for n, section in sections.items()
    )
    without, within = asked(replaced_joint_not_in_log, make_outcome(joints=joints)).findings
    assert (without.subject.id, without.joint_ids) == ("J3", ("J3",))
    assert (within.subject.id, within.joint_ids) == ("S1", ("J1", "J2"))
    assert within.message == (
        "2 joints replace joints that are in no row of the joint log: J1 replaces OLD-1; J2 replaces OLD-2."
    )


def test_joints_of_one_file_with_one_unknown_section_are_one_finding(record: Record, make_outcome: Make) -> None:
    joints = [record("joints", joint_id=f"J{n}", raw={"section_id": "9"}) for n in (3, 1, 2)]
    joints.append(record("joints", joint_id="J4"))
    findings = asked(joint_without_section, make_outcome(joints=tuple(joints))).findings
    blank, unread = sorted(findings, key=lambda finding: len(finding.joint_ids))
    assert (blank.subject.id, blank.message) == ("J4", "Joint J4 names no section.")
    assert (unread.subject.id, unread.joint_ids) == ("records/joints.csv", ("J1", "J2", "J3"))
    assert unread.message == "3 joints, the first of them J1, name the section '9', which is not read."


def test_a_system_that_nobody_logged_is_told_once(record: Record, make_outcome: Make) -> None:
    sections = [record("sections", section_id=f"S{n}", system_id="H") for n in (1, 2, 3)]
    sections.append(record("sections", section_id="S4", system_id="C", status="planned"))
    sections.append(record("sections", section_id="S5", system_id="C", expected_ends=0))
    answer = asked(section_without_joints, make_outcome(sections=tuple(sections)))
    (finding,) = answer.findings
    assert answer.examined == 4
    assert (finding.subject.kind, finding.subject.id) == ("system", "H")
    assert finding.section_ids == ("S1", "S2", "S3")


def test_one_bare_section_beside_logged_ones_is_told_as_itself(record: Record, make_outcome: Make) -> None:
    sections = tuple(record("sections", section_id=f"S{n}", system_id="H") for n in (1, 2, 3))
    joints = (record("joints", joint_id="J1", section_id="S2"),)
    findings = asked(section_without_joints, make_outcome(sections=sections, joints=joints)).findings
    assert [finding.subject.id for finding in findings] == ["S1", "S3"]


def test_a_whole_column_of_systems_left_empty_is_one_finding(record: Record, make_outcome: Make) -> None:
    sections = tuple(record("sections", section_id=f"S{n}") for n in (2, 1))
    (finding,) = asked(section_without_system, make_outcome(sections=sections)).findings
    assert finding.message.startswith(
        "2 sections, the first of them S1, belong to no system of the records: the cell is empty"
    )


def test_all_stages_of_a_test_without_section_are_one_finding(record: Record, make_outcome: Make) -> None:
    tests = tuple(record("tests", test_id="PT-1", stage=s, raw={"section_ids": "all L3"}) for s in ("leak", "strength"))
    (finding,) = asked(test_without_section, make_outcome(tests=tests)).findings
    assert finding.message == "Test PT-1 names no section of the records in 2 rows; its cell says 'all L3'."


def test_ends_that_nobody_counted_are_one_gap_of_the_system(record: Record, make_outcome: Make) -> None:
    sections = tuple(record("sections", section_id=f"S{n}", system_id="H") for n in (1, 2))
    joints = tuple(record("joints", joint_id=f"J{n}", section_id=f"S{n}") for n in (1, 2))
    (finding,) = asked(ends_do_not_add_up, make_outcome(sections=sections, joints=joints)).findings
    assert (finding.outcome, finding.subject.id) == (Result.CANNOT_TELL, "H")
    assert "the number of press ends expected, in the sections table" in finding.message


@pytest.mark.parametrize(("state", "found"), [("void", 0), ("cut_out", 0), ("tested", 1)])
def test_a_fitting_that_is_not_in_the_pipe_needs_no_ends(
    state: str, found: int, record: Record, make_outcome: Make
) -> None:
    joints = (
        record("joints", joint_id="J1-A", section_id="S1", fitting_kind="elbow", status="tested"),
        record("joints", joint_id="J1-B", section_id="S1", fitting_kind="elbow", status="tested"),
        record("joints", joint_id="J2-A", section_id="S1", fitting_kind="tee", status=state),
    )
    findings = asked(fitting_end_missing, make_outcome(joints=joints)).findings
    assert len(findings) == found


def test_two_rows_of_one_end_are_one_end(record: Record, make_outcome: Make) -> None:
    joints = tuple(
        record("joints", joint_id="J1-A", section_id="S1", fitting_kind="elbow", od_mm=od) for od in (22.0, 28.0)
    )
    (finding,) = asked(fitting_end_missing, make_outcome(joints=joints)).findings
    assert finding.message == "Section S1: J1, an elbow with 2 press ends, has 1 in the log."


def _sections_and_nodes(record: Record, *ends: tuple[str | None, str | None], **kinds: str | None) -> dict[str, Any]:
    sections = tuple(
        record("sections", section_id=f"S{n}", system_id="H", from_node=start, to_node=end)
        for n, (start, end) in enumerate(ends, 1)
    )
    return {"sections": sections, "nodes": tuple(record("nodes", node_id=n, kind=kind) for n, kind in kinds.items())}


def test_a_tee_where_one_section_ends_alone_is_an_open_end(record: Record, make_outcome: Make) -> None:
    records = _sections_and_nodes(record, ("P", "T"), ("T", "C"), ("T", "D"), P="plant", T="tee", C="cap", D="tee")
    answer = asked(open_end, make_outcome(**records))
    (finding,) = answer.findings
    assert answer.examined == 6
    assert finding.message == "Section S3 ends at the tee D, where no other section begins or ends."


@pytest.mark.parametrize("kind", ["valve", "drain", "vent", "plant", "terminal", "cap"])
def test_an_end_at_something_that_closes_it_is_closed(kind: str, record: Record, make_outcome: Make) -> None:
    assert asked(open_end, make_outcome(**_sections_and_nodes(record, ("A", "B"), A=kind, B=kind))) == Answer(2, ())


def test_a_ring_closes_on_itself(record: Record, make_outcome: Make) -> None:
    assert asked(open_end, make_outcome(**_sections_and_nodes(record, ("A", "A"), A="tee"))) == Answer(2, ())


def test_a_section_that_meets_only_one_that_is_removed_is_open(record: Record, make_outcome: Make) -> None:
    gone = record("sections", section_id="S2", system_id="H", from_node="T", to_node="C", status="removed")
    records = _sections_and_nodes(record, ("P", "T"), P="plant", T="tee")
    records["sections"] += (gone,)
    (finding,) = asked(open_end, make_outcome(**records)).findings
    assert finding.subject.id == "T"


def test_ends_and_kinds_that_nobody_recorded_are_one_gap_of_the_system(record: Record, make_outcome: Make) -> None:
    records = _sections_and_nodes(record, (None, None), ("A", "B"), A=None, B="other")
    (finding,) = asked(open_end, make_outcome(**records)).findings
    assert (finding.outcome, finding.subject.id) == (Result.CANNOT_TELL, "H")
    assert finding.section_ids == ("S1", "S2")
