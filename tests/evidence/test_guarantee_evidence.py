"""Conditions of a guarantee: the records show them, do not show them, or it cannot be told; never that they hold."""

import datetime
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from witnessmark.checks.registry import CHECKS
from witnessmark.evidence.evidence import Evidence
from witnessmark.evidence.guarantee_evidence import CONDITION_WORDS, ConditionRow, ConditionState
from witnessmark.evidence.guarantee_slugs import CHECKS_BEHIND
from witnessmark.model.finding import Finding
from witnessmark.model.project import Project
from witnessmark.model.settings import GUARANTEE_NEEDS, GuaranteeTerms, ProjectSettings

DAY = datetime.date
STEEL = GuaranteeTerms("carbon_steel", 10, "commissioning", "GUAR-1", 30, None, ("Only water of one make.",))
TRAINED = {"operative_id": "OP-1", "trained_on": DAY(2025, 10, 1)}


def row(evidence: Evidence, need: str, material: str = "carbon_steel") -> ConditionRow:
    made = evidence.guarantee.material(material)
    assert made is not None
    return next(each for each in made.rows if each.need == need)


@pytest.fixture
def pipework(make_project: Callable[..., Project], settings: ProjectSettings) -> Callable[..., Project]:
    """Steel in S1 (two joints) and S2 (one), copper in S3; keywords change terms or add tables."""

    def make(terms: dict[str, Any] | None = None, **tables: Any) -> Project:
        steel = replace(STEEL, **(terms or {}))
        tables.setdefault(
            "sections",
            [
                {"section_id": s, "system_id": "HTG", "commissioned_on": DAY(2026, 5, 1)}
                for s in ("S1", "S2", "S3")
            ],
        )  # fmt: skip
        return make_project(
            settings=replace(settings, guarantee={"carbon_steel": steel}),
            systems=[{"system_id": "HTG", "medium": "treated_water"}],
            tubes=[
                {"section_id": "S1", "material": "carbon_steel"},
                {"section_id": "S2", "material": "carbon_steel"},
                {"section_id": "S3", "material": "copper"},
            ],
            joints=[
                {"joint_id": "J1", "section_id": "S1", "operative_id": "OP-1", "material_tube": "carbon_steel"},
                {"joint_id": "J2", "section_id": "S1", "operative_id": "OP-2"},
                {"joint_id": "J3", "section_id": "S2", "operative_id": "OP-1"},
                {"joint_id": "J4", "section_id": "S3", "operative_id": "OP-1"},
            ],
            **tables,
        )

    return make


def test_condition_without_findings_and_with_records_is_shown(
    pipework: Callable[..., Project], evidence_of: Callable[..., Evidence]
) -> None:
    project = pipework(trainings=[TRAINED, TRAINED, {"operative_id": "OP-9"}])
    made = row(evidence_of(project), "trained_operatives")
    assert made.state == ConditionState.SHOWN
    assert made.records == ("2 training records of 1 operative; 2 operatives pressed the joints.",)
    assert (made.joint_ids, made.section_ids, made.effect) == ((), (), "")


def test_no_record_at_all_cannot_be_told(
    pipework: Callable[..., Project], evidence_of: Callable[..., Evidence]
) -> None:
    """Silence of the checks is no evidence where no record speaks of the condition."""
    made = row(evidence_of(pipework()), "trained_operatives")
    assert made.state == ConditionState.CANNOT_TELL
    assert made.joint_ids == ("J1", "J2", "J3")


def test_check_that_was_not_asked_cannot_be_told(
    pipework: Callable[..., Project], evidence_of: Callable[..., Evidence]
) -> None:
    made = row(evidence_of(pipework(trainings=[TRAINED]), unasked=("operative-unknown",)), "trained_operatives")
    assert (made.state, made.unasked) == (ConditionState.CANNOT_TELL, ("operative-unknown",))


@pytest.mark.parametrize(
    ("outcome", "state", "words"),
    [
        ("fail", ConditionState.NOT_SHOWN, "A claim for 1 joint in 1 section could be refused."),
        ("cannot tell", ConditionState.CANNOT_TELL, "For 1 joint in 1 section nothing could be shown if a claim were"),
        ("waived", ConditionState.ACCEPTED, "was accepted and is recorded as leaving the guarantee as it is."),
    ],
)
def test_findings_decide_and_name_their_joints(
    pipework: Callable[..., Project],
    evidence_of: Callable[..., Evidence],
    make_finding: Callable[..., Finding],
    outcome: str,
    state: ConditionState,
    words: str,
) -> None:
    finding = make_finding("breaks", outcome, slug="operative-unknown", sections=("S1", "S3"), joints=("J2", "J4"))
    made = row(evidence_of(pipework(trainings=[TRAINED]), finding), "trained_operatives")
    assert (made.state, made.joint_ids, made.section_ids) == (state, ("J2",), ("S1",))
    assert words in made.effect
    assert made.findings == (finding,)


def test_finding_about_another_material_changes_nothing(
    pipework: Callable[..., Project], evidence_of: Callable[..., Evidence], make_finding: Callable[..., Finding]
) -> None:
    copper = make_finding("breaks", "fail", slug="operative-unknown", sections=("S3",))
    assert row(evidence_of(pipework(trainings=[TRAINED]), copper), "trained_operatives").state == ConditionState.SHOWN


def test_finding_about_the_project_concerns_every_joint(
    pipework: Callable[..., Project], evidence_of: Callable[..., Evidence], make_finding: Callable[..., Finding]
) -> None:
    whole = make_finding("breaks", "cannot tell", slug="operative-unknown")
    made = row(evidence_of(pipework(trainings=[TRAINED]), whole), "trained_operatives")
    assert (made.state, made.joint_ids) == (ConditionState.CANNOT_TELL, ("J1", "J2", "J3"))


@pytest.mark.parametrize(
    ("terms", "state", "words"),
    [
        # Commissioned on 1 May, 30 days: the last day is 31 May 2026; the issue is of 15 May 2026.
        (
            {},
            ConditionState.CANNOT_TELL,
            "Last day 31 May 2026 for 2 sections, from commissioning on 1 May 2026: still",
        ),
        ({"registered_on": DAY(2026, 5, 31)}, ConditionState.SHOWN, "Registered on 31 May 2026."),
        ({"registered_on": DAY(2026, 6, 1)}, ConditionState.NOT_SHOWN, "registered 1 day late."),
        ({"register_within_days": 10}, ConditionState.NOT_SHOWN, "passed, no registration recorded."),
        ({"register_within_days": 14}, ConditionState.CANNOT_TELL, "15 May 2026"),
        ({"basis": "delivery"}, ConditionState.CANNOT_TELL, "missing is the date of delivery of the material"),
    ],
)
def test_registration_against_its_last_day(
    pipework: Callable[..., Project],
    evidence_of: Callable[..., Evidence],
    terms: dict[str, Any],
    state: ConditionState,
    words: str,
) -> None:
    made = row(evidence_of(pipework(terms)), "registered_in_time")
    assert made.state == state
    assert any(words in record for record in made.records)


def test_conditions_in_the_guarantors_own_words_are_listed_as_untestable(
    pipework: Callable[..., Project], evidence_of: Callable[..., Evidence]
) -> None:
    made = evidence_of(pipework()).guarantee.material("carbon_steel")
    assert made is not None
    assert made.untestable == ("Only water of one make.",)
    assert "1 further condition cannot be tested from these records." in made.sentence
    assert made.joints == 3


def test_registration_without_a_last_day_cannot_be_tested(
    pipework: Callable[..., Project], evidence_of: Callable[..., Evidence]
) -> None:
    """No day was missed and none was kept: it is listed, and neither good nor bad."""
    made = evidence_of(pipework({"register_within_days": None})).guarantee.material("carbon_steel")
    assert made is not None
    assert "registered_in_time" not in [each.need for each in made.rows]
    assert made.untestable[0].endswith("the terms in project.yml state no last day to register.")


def test_material_without_terms_has_no_rows_and_says_so(
    pipework: Callable[..., Project], evidence_of: Callable[..., Evidence]
) -> None:
    made = evidence_of(pipework()).guarantee.material("copper")
    assert made is not None
    assert made.rows == ()
    assert "holds no guarantee terms" in made.sentence


def test_only_conditions_that_the_terms_need_have_a_row(
    pipework: Callable[..., Project], evidence_of: Callable[..., Evidence]
) -> None:
    made = evidence_of(pipework({"needs": ("tested", "registered_in_time")})).guarantee.material("carbon_steel")
    assert made is not None
    assert [each.need for each in made.rows] == ["registered_in_time", "tested"]


def test_dates_are_grouped_by_start(pipework: Callable[..., Project], evidence_of: Callable[..., Evidence]) -> None:
    sections = [
        {"section_id": "S1", "system_id": "HTG", "commissioned_on": DAY(2026, 5, 2)},
        {"section_id": "S2", "system_id": "HTG", "commissioned_on": DAY(2026, 5, 1)},
        {"section_id": "S3", "system_id": "HTG"},
    ]
    made = evidence_of(pipework(sections=sections)).guarantee.material("carbon_steel")
    assert made is not None
    assert [(d.register_by, d.ends_on, d.section_ids) for d in made.dates] == [
        (DAY(2026, 5, 31), DAY(2036, 5, 1), ("S2",)),
        (DAY(2026, 6, 1), DAY(2036, 5, 2), ("S1",)),
    ]
    assert (made.register_by, made.first_end) == (DAY(2026, 5, 31), DAY(2036, 5, 1))


def test_excluded_by_a_concession_is_told_as_not_covered(
    pipework: Callable[..., Project], evidence_of: Callable[..., Evidence], make_finding: Callable[..., Finding]
) -> None:
    finding = make_finding("breaks", "waived", slug="operative-unknown", sections=("S2",))
    assert finding.waiver is not None
    out = replace(finding, waiver=replace(finding.waiver, guarantee_effect="excluded"))
    made = row(evidence_of(pipework(trainings=[TRAINED]), out), "trained_operatives")
    assert made.effect.endswith("By C-01 the guarantee does not cover 1 joint in 1 section.")


def test_every_condition_has_words_and_existing_checks_behind_it() -> None:
    """None of them waits for records that no table holds: its condition could never be shown."""
    slugs = {check.rule.slug for check in CHECKS if not check.awaits}
    assert tuple(CONDITION_WORDS) == tuple(CHECKS_BEHIND) == GUARANTEE_NEEDS
    for behind in CHECKS_BEHIND.values():
        assert set(behind) <= slugs
        assert behind


def test_no_word_says_that_a_guarantee_is_valid(
    pipework: Callable[..., Project], evidence_of: Callable[..., Evidence]
) -> None:
    for material in evidence_of(pipework(trainings=[TRAINED])).guarantee.materials:
        told = " ".join(
            [material.sentence, *(f"{r.words} {r.state} {r.effect} {' '.join(r.records)}" for r in material.rows)]
        )
        assert not {"valid", "safe", "compliant"} & set(told.casefold().replace(".", "").split())
