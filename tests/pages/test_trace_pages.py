"""Traces both ways: each joint link by link, and everything that a batch, tool, operative or gauge touched."""

from collections.abc import Callable
from typing import Any

import pytest

from witnessmark.model.contract import Edition
from witnessmark.model.finding import Finding, Waiver
from witnessmark.model.records import Record
from witnessmark.pages.finding_view import State
from witnessmark.pages.frame import PageView
from witnessmark.pages.trace_pages import JointView, SectionTracePage, TouchedPage, TraceIndex
from witnessmark.pipeline import Outcome

MakeOutcome = Callable[..., Outcome]
MakeFinding = Callable[..., Finding]
Pages = Callable[[Outcome, Edition], dict[str, PageView]]


def _of(pages: dict[str, PageView], kind: type) -> list[Any]:
    return [page for page in pages.values() if isinstance(page, kind)]


def _joint(pages: dict[str, PageView], joint_id: str) -> tuple[SectionTracePage, JointView]:
    ((page, joint),) = [
        (page, joint) for page in _of(pages, SectionTracePage) for joint in page.joints if joint.joint_id == joint_id
    ]
    return page, joint


def test_every_touched_joint_leads_to_its_own_links(all_states: Outcome, pages_of: Pages) -> None:
    pages = pages_of(all_states, Edition.AUDIT)
    anchors = {
        f"{page.address}#{joint.anchor}": joint.joint_id
        for page in _of(pages, SectionTracePage)
        for joint in page.joints
    }
    assert sorted(anchors.values()) == ["J1", "J2", "J3"]
    touched = _of(pages, TouchedPage)
    assert {page.address.split("/")[1] for page in touched} == {"tool", "batch", "operative", "gauge"}
    for page in touched:
        assert [row.cells[0].text for row in page.joints.rows] == ["J1", "J2", "J3"]
        for row in page.joints.rows:
            assert anchors[row.cells[0].link] == row.cells[0].text


def test_the_index_leads_to_everything_that_can_be_traced(all_states: Outcome, pages_of: Pages) -> None:
    pages = pages_of(all_states, Edition.AUDIT)
    (index,) = _of(pages, TraceIndex)
    links = [row.cells[0].link for _, table in index.tables for row in table.rows]
    assert len(links) == 4
    assert set(links) <= set(pages)
    assert [(row.cells[0].text, row.cells[1].text) for _, table in index.tables for row in table.rows] == [
        ("B-1", "3"), ("PT-02", "3"), ("OP-03", "3"), ("G-01", "3"),
    ]  # fmt: skip


def test_what_a_thing_touched_names_sections_tags_tests_and_guarantees(all_states: Outcome, pages_of: Pages) -> None:
    page = pages_of(all_states, Edition.AUDIT)["trace/gauge/g-01.html"]
    assert isinstance(page, TouchedPage)
    assert page.summary == "Gauge G-01 touched 3 joints, 2 sections, 1 test."
    lists = {words: [link.text for link in links] for words, links, _ in page.lists}
    codes = all_states.workings.tags.by_section
    assert lists == {"Sections": ["S1", "S2"], "Tags": [codes["S1"], codes["S2"]], "Tests": ["PT-1"]}


@pytest.mark.parametrize(
    ("outcome", "state"),
    [
        ("fail", State("fail", "fail")),
        ("cannot tell", State("cannot tell", "unknown")),
        ("waived", State("waived", "waived")),
    ],
)
def test_a_link_with_a_finding_shows_it_and_never_as_recorded(
    pipework: MakeOutcome,
    make_finding: MakeFinding,
    make_waiver: Callable[..., Waiver],
    pages_of: Pages,
    outcome: str,
    state: State,
) -> None:
    waiver = make_waiver() if outcome == "waived" else None
    finding = make_finding("operative-unknown", outcome, sections=("S1",), joints=("J1",), waiver=waiver)
    pages = pages_of(pipework(finding), Edition.AUDIT)
    _, joint = _joint(pages, "J1")
    assert "Pressed by" not in [link.words for link in joint.recorded]
    (link,) = [link for link in joint.links if link.words == "Pressed by"]
    assert link.state == state
    assert link.reason
    _, other = _joint(pages, "J2")
    assert "Pressed by" in [link.words for link in other.recorded]


def test_a_link_of_which_nothing_is_recorded_cannot_be_told(
    record: Callable[..., Record], pipework: MakeOutcome, pages_of: Pages
) -> None:
    joints = (record("joints", joint_id="J1", section_id="S1"),)
    _, joint = _joint(pages_of(pipework(joints=joints, tests=()), Edition.AUDIT), "J1")
    nothing = [link for link in joint.links if link.record == "nothing recorded"]
    assert {"Pressed on", "Pressed by", "Press tool", "Fitting batch"} <= {link.words for link in nothing}
    assert {link.state for link in nothing} == {State("cannot tell", "unknown")}


def test_what_a_row_shows_in_short_names_its_column(pipework: MakeOutcome, pages_of: Pages) -> None:
    _, joint = _joint(pages_of(pipework(), Edition.AUDIT), "J1")
    pressed = {link.words: link for link in joint.recorded}["Pressed by"]
    assert pressed.record == "OP-03"
    assert pressed.address == "trace/operative/op-03.html"
    assert pressed.column.isalpha()
    assert joint.source == "records/joints.csv, row 2"


def test_joints_of_a_section_are_listed_by_state_with_the_worst_first(
    pipework: MakeOutcome, make_finding: MakeFinding, pages_of: Pages
) -> None:
    pages = pages_of(pipework(make_finding("pressed-dry", sections=("S1",), joints=("J2",))), Edition.AUDIT)
    page, joint = _joint(pages, "J2")
    assert [(state.words, [link.text for link in links]) for state, links in page.states] == [
        ("broken", ["J2"]),
        ("complete", ["J1"]),
    ]
    assert page.states[0][1][0].address == joint.anchor


def test_links_that_all_joints_of_a_section_share_stand_once(pipework: MakeOutcome, pages_of: Pages) -> None:
    page, joint = _joint(pages_of(pipework(), Edition.AUDIT), "J1")
    shared = [(link.words, link.record) for link in page.shared]
    assert ("Gauge of PT-1", "G-01") in shared
    assert not set(shared) & {(link.words, link.record) for link in joint.links}


def test_a_thing_that_touched_more_than_five_hundred_joints_comes_in_leaves(
    record: Callable[..., Record], pipework: MakeOutcome, pages_of: Pages
) -> None:
    joints = tuple(record("joints", joint_id=f"J{n}", section_id="S1", tool_id="PT-02") for n in range(501))
    leaves = [
        page for page in _of(pages_of(pipework(joints=joints), Edition.AUDIT), TouchedPage) if "tool" in page.address
    ]
    assert [(leaf.address, len(leaf.joints.rows)) for leaf in leaves] == [
        ("trace/tool/pt-02.html", 500),
        ("trace/tool/pt-02.2.html", 1),
    ]
    assert [bool(leaf.lists) for leaf in leaves] == [True, False]
