"""The audit sample is a sheet to walk with, and says what it cannot prove."""

from collections.abc import Callable
from typing import Any

from witnessmark.model.contract import Edition
from witnessmark.model.records import Record
from witnessmark.pages.context import Context
from witnessmark.pages.sample_page import COLUMNS, SamplePage, sample_page
from witnessmark.pipeline import Outcome

MakeOutcome = Callable[..., Outcome]


def _page(outcome: Outcome) -> SamplePage:
    return sample_page(Context(outcome, Edition.AUDIT))


def test_few_joints_are_all_looked_at(pipework: MakeOutcome) -> None:
    page = _page(pipework())
    assert sorted(row.cells[5].text for row in page.walk.rows) == ["J1", "J2", "J3"]
    assert [row.cells[0].text for row in page.walk.rows] == ["1", "2", "3"]
    assert all(len(row.cells) == len(COLUMNS) for row in page.walk.rows)


def test_a_sample_says_its_plan_and_that_it_proves_nothing_of_the_rest(
    record: Callable[..., Record], pipework: MakeOutcome
) -> None:
    """ISO 2859-1, single sampling, normal inspection, level II: a lot of 501 to 1 200 has letter J, 80 to look at.

    At AQL 2.5 letter J accepts 5 and rejects 6 (tables 1 and 2-A; from memory).
    """
    joints = tuple(record("joints", joint_id=f"J{n}", section_id=f"S{n % 3 + 1}", status="checked") for n in range(600))
    page = _page(pipework(joints=joints))
    words = " ".join(page.sentences)
    assert "letter J, 80 joints drawn by chance" in words
    assert "5 with a fault are accepted and 6 are not" in words
    assert "proves nothing about the joints that were not looked at" in words
    assert len(page.walk.rows) >= 80


def test_the_same_issue_gives_the_same_sample_whatever_the_order_of_the_rows(
    record: Callable[..., Record], pipework: MakeOutcome
) -> None:
    joints = tuple(record("joints", joint_id=f"J{n}", section_id="S1", status="checked") for n in range(200))
    drawn: list[Any] = [
        [row.cells[5].text for row in _page(pipework(joints=each)).walk.rows] for each in (joints, joints[::-1])
    ]
    assert sorted(drawn[0]) == sorted(drawn[1])
    assert len(drawn[0]) < 200


def test_a_joint_without_place_size_or_section_says_so(record: Callable[..., Record], pipework: MakeOutcome) -> None:
    (row,) = _page(pipework(joints=(record("joints", joint_id="J1"),))).walk.rows
    assert [row.cells[n].text for n in (1, 4, 6)] == ["not recorded"] * 3
    assert row.cells[5].link == ""


def test_an_empty_log_gives_no_sheet(pipework: MakeOutcome) -> None:
    page = _page(pipework(joints=()))
    assert page.walk.rows == ()
    assert page.sentences == ("There are 0 joints to choose from: all are looked at, and no sampling plan applies.",)
