"""Small pipework with hand-made findings, and everything that its pages say, for the tests of pages on evidence."""

import dataclasses
import datetime
from collections.abc import Callable, Iterator, Sequence
from typing import Any

import pytest

from witnessmark.checks.judgement import CheckRun
from witnessmark.checks.registry import RULES
from witnessmark.model.contract import Edition
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject, Waiver
from witnessmark.model.records import Record
from witnessmark.model.settings import GuaranteeTerms, ProjectSettings
from witnessmark.model.source import SourceLocation
from witnessmark.pages.all_pages import record_pages
from witnessmark.pages.context import Context
from witnessmark.pages.frame import PageView
from witnessmark.pipeline import Outcome as Judged

DAY = datetime.date(2026, 3, 2)
WORDS = "WORDS-OF-THE-FINDING"
PERSON = "Ada Press"


@pytest.fixture
def make_finding() -> Callable[..., Finding]:
    """Makes findings whose own words name a person and a file; ``slug`` is one of the registry, or invented."""
    known = {rule.slug: rule for rule in RULES}

    def make(
        slug: str = "invented-breaks",
        outcome: str = "fail",
        *,
        sections: Sequence[str] = (),
        joints: Sequence[str] = (),
        severity: str = "breaks",
        whose: str = "the tester",
        waiver: Waiver | None = None,
        subject: tuple[str, str] = ("project", "records"),
    ) -> Finding:
        rule = known.get(slug) or Rule(slug, f"Is {slug} shown?", Severity(severity), "Do it.", whose, "", "", "")
        return Finding(
            rule,
            Outcome(outcome),
            f"{WORDS}: {PERSON} in records/joints.csv.",
            f"{WORDS}: ask {PERSON}.",
            Subject(*subject),
            SourceLocation("records/joints.csv", "", 2, "A", "joint_id"),
            whose="" if slug in known else whose,
            section_ids=tuple(sections),
            joint_ids=tuple(joints),
            waiver=waiver,
        )

    return make


@pytest.fixture
def make_waiver() -> Callable[..., Waiver]:
    """Makes accepted departures; keywords change fields."""
    whole = Waiver(
        "C-07", "Design engineer", DAY, datetime.date(2027, 3, 1), "Seen dry at the walk", "needs_consent",
        SourceLocation("records/concessions.csv", "", 2),
    )  # fmt: skip
    return lambda **changes: dataclasses.replace(whole, **changes)


@pytest.fixture
def pipework(
    record: Callable[..., Record], make_outcome: Callable[..., Judged], settings: ProjectSettings
) -> Callable[..., Judged]:
    """S1 with J1 and J2, S2 with J3, S3 without any; one tool, batch, operative and gauge. Every check was asked.

    Positional arguments are findings; ``joints`` replaces the joints; ``unasked`` are slugs of checks not asked.
    """
    needs = ("system_parts_only", "trained_operatives", "serviced_tools", "tested")
    terms = GuaranteeTerms("copper", 30, "completion", "GUAR-1", 30, None, ("Only parts of one family.",), needs=needs)
    terms_in = dataclasses.replace(settings, guarantee={"copper": terms})

    def make(
        *findings: Finding, joints: tuple[Record, ...] | None = None, unasked: Sequence[str] = (), **tables: Any
    ) -> Judged:
        made = {
            "press_date": DAY, "operative_id": "OP-03", "tool_id": "PT-02", "fitting_batch_id": "B-1", "od_mm": 22.0,
            "material_tube": "copper", "status": "checked",
        }  # fmt: skip
        runs = tuple(
            CheckRun(rule, 1, 0, 0, 0, "its table is not kept" if rule.slug in unasked else "") for rule in RULES
        )
        rows: dict[str, tuple[Record, ...]] = {
            "systems": (record("systems", system_id="HTG", name="Heating", service="heating_flow"),),
            "sections": tuple(record("sections", section_id=s, system_id="HTG", level="2") for s in ("S1", "S2", "S3")),
            "joints": joints
            if joints is not None
            else tuple(
                record("joints", joint_id=joint, section_id=section, **made)
                for joint, section in (("J1", "S1"), ("J2", "S1"), ("J3", "S2"))
            ),
            "operatives": (record("operatives", operative_id="OP-03", name=PERSON, initials="A.P."),),
            "tools": (record("tools", tool_id="PT-02", kind="press_tool"),),
            "batches": (record("batches", batch_id="B-1", description="Elbows 22"),),
            "instruments": (record("instruments", instrument_id="G-01", kind="gauge"),),
            "tests": (
                record(
                    "tests", test_id="PT-1", attempt=1, stage="strength", section_ids=("S1", "S2"), date=DAY,
                    instrument_id="G-01", tester="OP-03", result="pass",
                ),
            ),
        }  # fmt: skip
        return make_outcome(findings=findings, runs=runs, settings=terms_in, **(rows | tables))

    return make


@pytest.fixture
def all_states(
    pipework: Callable[..., Judged], make_finding: Callable[..., Finding], make_waiver: Callable[..., Waiver]
) -> Judged:
    """A finding of every severity and outcome, and a section of which no joint is recorded."""
    findings = [
        make_finding(
            f"{severity}-{outcome.replace(' ', '-')}",
            outcome,
            severity=severity,
            sections=("S1",),
            joints=("J1",),
            waiver=make_waiver() if outcome == "waived" else None,
        )
        for severity in ("breaks", "weakens", "tidy")
        for outcome in ("fail", "cannot tell", "waived")
    ]
    findings.append(make_finding("operative-not-trained", "cannot tell", sections=("S1", "S2"), joints=("J1", "J3")))
    findings.append(
        make_finding("tool-out-of-service", "waived", sections=("S2",), joints=("J3",), waiver=make_waiver())
    )
    return pipework(*findings, unasked=("batch-without-certificate",))


@pytest.fixture
def pages_of() -> Callable[[Judged, Edition], dict[str, PageView]]:
    """Every page of an edition, by its address."""
    return lambda outcome, edition: {page.address: page for page in record_pages(Context(outcome, edition))}


def _values(value: Any) -> Iterator[Any]:
    yield value
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        for field in dataclasses.fields(value):
            if field.name != "frame":
                yield from _values(getattr(value, field.name))
    elif isinstance(value, (tuple, list)):
        for each in value:
            yield from _values(each)


@pytest.fixture
def values_of() -> Callable[[Any], Iterator[Any]]:
    """Every value that a view holds, at any depth, but for the frame that all pages share."""
    return _values
