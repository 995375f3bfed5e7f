"""Findings and small projects made by hand for the tests of the evidence."""

import datetime
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from witnessmark.checks.judgement import CheckRun, collect
from witnessmark.checks.registry import RULES
from witnessmark.evidence.evidence import Evidence
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject, Waiver
from witnessmark.model.project import Project, Records
from witnessmark.model.records import Record
from witnessmark.model.settings import ProjectSettings
from witnessmark.model.source import SourceLocation
from witnessmark.workings.work import work

WAIVER = Waiver("C-01", "Designer", datetime.date(2026, 5, 1), None, "Seen dry", "none", SourceLocation("c.csv", "", 2))


def finding_of(
    severity: str,
    outcome: str,
    *,
    slug: str = "",
    subject: tuple[str, str] = ("project", "records"),
    sections: tuple[str, ...] = (),
    joints: tuple[str, ...] = (),
    message: str = "",
    **more: Any,
) -> Finding:
    """A finding of a rule that stands in the registry, or of an invented one where no slug is given."""
    known = {rule.slug: rule for rule in RULES}
    rule = known.get(slug) or Rule(
        slug or f"invented-{severity}", "Is it?", Severity(severity), "Do it.", "somebody", "", "", ""
    )
    answer = Outcome(outcome)
    return Finding(
        rule,
        answer,
        message or f"{rule.slug} {outcome} {'/'.join(joints or sections) or subject[1]}.",
        more.pop("remedy", rule.closes),
        Subject(*subject),
        section_ids=sections,
        joint_ids=joints,
        waiver=WAIVER if answer is Outcome.WAIVED else None,
        **more,
    )


@pytest.fixture
def make_finding() -> Callable[..., Finding]:
    """Makes findings: severity, outcome, and what it concerns."""
    return finding_of


@pytest.fixture
def make_project(record: Callable[..., Record], settings: ProjectSettings) -> Callable[..., Project]:
    """Makes a project out of rows by table; ``pipework`` is {system: {section: [joint, ...]}}."""

    def make(
        pipework: dict[str, dict[str, list[str]]] | None = None,
        settings: ProjectSettings = settings,
        **tables: list[dict[str, Any]],
    ) -> Project:
        rows: dict[str, list[dict[str, Any]]] = {name: list(given) for name, given in tables.items()}
        for system, sections in (pipework or {}).items():
            rows.setdefault("systems", []).append({"system_id": system})
            for section, joints in sections.items():
                rows.setdefault("sections", []).append({"section_id": section, "system_id": system})
                rows.setdefault("joints", []).extend({"joint_id": j, "section_id": section} for j in joints)
        records = {name: tuple(record(name, **row) for row in given) for name, given in rows.items()}
        return Project(Path("project"), settings, Records(**records))  # type: ignore[arg-type]  # tables by name

    return make


@pytest.fixture
def evidence_of() -> Callable[..., Evidence]:
    """Evidence of a project with findings; every check was asked, but for the slugs in ``unasked``."""

    def make(project: Project, *findings: Finding, unasked: tuple[str, ...] = ()) -> Evidence:
        runs = [CheckRun(rule, 1, 0, 0, 0, "it needs a scan" if rule.slug in unasked else "") for rule in RULES]
        return Evidence(project, work(project), collect(runs, findings))

    return make
