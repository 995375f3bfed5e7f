"""Checks of ids and codes at their corners: nothing recorded, one thing written in two ways, a second issue."""

from collections.abc import Callable
from typing import Any

import pytest

from witnessmark.checks.identity import (
    earlier_tag_code_missing,
    ids_differ_only_in_case,
    joint_id_used_twice,
    section_with_two_tag_codes,
    tag_code_miswritten,
)
from witnessmark.checks.judgement import Answer
from witnessmark.checks.registry import CHECKS
from witnessmark.checks.run import judge
from witnessmark.model.finding import Outcome as Result
from witnessmark.pipeline import Outcome

Make = Callable[..., Outcome]
Record = Callable[..., Any]


def asked(check: Any, outcome: Outcome) -> Answer:
    answer: Answer = check.CHECK.run(outcome.project, outcome.workings)
    return answer


@pytest.mark.parametrize(
    "check",
    [earlier_tag_code_missing, ids_differ_only_in_case, joint_id_used_twice, section_with_two_tag_codes, tag_code_miswritten],
)  # fmt: skip
def test_a_project_without_records_is_no_pass(check: Any, make_outcome: Make) -> None:
    answer = asked(check, make_outcome())
    assert answer == Answer(0, ())


def test_many_ids_that_clash_in_one_section_are_one_finding(record: Record, make_outcome: Make) -> None:
    joints = [
        record("joints", joint_id=f"J{n:03d}", section_id="S1", od_mm=od) for n in range(40) for od in (22.0, 28.0)
    ]
    answer = asked(
        joint_id_used_twice, make_outcome(sections=(record("sections", section_id="S1"),), joints=tuple(joints))
    )
    assert answer.examined == 40
    (finding,) = answer.findings
    assert finding.subject.id == "S1"
    assert finding.joint_ids == tuple(f"J{n:03d}" for n in range(40))
    assert finding.message.startswith("In section S1 40 joint ids stand in more than one row")


def test_ids_that_clash_in_no_section_are_found_too(record: Record, make_outcome: Make) -> None:
    joints = (record("joints", joint_id="J1", od_mm=22.0), record("joints", joint_id="J1", od_mm=28.0))
    (finding,) = asked(joint_id_used_twice, make_outcome(joints=joints)).findings
    assert (finding.subject.kind, finding.subject.id, finding.section_ids) == ("joint", "J1", ())


def test_the_earlier_code_of_a_section_that_is_gone_still_stands(record: Record, make_outcome: Make) -> None:
    """A section was removed; its row of the register stayed, so its tag still leads somewhere."""
    outcome = make_outcome(
        tags=(record("tags", code="F7KX2MR", section_id="S9", first_issue="P01"),),
        issued_tags=(record("issued_tags", issue="P01", code="F7KX2MR", section_id="S9"),),
    )
    assert asked(earlier_tag_code_missing, outcome) == Answer(1, ())


def test_a_code_that_another_section_has_today_is_found_once(record: Record, make_outcome: Make) -> None:
    outcome = make_outcome(
        sections=(record("sections", section_id="S1"), record("sections", section_id="S2")),
        tags=(record("tags", code="F7KX2MR", section_id="S2", first_issue="P01"),),
        issued_tags=tuple(
            record("issued_tags", issue=issue, code="F7KX2MR", section_id="S1") for issue in ("P02", "P01")
        ),
    )
    (finding,) = asked(earlier_tag_code_missing, outcome).findings
    assert finding.outcome is Result.FAIL
    assert finding.message == "Tag code F7KX2MR stood for section S1 in issue P01 and stands for section S2 today."
    assert finding.section_ids == ("S1", "S2")


def test_codes_made_anew_by_the_build_count(record: Record, make_outcome: Make) -> None:
    """Where records/tags.csv was lost, the build gives the same code to the same section again."""
    section = record("sections", section_id="S1")
    code = make_outcome(sections=(section,)).workings.tags.by_section["S1"]
    issued = (record("issued_tags", issue="P01", code=code, section_id="S1"),)
    assert asked(earlier_tag_code_missing, make_outcome(sections=(section,), issued_tags=issued)) == Answer(1, ())


def test_an_earlier_issue_without_its_codes_cannot_be_told(record: Record, make_outcome: Make) -> None:
    outcome = make_outcome(tags=(record("tags", code="F7KX2MR", section_id="S1", first_issue="P01"),))
    (finding,) = asked(earlier_tag_code_missing, outcome).findings
    assert finding.outcome is Result.CANNOT_TELL
    assert "no row in the table of tag codes of earlier issues" in finding.message


def test_codes_whose_section_was_not_written_down_are_one_finding(record: Record, make_outcome: Make) -> None:
    outcome = make_outcome(
        tags=tuple(record("tags", code=code, section_id="S1", first_issue="P01") for code in ("AAA", "BBB")),
        issued_tags=tuple(record("issued_tags", issue="P01", code=code) for code in ("AAA", "BBB")),
    )
    (finding,) = asked(earlier_tag_code_missing, outcome).findings
    assert finding.outcome is Result.CANNOT_TELL
    assert "2 tag codes, the first of them AAA," in finding.message


def test_what_no_table_holds_is_listed_and_is_no_pass(make_outcome: Make) -> None:
    outcome = make_outcome()
    runs = {run.rule.slug: run for run in judge(outcome.project, outcome.workings, CHECKS).runs}
    for slug in ("tag-not-scanned-in-place", "joint-gone-since-last-issue"):
        assert runs[slug].outcome is Result.CANNOT_TELL
        assert "no table holds yet" in runs[slug].skipped
