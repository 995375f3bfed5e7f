"""Every joint has an anchor of its own on the trace page of its section."""

import dataclasses
from collections.abc import Callable
from typing import Any

import pytest

from witnessmark.model.contract import Edition
from witnessmark.model.records import Joint, Record
from witnessmark.model.source import RowSource
from witnessmark.pages.context import Context
from witnessmark.pages.frame import PageView
from witnessmark.pages.sample_page import sample_page
from witnessmark.pages.trace_pages import SectionTracePage
from witnessmark.pipeline import Outcome

Pages = Callable[[Outcome, Edition], dict[str, PageView]]


@pytest.fixture
def two_files(record: Callable[..., Record], pipework: Callable[..., Outcome]) -> Outcome:
    """Two joints of section S1 from row 2 of two files, and one of S2 from row 2 of a third."""

    def joint(joint_id: str, section_id: str, file: str, sheet: str = "") -> Record:
        made = record("joints", joint_id=joint_id, section_id=section_id, tool_id="PT-02")
        source = made.source
        table = dataclasses.replace(source.table, file=file, sheet=sheet)
        return dataclasses.replace(made, source=RowSource(table, 2, source.raw))

    return pipework(
        joints=(
            joint("J1", "S1", "records/west.csv"),
            joint("J2", "S1", "records/east.xlsx", "Level 2"),
            joint("J3", "S2", "records/north.csv"),
            joint("J4", "S1", "records/east.xlsx", "Level 3"),
        )
    )


def test_joints_of_one_section_from_the_same_row_of_several_files_and_sheets_have_anchors_of_their_own(
    two_files: Outcome, pages_of: Pages
) -> None:
    pages = [page for page in pages_of(two_files, Edition.AUDIT).values() if isinstance(page, SectionTracePage)]
    anchors = {page.section.text: [joint.anchor for joint in page.joints] for page in pages}
    assert anchors == {"S1": ["row-2", "row-2-2", "row-2-3"], "S2": ["row-2"], "S3": []}


def test_the_trace_and_the_sample_lead_to_the_very_joint_that_they_name(two_files: Outcome, pages_of: Pages) -> None:
    context = Context(two_files, Edition.AUDIT)
    there: dict[str, str] = {}
    for page in pages_of(two_files, Edition.AUDIT).values():
        if isinstance(page, SectionTracePage):
            there.update({f"{page.address}#{joint.anchor}": joint.joint_id for joint in page.joints})
    walk: list[Any] = [row.cells[5] for row in sample_page(context).walk.rows]
    touched: list[Any] = [
        row.cells[0]
        for address, page in pages_of(two_files, Edition.AUDIT).items()
        if address.startswith("trace/tool/")
        for row in page.joints.rows  # type: ignore[attr-defined]  # pages of what a tool touched
    ]
    for cells in (walk, touched):
        assert sorted(cell.text for cell in cells) == ["J1", "J2", "J3", "J4"]
        assert {cell.text: there[cell.link] for cell in cells} == {cell.text: cell.text for cell in cells}


def test_a_joint_of_a_section_that_the_records_do_not_hold_leads_nowhere(
    record: Callable[..., Record], pipework: Callable[..., Outcome]
) -> None:
    joint = record("joints", joint_id="J9", section_id="gone")
    assert isinstance(joint, Joint)
    places = Context(pipework(joints=(joint,)), Edition.AUDIT).joint_places
    assert places.address(joint) == ""
