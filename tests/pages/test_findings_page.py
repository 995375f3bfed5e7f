"""Findings by whose job they are: every one stands once, can be closed from the page, and keeps its anchor."""

from collections.abc import Callable
from typing import Any

import pytest

from witnessmark.model.contract import Edition
from witnessmark.model.finding import Finding, Waiver
from witnessmark.pages.context import Context
from witnessmark.pages.findings_page import ACCEPTED, FindingsPage, findings_pages
from witnessmark.pipeline import Outcome

MakeOutcome = Callable[..., Outcome]
MakeFinding = Callable[..., Finding]


def _leaves(outcome: Outcome) -> list[FindingsPage]:
    return list(findings_pages(Context(outcome, Edition.AUDIT)))


def test_leaves_of_many_findings_keep_their_anchors_and_hold_each_finding_once(
    pipework: MakeOutcome, make_finding: MakeFinding
) -> None:
    """1,250 findings of three checks for two roles: checks are cut by the leaves."""
    many = [
        make_finding(slug, sections=("S1",), subject=("joint", f"{slug} {n}"), whose=whose)
        for slug, whose, number in (("a", "the tester", 400), ("b", "the tester", 400), ("c", "the designer", 450))
        for n in range(number)
    ]
    leaves = _leaves(pipework(*many))
    assert [sum(len(c.findings) for job in leaf.groups for c in job.checks) for leaf in leaves] == [500, 500, 250]
    anchors = {
        f"{leaf.address}#{anchor}"
        for leaf in leaves
        for job in leaf.groups
        for anchor in (job.anchor, *(check.anchor for check in job.checks))
    }
    first, *others = leaves
    assert [(job.whose, job.number) for job in first.jobs] == [("The tester", "800"), ("The designer", "450")]
    assert [leaf.jobs for leaf in others] == [(), ()]
    for job in first.jobs:
        assert job.address in anchors
        assert {check.address for check in job.checks} <= anchors
    subjects = [each.subject for leaf in leaves for job in leaf.groups for c in job.checks for each in c.findings]
    assert sorted(subjects) == sorted(f"joint {finding.subject.id}" for finding in many)


def test_the_counts_lead_to_where_the_findings_of_a_check_begin(
    pipework: MakeOutcome, make_finding: MakeFinding
) -> None:
    many = [make_finding("a", subject=("joint", f"a{n}")) for n in range(499)]
    many += [make_finding("b", subject=("joint", f"b{n}")) for n in range(3)]
    (job,) = _leaves(pipework(*many))[0].jobs
    assert [check.address for check in job.checks] == ["findings.html#job-1-a", "findings.html#job-1-b"]


def test_whoever_has_most_that_breaks_the_evidence_comes_first(
    pipework: MakeOutcome, make_finding: MakeFinding
) -> None:
    untidy = [make_finding("untidy", severity="tidy", whose="whoever keeps the records") for _ in range(2)]
    judged = pipework(
        *untidy,
        make_finding("pressed-dry", whose="the tester"),
        make_finding("not-drawn", severity="weakens", whose="the tester"),
    )
    (page,) = _leaves(judged)
    assert [job.whose for job in page.groups] == ["The tester", "Whoever keeps the records"]
    assert [check.anchor for check in page.groups[0].checks] == ["job-1-pressed-dry", "job-1-not-drawn"]


def test_accepted_departures_stand_last_with_role_day_end_reason_and_effect(
    pipework: MakeOutcome, make_finding: MakeFinding, make_waiver: Callable[..., Waiver]
) -> None:
    judged = pipework(
        make_finding("pressed-dry", "waived", sections=("S1",), whose="the tester", waiver=make_waiver()),
        make_finding("untidy", severity="tidy", whose="the designer"),
    )
    (page,) = _leaves(judged)
    assert [job.whose for job in page.groups] == ["The designer", ACCEPTED]
    assert ACCEPTED == "Accepted by concession"
    ((view,),) = [check.findings for check in page.groups[-1].checks]
    assert (view.state.words, view.state.key) == ("waived", "waived")
    assert view.accepted == (
        "Concession C-07, accepted by Design engineer on 2 March 2026 until 1 March 2027. "
        "Reason: Seen dry at the walk. The guarantor's consent is recorded."
    )


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"expires_on": None}, "on 2 March 2026, with no end."),
        ({"guarantee_effect": "none"}, "It is stated to leave the guarantee as it is."),
        ({"guarantee_effect": "excluded"}, "What it covers is stated to be out of the guarantee."),
        ({"guarantee_effect": "not stated"}, "What it does to the guarantee is not stated."),
    ],
)
def test_an_accepted_departure_says_what_is_not_stated(
    pipework: MakeOutcome,
    make_finding: MakeFinding,
    make_waiver: Callable[..., Waiver],
    change: dict[str, Any],
    words: str,
) -> None:
    (page,) = _leaves(pipework(make_finding("pressed-dry", "waived", waiver=make_waiver(**change))))
    ((view,),) = [check.findings for check in page.groups[0].checks]
    assert words in view.accepted


def test_a_finding_says_what_closes_it_whose_job_that_is_and_which_joints_it_is_about(
    pipework: MakeOutcome, make_finding: MakeFinding
) -> None:
    joints = [f"J{n}" for n in range(1, 43)]
    (page,) = _leaves(pipework(make_finding("pressed-dry", sections=("S1", "S2"), joints=joints)))
    ((view,),) = [check.findings for check in page.groups[0].checks]
    assert view.remedy.startswith("WORDS-OF-THE-FINDING")
    assert view.whose == "the tester"
    assert view.joints.startswith("J1, J2, ")
    assert view.joints.endswith("J30 and 12 more")
    assert [link.text for link in view.sections] == ["S1", "S2"]
    assert view.place == "records/joints.csv, row 2, column A (joint_id)"


def test_no_finding_is_no_praise(pipework: MakeOutcome) -> None:
    (page,) = _leaves(pipework())
    assert (page.jobs, page.groups, page.leaves.words) == ((), (), "0 findings")
