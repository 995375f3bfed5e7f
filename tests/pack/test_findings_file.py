"""One shape for machine output: a list of findings that fits shared/contract/findings.schema.json."""

from __future__ import annotations

import datetime
import json
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator, FormatChecker, ValidationError

from witnessmark.checks.judgement import collect
from witnessmark.model.bundled import shared_path
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project, Records
from witnessmark.model.settings import Issue, ProjectSettings, TagSettings
from witnessmark.model.source import SourceLocation
from witnessmark.pack.findings_file import findings_document, findings_text
from witnessmark.pipeline import Outcome as PipelineOutcome
from witnessmark.workings.work import work


def rule(slug: str, severity: Severity) -> Rule:
    return Rule(slug, "?", severity, "Closes it.", "Contractor", "", "", "")


def judged(*findings: Finding) -> PipelineOutcome:
    settings = ProjectSettings("QW", "Quarry Wharf", "Europe/London", Issue("P01", datetime.date(2026, 6, 1)),
                               TagSettings("pipes.example"))  # fmt: skip
    project = Project(Path(), settings, Records())
    return PipelineOutcome(project, work(project), collect((), findings))


PLACE = SourceLocation("records/joints.xlsx", "Level 2", 14, "F", "Tool")
FINDINGS = (
    Finding(rule("date-two-ways", Severity.WEAKENS), Outcome.CANNOT_TELL, "'03/04/26' is two days.", "Say which order.",
            Subject("joint", "J-1 🔥 ‮x"), PLACE, (SourceLocation("project.yml"),), "Site office", ("S-1", "S-2")),
    Finding(rule("tool-unknown", Severity.BREAKS), Outcome.FAIL, "Tool PT-9 \ud800 is unknown.", "Add it.",
            Subject("project", "QW")),
)  # fmt: skip


@pytest.fixture(scope="module")
def validator() -> Draft202012Validator:
    schema = json.loads(shared_path("contract/findings.schema.json").read_text(encoding="utf-8"))
    Draft202012Validator.check_schema(schema)
    return Draft202012Validator(schema, format_checker=FormatChecker())


def test_findings_fit_their_schema(validator: Draft202012Validator) -> None:
    document = json.loads(findings_text(judged(*FINDINGS)))
    validator.validate(document)
    assert isinstance(document, list)


@pytest.mark.parametrize("change", [
    {"severity": "bad"}, {"outcome": "pass"}, {"message": ""}, {"location": "joints.csv:3"}, {"extra": 1}, {"slug": "A b"},  # noqa: E501  # a case to a line
])  # fmt: skip
def test_schema_refuses_what_is_no_finding(validator: Draft202012Validator, change: dict[str, Any]) -> None:
    document = findings_document(judged(*FINDINGS))
    with pytest.raises(ValidationError):
        validator.validate([document[0] | change])


def test_location_is_data_and_what_does_not_apply_is_null() -> None:
    worst, second = findings_document(judged(*FINDINGS))
    assert (worst["slug"], worst["location"], worst["whose"]) == ("tool-unknown", None, "Contractor")
    assert second["location"] == {
        "file": "records/joints.xlsx", "sheet": "Level 2", "row": 14, "column": "F", "heading": "Tool",
    }  # fmt: skip
    assert second["related"] == [{"file": "project.yml", "sheet": None, "row": None, "column": None, "heading": None}]
    assert (second["whose"], second["sections"]) == ("Site office", ["S-1", "S-2"])


def test_the_order_in_which_findings_were_made_does_not_matter() -> None:
    assert findings_text(judged(*FINDINGS)) == findings_text(judged(*reversed(FINDINGS)))


def test_text_is_utf_8_and_no_finding_is_an_empty_list() -> None:
    assert "🔥" in findings_text(judged(*FINDINGS)).encode("utf-8").decode("utf-8")
    assert findings_text(judged()) == "[]\n"
