"""A chain is never better than its worst link, and never good where nothing is recorded."""

from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import HealthCheck, given
from hypothesis import settings as hypothesis_settings
from hypothesis import strategies as st

from witnessmark.checks.judgement import CheckRun, collect
from witnessmark.evidence.chain import ChainBook, ChainState
from witnessmark.model.finding import Finding, Rule
from witnessmark.model.project import Project

PIPEWORK = {"HTG": {"S1": ["J1", "J2"], "S2": ["J3"]}, "CWS": {"S3": ["J4"]}}
BROKEN, UNPROVEN, WEAK, CONCEDED, COMPLETE = ChainState


def book_of(project: Project, *findings: Finding, runs: tuple[CheckRun, ...] = ()) -> ChainBook:
    return ChainBook(project, collect(runs, findings))


@pytest.mark.parametrize(
    ("severity", "outcome", "state"),
    [
        ("breaks", "fail", BROKEN),
        ("breaks", "cannot tell", UNPROVEN),
        ("breaks", "waived", CONCEDED),
        ("weakens", "fail", WEAK),
        ("weakens", "cannot tell", WEAK),
        ("weakens", "waived", CONCEDED),
        ("tidy", "fail", COMPLETE),
        ("tidy", "cannot tell", COMPLETE),
        ("tidy", "waived", COMPLETE),
    ],
)
def test_state_by_severity_and_outcome(
    make_project: Callable[..., Project], make_finding: Callable[..., Finding], severity: str, outcome: str, state: Any
) -> None:
    """One finding about a joint makes the state of the joint, its section, its system and the pack, and no other."""
    book = book_of(make_project(PIPEWORK), make_finding(severity, outcome, sections=("S1",), joints=("J1",)))
    assert book.joint("J1").state == book.section("S1").state == book.system("HTG").state == book.pack.state == state
    others = [book.joint("J2"), book.joint("J3"), book.section("S2"), book.section("S3"), book.system("CWS")]
    assert {chain.state for chain in others} == {COMPLETE}


def test_finding_without_joints_concerns_every_joint_of_its_sections(
    make_project: Callable[..., Project], make_finding: Callable[..., Finding]
) -> None:
    book = book_of(make_project(PIPEWORK), make_finding("breaks", "fail", sections=("S1",)))
    assert book.joint_states == {"J1": BROKEN, "J2": BROKEN, "J3": COMPLETE, "J4": COMPLETE}
    assert book.section_states == {"S1": BROKEN, "S2": COMPLETE, "S3": COMPLETE}
    assert book.system_states == {"HTG": BROKEN, "CWS": COMPLETE}


def test_finding_about_a_joint_concerns_that_joint_and_its_section(
    make_project: Callable[..., Project], make_finding: Callable[..., Finding]
) -> None:
    book = book_of(make_project(PIPEWORK), make_finding("weakens", "fail", subject=("joint", "J2")))
    assert book.joint_states == {"J1": COMPLETE, "J2": WEAK, "J3": COMPLETE, "J4": COMPLETE}
    assert book.section("S1").state == book.system("HTG").state == WEAK


def test_finding_that_touches_no_section_concerns_the_pack(
    make_project: Callable[..., Project], make_finding: Callable[..., Finding]
) -> None:
    """A file that could not be read leaves the sections as they are and the pack broken."""
    book = book_of(make_project(PIPEWORK), make_finding("breaks", "fail", subject=("file", "records/tests.csv")))
    assert book.pack.state == BROKEN
    assert set(book.system_states.values()) == {COMPLETE}


def test_finding_about_a_system_concerns_the_system_and_not_its_sections(
    make_project: Callable[..., Project], make_finding: Callable[..., Finding]
) -> None:
    book = book_of(make_project(PIPEWORK), make_finding("breaks", "cannot tell", subject=("system", "CWS")))
    assert (book.system("CWS").state, book.section("S3").state, book.system("HTG").state) == (
        UNPROVEN,
        COMPLETE,
        COMPLETE,
    )


def test_first_link_is_the_first_of_the_registry_among_the_worst(
    make_project: Callable[..., Project], make_finding: Callable[..., Finding]
) -> None:
    """A weak link earlier in the chain does not hide the broken one; of two broken ones the earlier is told."""
    weak = make_finding("weakens", "cannot tell", slug="ends-not-recorded-one-by-one", sections=("S1",))
    late = make_finding("breaks", "fail", slug="gauge-not-in-calibration", sections=("S1",), message="The gauge.")
    early = make_finding("breaks", "fail", slug="ends-do-not-add-up", sections=("S1",), message="The ends.")
    chain = book_of(make_project(PIPEWORK), late, weak, early).section("S1")
    assert (chain.state, chain.first, chain.sentence) == (BROKEN, early, "The ends.")
    assert (chain.broken, chain.unproven, chain.weak, chain.conceded, chain.open) == (2, 0, 1, 0, 3)


def test_waived_link_names_who_accepted_it(
    make_project: Callable[..., Project], make_finding: Callable[..., Finding]
) -> None:
    chain = book_of(
        make_project(PIPEWORK), make_finding("breaks", "waived", sections=("S1",), message="No test.")
    ).section("S1")
    assert chain.sentence == "No test. Accepted by Designer on 1 May 2026."


def test_nothing_recorded_is_never_complete(make_project: Callable[..., Project]) -> None:
    """Sections without joints, systems without sections, an empty project, and ids that nobody wrote are unproven."""
    book = book_of(make_project({"HTG": {"S1": []}, "CWS": {}}))
    for chain in (book.section("S1"), book.system("HTG"), book.system("CWS"), book.pack, book.joint("J9")):
        assert chain.state == UNPROVEN
        assert chain.first is None
    assert book.section("S1").sentence == "No joint of section S1 is recorded as made."
    assert book.section("S9").sentence == "The records hold no section S9."
    assert book_of(make_project()).pack.state == UNPROVEN


def test_joints_that_were_only_voided_or_planned_make_no_complete_section(make_project: Callable[..., Project]) -> None:
    project = make_project(
        sections=[{"section_id": "S1"}], joints=[{"joint_id": "J1", "section_id": "S1", "status": "void"}]
    )
    assert book_of(project).section("S1").state == UNPROVEN


@pytest.mark.parametrize("row", [{"expected_ends": 0}, {"status": "planned"}, {"status": "removed"}])
def test_section_of_which_no_joint_is_expected_says_so(make_project: Callable[..., Project], row: Any) -> None:
    chain = book_of(make_project(sections=[{"section_id": "S1"} | row])).section("S1")
    assert chain.state == COMPLETE
    assert "every link" not in chain.sentence


def test_complete_chain_counts_joints_and_says_what_was_not_asked(
    make_project: Callable[..., Project], finding_rule: Rule
) -> None:
    project = make_project(PIPEWORK)
    assert book_of(project).section("S1").sentence == "The records show every link of the 2 joints of section S1."
    assert book_of(project).joint("J4").sentence == "The records show every link of joint J4."
    skipped = CheckRun(finding_rule, 0, 0, 0, 0, "it needs a scan")
    chain = book_of(project, runs=(skipped, CheckRun(finding_rule, 4, 0, 0, 0))).pack
    assert (chain.state, chain.unasked, chain.joints) == (COMPLETE, 1, 4)
    assert chain.sentence.endswith("that was asked for. One question was not asked.")


def test_rows_that_share_a_joint_id_share_the_worst(
    make_project: Callable[..., Project], make_finding: Callable[..., Finding]
) -> None:
    project = make_project({"HTG": {"S1": ["J1"], "S2": ["J1"]}})
    book = book_of(project, make_finding("breaks", "fail", sections=("S2",)))
    assert book.joint("J1").state == BROKEN
    assert book.joint("J1").joints == 2


IDS = st.lists(st.sampled_from(["J1", "J2", "J3", "J4", "J9"]), max_size=3, unique=True).map(tuple)
SECTIONS = st.lists(st.sampled_from(["S1", "S2", "S3", "S9"]), max_size=3, unique=True).map(tuple)
SUBJECTS = st.sampled_from([("joint", "J1"), ("section", "S2"), ("system", "CWS"), ("file", "x.csv"), ("joint", "J9")])
WORST = st.lists(
    st.tuples(
        st.sampled_from(["breaks", "weakens", "tidy"]),
        st.sampled_from(["fail", "cannot tell", "waived"]),
        SUBJECTS,
        SECTIONS,
        IDS,
    ),
    max_size=6,
)


@hypothesis_settings(max_examples=150, suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)
@given(WORST, st.randoms(use_true_random=False))
def test_never_better_than_the_worst_link_in_any_order(
    make_project: Callable[..., Project], make_finding: Callable[..., Finding], parts: Any, rng: Any
) -> None:
    project = make_project(PIPEWORK)
    findings = [
        make_finding(
            severity, outcome, subject=subject, sections=sections, joints=joints, message=f"{sections} {joints}"
        )
        for severity, outcome, subject, sections, joints in parts
    ]
    book = book_of(project, *findings)
    for joint in project.records.joints:
        assert book.joint_states[joint.joint_id] == book.joint(joint.joint_id).state
        assert book.section(joint.section_id).state.rank <= book.joint(joint.joint_id).state.rank
    for section in project.records.sections:
        assert book.system(section.system_id).state.rank <= book.section(section.section_id).state.rank
    for system in project.records.systems:
        assert book.pack.state.rank <= book.system(system.system_id).state.rank
    if any(f.rule.severity == "breaks" and f.outcome == "fail" for f in findings):
        assert book.pack.state == BROKEN
    shuffled = list(findings)
    rng.shuffle(shuffled)
    again = book_of(project, *shuffled)
    assert again.joint_states == book.joint_states
    assert again.pack == book.pack
