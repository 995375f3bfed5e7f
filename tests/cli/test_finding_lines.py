"""Lines for people: sorted as given, many alike folded, nothing that could move the cursor."""

from __future__ import annotations

import dataclasses

from witnessmark.checks.judgement import CheckRun, collect
from witnessmark.cli.finding_lines import account_line, finding_lines, summary_line
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import SourceAccount
from witnessmark.model.source import SourceLocation

RULE = Rule("size-unknown", "?", Severity.WEAKENS, "", "", "", "", "")


def finding(
    row: int, column: str = "K", message: str = "Size is not known.", outcome: Outcome = Outcome.FAIL
) -> Finding:
    place = SourceLocation("records/joints.csv", "", row, column, "size")
    return Finding(RULE, outcome, message, "Fill it in.", Subject("joint", f"J{row}"), place)


def test_file_and_row_come_first_and_the_remedy_below() -> None:
    assert list(finding_lines([finding(14)], show_all=False)) == [
        "records/joints.csv:14: weakens: Size is not known. [size-unknown, column K]",
        "    closes: Fill it in.",
    ]


def test_a_question_without_an_answer_is_not_shown_as_a_failure() -> None:
    first, *_ = finding_lines([finding(14, outcome=Outcome.CANNOT_TELL)], show_all=False)
    assert ": weakens (cannot tell): " in first


def test_of_many_alike_in_a_column_the_first_few_stand_for_all() -> None:
    many = [finding(row) for row in range(2, 44)] + [finding(50, "L")]
    lines = [line for line in finding_lines(many, show_all=False) if not line.startswith(" ")]
    assert len(lines) == 7
    assert lines[5] == "… and 37 more of size-unknown in records/joints.csv, column K (--all shows them)"
    assert lines[6].startswith("records/joints.csv:50: ")
    assert len(list(finding_lines(many, show_all=True))) == 2 * len(many)


def test_a_single_one_too_many_is_shown_instead_of_counted() -> None:
    assert "more" not in "".join(finding_lines([finding(row) for row in range(2, 8)], show_all=False))


def test_related_places_are_named_once_and_a_long_list_is_cut() -> None:
    here = finding(14)
    assert here.location is not None
    places = [SourceLocation("records/joints.csv", "", row) for row in (3, 3, 4, 5, 6, 7, 8, 9)]
    lines = list(finding_lines([dataclasses.replace(here, related=(here.location, *places))], show_all=True))
    assert lines[2:] == [*(f"    see: records/joints.csv:{row}" for row in range(3, 8)), "    see: 2 more places"]


def test_a_finding_without_a_place_names_its_subject() -> None:
    bare = Finding(RULE, Outcome.FAIL, "Missing.", "Add it.", Subject("section", "S-1"))
    assert next(iter(finding_lines([bare], show_all=False))).startswith("section S-1: weakens: ")


def test_text_of_records_cannot_move_the_cursor_or_turn_the_line() -> None:
    line, *_ = finding_lines([finding(2, message="a\x1b[2Jb\nc\u202ed")], show_all=False)
    assert "\x1b" not in line
    assert "\n" not in line
    assert "\u202e" not in line


def test_the_account_says_when_it_does_not_add_up() -> None:
    good = SourceAccount("a.csv", "", "joints", 2431, 2390, 41, 2400)
    assert account_line([good]) == "Rows in 2,431 = used 2,390 + set aside 41"
    assert "≠" in account_line([SourceAccount("a.csv", "", "joints", 3, 1, 1, 1)])


def test_the_summary_counts_by_weight_and_names_what_could_not_be_asked() -> None:
    runs = [CheckRun(RULE, 1, 0, 0, 0, skipped="the records are missing"), CheckRun(RULE, 1, 1, 0, 0)]
    text = summary_line(
        collect(runs, [finding(2), finding(3, outcome=Outcome.CANNOT_TELL), finding(4, outcome=Outcome.WAIVED)])
    )
    assert text == (
        "2 findings: 0 break the evidence chain, 2 weaken it (1 cannot tell), 0 for tidiness; 1 waived. "
        "1 of 2 questions could not be asked."
    )
    assert "could not be asked" in summary_line(collect(runs[:1], []))
