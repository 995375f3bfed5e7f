"""One line says whether the records support handover, and what would get there; days count from the issue."""

import datetime
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from witnessmark.evidence.evidence import Evidence
from witnessmark.model.finding import Finding
from witnessmark.model.project import Project
from witnessmark.model.settings import GuaranteeTerms, ProjectSettings

DAY = datetime.date
PIPEWORK = {"HTG": {"S1": ["J1", "J2"]}}


@pytest.fixture
def ready(
    make_project: Callable[..., Project], evidence_of: Callable[..., Evidence], settings: ProjectSettings
) -> Callable[..., Any]:
    """Readiness of two joints; the issue is of 15 May 2026, completion on 12 June 2026."""

    def make(*findings: Finding, unasked: tuple[str, ...] = (), **changes: Any) -> Any:
        chosen = replace(settings, **({"completion_date": DAY(2026, 6, 12), "guarantee": {}} | changes))
        return evidence_of(make_project(PIPEWORK, settings=chosen), *findings, unasked=unasked).readiness

    return make


def test_complete_records_support_handover(ready: Callable[..., Any]) -> None:
    made = ready()
    assert made.supports
    assert made.sentence == (
        "The records support handover: they show every link of 2 joints. 28 days to completion (12 June 2026)."
    )
    assert made.actions == ()


def test_open_findings_are_counted(ready: Callable[..., Any], make_finding: Callable[..., Finding]) -> None:
    made = ready(
        make_finding("breaks", "fail", sections=("S1",), message="a"),
        make_finding("breaks", "cannot tell", sections=("S1",), message="b"),
        make_finding("breaks", "cannot tell", sections=("S1",), message="c"),
        make_finding("weakens", "fail", sections=("S1",), message="d"),
        make_finding("tidy", "fail", sections=("S1",), message="e"),
    )
    assert not made.supports
    assert made.verdict == ("The records do not yet support handover: 1 link is broken, 2 cannot be told, 1 is weak.")


def test_weak_links_alone_ask_for_an_explanation(
    ready: Callable[..., Any], make_finding: Callable[..., Finding]
) -> None:
    made = ready(make_finding("weakens", "cannot tell", sections=("S1",)))
    assert not made.supports
    assert made.verdict.startswith("The records do not yet support handover without explanation: 1 is weak")


def test_accepted_departures_and_questions_not_asked_are_told(
    ready: Callable[..., Any], make_finding: Callable[..., Finding]
) -> None:
    made = ready(make_finding("breaks", "waived", sections=("S1",)), unasked=("hold-too-short",))
    assert made.supports
    assert made.verdict == "The records support handover, and 1 departure was accepted. 1 question was not asked."


def test_nothing_recorded_does_not_support_handover(
    make_project: Callable[..., Project], evidence_of: Callable[..., Evidence]
) -> None:
    made = evidence_of(make_project({"HTG": {"S1": []}})).readiness
    assert not made.supports
    assert "No joint of section S1 is recorded as made." in made.verdict


@pytest.mark.parametrize(
    ("completion", "words"),
    [
        (DAY(2026, 5, 16), "1 day to completion (16 May 2026)."),
        (DAY(2026, 5, 15), "Completion is on the day of this issue (15 May 2026)."),
        (DAY(2026, 5, 8), "Completion was 7 days before this issue (8 May 2026)."),
        (None, "The day of completion is not stated."),
    ],
)
def test_days_to_completion(ready: Callable[..., Any], completion: datetime.date | None, words: str) -> None:
    assert ready(completion_date=completion).sentence.endswith(words)


@pytest.mark.parametrize(
    ("days", "registered", "words"),
    [
        # Commissioned on 1 May 2026; the issue is of 15 May 2026.
        (23, None, "carbon steel guarantee to be registered within 9 days (24 May 2026)"),
        (14, None, "carbon steel guarantee to be registered on the day of this issue"),
        (10, None, "carbon steel guarantee was to be registered 4 days before this issue (11 May 2026), and no"),
        (23, DAY(2026, 5, 10), ""),
        (None, None, ""),
    ],
)
def test_days_to_register_a_guarantee(
    make_project: Callable[..., Project],
    evidence_of: Callable[..., Evidence],
    settings: ProjectSettings,
    days: int | None,
    registered: datetime.date | None,
    words: str,
) -> None:
    """Until it is registered, and from the first section to start."""
    terms = GuaranteeTerms("carbon_steel", 10, "commissioning", "GUAR-1", days, registered)
    project = make_project(
        settings=replace(settings, guarantee={"carbon_steel": terms}),
        sections=[
            {"section_id": "S1", "commissioned_on": DAY(2026, 5, 1)},
            {"section_id": "S2", "commissioned_on": DAY(2026, 5, 9)},
        ],
        tubes=[{"section_id": s, "material": "carbon_steel"} for s in ("S1", "S2")],
    )
    made = evidence_of(project).readiness
    registrations = [deadline for deadline in made.deadlines if deadline.kind == "registration"]
    assert len(registrations) == bool(words)
    assert words in made.sentence
    assert all(deadline.section_ids == ("S1",) for deadline in registrations)
