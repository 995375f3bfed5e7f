"""The list of acts is short, closes everything that is open, and comes in the order of what it brings."""

from collections.abc import Callable
from typing import Any

from hypothesis import HealthCheck, given
from hypothesis import settings as hypothesis_settings
from hypothesis import strategies as st

from witnessmark.checks.registry import RULES
from witnessmark.evidence.actions import RETEST, shortest_list
from witnessmark.evidence.chain_state import ChainState, link_state
from witnessmark.model.finding import Finding
from witnessmark.model.project import Project

PIPEWORK = {"HTG": {"S1": ["J1"], "S2": ["J2"]}, "CWS": {"S3": ["J3"]}}


def test_one_act_closes_all_findings_with_its_remedy(
    make_project: Callable[..., Project], make_finding: Callable[..., Finding]
) -> None:
    """Two findings of two checks with one remedy and one addressee are one act."""
    findings = [
        make_finding("weakens", "fail", slug="a", sections=("S1",), remedy="Find the certificate.", whose="the office"),
        make_finding("breaks", "fail", slug="b", sections=("S2",), remedy="Find the certificate.", whose="the office"),
        make_finding("weakens", "fail", slug="c", sections=("S3",), remedy="Find the certificate.", whose="the tester"),
    ]
    acts = shortest_list(make_project(PIPEWORK), findings)
    assert [(act.words, act.whose, act.section_ids) for act in acts] == [
        ("Find the certificate.", "the office", ("S1", "S2")),
        ("Find the certificate.", "the tester", ("S3",)),
    ]
    assert (acts[0].broken, acts[0].unproven, acts[0].weak) == (1, 0, 1)


def test_new_test_closes_failures_of_the_test_of_one_system(
    make_project: Callable[..., Project], make_finding: Callable[..., Finding]
) -> None:
    """Pressure, hold and drop of one system are one act; the other system's test is another."""
    findings = [
        make_finding("breaks", "fail", slug="test-pressure-not-reached", sections=("S1",), remedy="r1"),
        make_finding("breaks", "fail", slug="hold-too-short", sections=("S2",), remedy="r2"),
        make_finding("breaks", "fail", slug="hold-too-short", sections=("S3",), remedy="r3"),
    ]
    acts = shortest_list(make_project(PIPEWORK), findings)
    assert len(acts) == 2
    assert (
        acts[0].words
        == "Retest sections S1 and S2 of system HTG, by the procedure and after the last joint is made, and record it."
    )
    assert acts[0].section_ids == ("S1", "S2")


def test_missing_reading_is_looked_for_before_a_new_test(
    make_project: Callable[..., Project], make_finding: Callable[..., Finding]
) -> None:
    findings = [
        make_finding("breaks", "cannot tell", slug="hold-too-short", sections=(s,), remedy=f"Write it for {s}.")
        for s in ("S1", "S2")
    ]
    acts = shortest_list(make_project(PIPEWORK), findings)
    assert {act.words for act in acts} == {"Write it for S1.", "Write it for S2."}


def test_blank_column_behind_several_questions_is_one_act(
    make_project: Callable[..., Project], make_finding: Callable[..., Finding]
) -> None:
    """Only where the cell that a finding names is blank: a filled one is no gap of its column."""
    project = make_project(
        joints=[
            {"joint_id": "J1", "section_id": "S1", "operative_id": "OP-1"},
            {"joint_id": "J2", "section_id": "S1"},
        ]
    )
    filled, blank = (joint.source.place("operative_id") for joint in project.records.joints)
    findings = [
        make_finding("breaks", "cannot tell", slug="a", location=blank, remedy="r1"),
        make_finding("breaks", "cannot tell", slug="b", location=blank, remedy="r2"),
        make_finding("breaks", "cannot tell", slug="c", location=filled, remedy="r3"),
    ]
    acts = shortest_list(project, findings)
    assert [(act.words, len(act.findings)) for act in acts] == [
        ("Fill in column 'operative_id' of records/joints.csv.", 2),
        ("r3", 1),
    ]


def test_waived_and_tidy_findings_need_no_act(
    make_project: Callable[..., Project], make_finding: Callable[..., Finding]
) -> None:
    assert shortest_list(make_project(PIPEWORK), [make_finding("breaks", "waived"), make_finding("tidy", "fail")]) == ()


def test_checks_that_a_new_test_closes_exist() -> None:
    assert {rule.slug for rule in RULES} >= RETEST


PARTS = st.lists(
    st.tuples(
        st.sampled_from(["breaks", "weakens", "tidy"]),
        st.sampled_from(["fail", "cannot tell", "waived"]),
        st.sampled_from(["hold-too-short", "gauge-unfit", "x", "y"]),
        st.sampled_from(["r1", "r2", "r3"]),
        st.sampled_from(["S1", "S2", "S3"]),
    ),
    max_size=12,
)


@hypothesis_settings(max_examples=100, suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)
@given(PARTS)
def test_every_open_finding_is_closed_once(
    make_project: Callable[..., Project], make_finding: Callable[..., Finding], parts: Any
) -> None:
    findings = [
        make_finding(severity, outcome, slug=slug, remedy=remedy, sections=(section,), message=f"{number}")
        for number, (severity, outcome, slug, remedy, section) in enumerate(parts)
    ]
    acts = shortest_list(make_project(PIPEWORK), findings)
    opened = [f.message for f in findings if link_state(f) not in (None, ChainState.CONCEDED)]
    assert sorted(f.message for act in acts for f in act.findings) == sorted(opened)
    assert all(act.findings for act in acts)
    brought = [(act.broken, act.unproven, act.weak) for act in acts]
    assert brought == sorted(brought, reverse=True)
