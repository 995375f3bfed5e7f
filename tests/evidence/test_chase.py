"""Chase lists go to whoever has to act, and to each only what is theirs."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable
from typing import Any

from witnessmark.evidence.chase import chase_lists
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.pipeline import Outcome as PipelineOutcome

OWN = Rule("jaw-of-another-size", "?", Severity.BREAKS, "", "the subcontractor who pressed the joint", "", "", "")
ROLE = Rule("gauge-unfit", "?", Severity.WEAKENS, "", "the tester", "", "", "")


def project(record: Any, make_outcome: Callable[..., PipelineOutcome]) -> PipelineOutcome:
    return make_outcome(
        sections=(
            record("sections", section_id="S1", subcontractor="SUB-1"),
            record("sections", section_id="S2", subcontractor="SUB-2"),
            record("sections", section_id="S3"),
        ),
        joints=tuple(
            record("joints", joint_id=f"J{n}", section_id=section) for n, section in enumerate(("S1", "S2", "S2", "S3"))
        ),
    )


def finding(rule: Rule, *sections: str, joints: tuple[str, ...] = (), **changes: Any) -> Finding:
    made = Finding(rule, Outcome.FAIL, "M.", "R.", Subject("tool", "T1"), section_ids=sections, joint_ids=joints)
    return dataclasses.replace(made, **changes)


def test_a_finding_of_several_subcontractors_goes_to_each_with_their_own_joints(
    record: Any, make_outcome: Callable[..., PipelineOutcome]
) -> None:
    outcome = project(record, make_outcome)
    lists = chase_lists(outcome.project, [finding(OWN, "S1", "S2", joints=("J0", "J1", "J2"))])
    assert [(c.addressee, c.items[0].section_ids, c.items[0].joint_ids) for c in lists] == [
        ("SUB-1", ("S1",), ("J0",)),
        ("SUB-2", ("S2",), ("J1", "J2")),
    ]


def test_a_section_without_a_subcontractor_is_not_lost(
    record: Any, make_outcome: Callable[..., PipelineOutcome]
) -> None:
    outcome = project(record, make_outcome)
    lists = chase_lists(outcome.project, [finding(OWN, "S3"), finding(OWN)])
    assert [(c.addressee, len(c.items)) for c in lists] == [("Subcontractor not recorded", 2)]


def test_roles_follow_subcontractors_and_waived_findings_are_in_no_list(
    record: Any, make_outcome: Callable[..., PipelineOutcome]
) -> None:
    outcome = project(record, make_outcome)
    waived = finding(ROLE, "S1", outcome=Outcome.WAIVED)
    lists = chase_lists(outcome.project, [finding(ROLE, "S1"), waived, finding(OWN, "S2")])
    assert [(c.addressee, len(c.items)) for c in lists] == [("SUB-2", 1), ("The tester", 1)]
    assert chase_lists(outcome.project, [finding(ROLE, "S1", whose="the designer")])[0].addressee == "The designer"
