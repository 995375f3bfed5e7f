"""An act read alone says what it is about."""

from collections.abc import Callable
from typing import Any

import pytest

from witnessmark.evidence.action_words import remedy_words, retest_words
from witnessmark.model.finding import Finding
from witnessmark.model.project import Project
from witnessmark.model.source import SourceLocation


@pytest.mark.parametrize(
    ("remedy", "findings", "words"),
    [
        (
            "Show the service record of that day.",
            [{"subject": ("tool", "PT-02")}],
            "Tool PT-02: show the service record of that day.",
        ),
        (
            "Add the training of operative OP-02.",
            [{"subject": ("operative", "OP-02")}],
            "Add the training of operative OP-02.",
        ),
        (
            "Get the letter.",
            [{"subject": ("batch", f"B-{n}")} for n in range(1, 6)],
            "Batches B-1, B-2 and 3 more: get the letter.",
        ),
        (
            "Cut the joint out.",
            [{"subject": ("section", "S1"), "sections": ("S1",), "joints": ("J1", "J2")}],
            "Joints J1 and J2: cut the joint out.",
        ),
        ("Cut the joint out.", [{"subject": ("section", "S1"), "sections": ("S1",)}], "Section S1: cut the joint out."),
        ("Ask in writing.", [{"subject": ("material", "carbon_steel")}], "Guarantee for carbon steel: ask in writing."),
        ("Walk the pipework.", [{"subject": ("project", "P")}], "Walk the pipework."),
        (
            "Correct the year.",
            [
                {
                    "slug": "date-far-off",
                    "subject": ("joint", f"J{row}"),
                    "location": SourceLocation("records/j.csv", "", row, "C", "Date"),
                }
                for row in (7, 5)
            ],
            "records/j.csv, column 'Date', 2 rows from row 5 on: correct the year.",
        ),
    ],
)
def test_remedy_is_led_by_what_it_is_about(
    make_finding: Callable[..., Finding], remedy: str, findings: list[dict[str, Any]], words: str
) -> None:
    assert remedy_words(remedy, [make_finding("breaks", "fail", **given) for given in findings]) == words


def test_retest_names_its_sections(make_project: Callable[..., Project], make_finding: Callable[..., Finding]) -> None:
    project = make_project({"HTG": {f"S{n}": [] for n in range(1, 6)}})
    one = make_finding("breaks", "fail", sections=("S1",))
    many = make_finding("breaks", "fail", sections=tuple(f"S{n}" for n in range(1, 6)))
    assert retest_words(project, "HTG", [one]).startswith("Retest section S1 of system HTG, by the procedure")
    assert retest_words(project, "HTG", [one, many]).startswith("Retest sections S1, S2 and 3 more of system HTG,")
