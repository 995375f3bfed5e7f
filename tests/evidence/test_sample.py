"""An audit sample is the same for everybody who has the seed, follows the plan, and looks where risk is."""

from __future__ import annotations

import datetime
import random
from collections import Counter
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest
from scipy.stats import chisquare

from witnessmark.engineering.acceptance_sampling import NoSamplingPlan
from witnessmark.evidence.sample import draw
from witnessmark.model.project import Project
from witnessmark.pipeline import Outcome


@pytest.fixture
def project(record: Any, make_outcome: Callable[..., Outcome]) -> Project:
    day = datetime.date(2026, 3, 2)
    joints = tuple(
        record(
            "joints",
            joint_id=f"J{n:04d}-A",
            section_id="S1" if n % 2 else "S2",
            level=str(n % 3),
            od_mm=108.0 if n == 400 else 22.0,
            operative_id=f"OP-{n % 4}",
            tool_id=f"PT-{n % 3}",
            fitting_batch_id=f"B-{n % 7}",
            press_date=day + datetime.timedelta(days=n % 20),
            status="cut_out" if n == 7 else "reworked" if n == 9 else "checked",
            boundary=n == 11,
        )
        for n in range(600)
    )
    return make_outcome(
        systems=(record("systems", system_id="H"), record("systems", system_id="C")),
        sections=(
            record("sections", section_id="S1", system_id="H", concealed=True),
            record("sections", section_id="S2", system_id="C"),
        ),
        joints=joints,
    ).project


def ids(sample: Any) -> list[str]:
    return [sampled.joint.joint_id for sampled in sample]


def test_the_same_seed_draws_the_same_joints_whatever_the_order_of_the_rows(project: Project) -> None:
    shuffled = list(project.records.joints)
    random.Random(4).shuffle(shuffled)
    other = replace(project, records=replace(project.records, joints=tuple(shuffled)))
    first, second = draw(project, "P03"), draw(other, "P03")
    assert (ids(first.chance), ids(first.walk)) == (ids(second.chance), ids(second.walk))
    assert ids(first.chance) != ids(draw(project, "P04").chance)


def test_the_size_follows_the_plan_and_joints_that_are_not_there_are_not_drawn(project: Project) -> None:
    """599 joints at level II are letter J, at AQL 2.5 a sample of 80, accept 5 (ISO 2859-1)."""
    sample = draw(project, "x")
    assert sample.lot == 599
    assert sample.plan is not None
    assert (sample.plan.letter, len(sample.chance), sample.plan.plan.accept, sample.plan.plan.reject) == ("J", 80, 5, 6)
    assert "J0007-A" not in ids(sample.walk)
    assert len(set(ids(sample.chance))) == 80


def test_a_sample_of_one_system_holds_only_its_joints(project: Project) -> None:
    sample = draw(project, "x", system_id="H")
    assert {each.joint.section_id for each in sample.walk} == {"S1"}


def test_every_risk_is_looked_at(project: Project) -> None:
    sample = draw(project, "x")
    walk = {each.joint.joint_id: each.why for each in sample.walk}
    assert "among the largest" in walk["J0400-A"]
    assert "reworked or altered" in walk["J0009-A"]
    assert "at the boundary of a test" in walk["J0011-A"]
    reasons = Counter(reason for each in sample.walk for reason in each.why)
    for wanted in (*(f"one of operative OP-{n}" for n in range(4)), *(f"one of batch B-{n}" for n in range(7))):
        assert reasons[wanted] == 1
    assert reasons["concealed"] == 5
    last = [each.joint.press_date for each in sample.walk if "among the last pressed" in each.why]
    assert set(last) == {datetime.date(2026, 3, 21)}


def test_the_walk_goes_level_by_level(project: Project) -> None:
    levels = [each.joint.level for each in draw(project, "x").walk]
    assert levels == sorted(levels, key=str)


def test_chance_favours_no_joint(project: Project) -> None:
    """Draws of 60 seeds over three equal shares of the joints, chi-square at 0.1 %."""
    shares: Counter[int] = Counter()
    for seed in range(60):
        shares.update(int(name[1:5]) * 3 // 600 for name in ids(draw(project, str(seed)).chance))
    assert (
        chisquare([shares[n] for n in range(3)], [1600 * k / 599 * 3 for k in (199.667, 199.667, 199.666)]).pvalue
        > 0.001
    )


def test_too_few_joints_for_a_plan_are_all_looked_at(record: Any, make_outcome: Callable[..., Outcome]) -> None:
    one = make_outcome(joints=(record("joints", joint_id="J1"),)).project
    assert (draw(one, "x").plan, ids(draw(one, "x").walk)) == (None, ["J1"])
    assert draw(make_outcome().project, "x").walk == ()


def test_an_unknown_level_or_aql_is_refused(project: Project) -> None:
    with pytest.raises(NoSamplingPlan, match="AQL '3'"):
        draw(project, "x", aql="3")
