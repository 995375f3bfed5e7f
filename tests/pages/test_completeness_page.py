"""The matrix: what is there and what is not, and every gap leads to what is missing."""

from collections.abc import Callable
from typing import Any

import pytest

from witnessmark.evidence.completeness import RECORD_TYPES, CellState
from witnessmark.model.contract import Edition
from witnessmark.model.finding import Finding, Waiver
from witnessmark.model.records import Record
from witnessmark.pages.completeness_page import SHAPES, CompletenessPage
from witnessmark.pages.frame import PageView
from witnessmark.pages.section_page import SectionPage
from witnessmark.pipeline import Outcome

Pages = Callable[[Outcome, Edition], dict[str, PageView]]


def _matrix(pages: dict[str, PageView]) -> list[CompletenessPage]:
    return [page for page in pages.values() if isinstance(page, CompletenessPage)]


@pytest.mark.parametrize("edition", [Edition.FACILITIES, Edition.AUDIT])
def test_every_gap_leads_to_a_row_that_says_what_is_missing(
    all_states: Outcome, pages_of: Pages, edition: Edition
) -> None:
    pages = pages_of(all_states, edition)
    rows: dict[str, Any] = {}
    for address, page in pages.items():
        if isinstance(page, SectionPage) and page.completeness is not None:
            rows.update({f"{address}#{row.anchor}": row for row in page.completeness.rows})
    (matrix,) = _matrix(pages)
    gaps = [cell for row in matrix.matrix.rows for cell in row.cells[2:] if cell.text[0] in "■◆○"]
    assert {cell.text[0] for cell in gaps} == {"■", "◆", "○"}
    for cell in gaps:
        assert rows[cell.link].cells[1].text[0] == cell.text[0]
    good = [cell for row in matrix.matrix.rows for cell in row.cells[2:] if cell.text[0] in "●–"]
    assert good
    assert {cell.link for cell in good} == {""}


def test_only_what_is_there_has_the_shape_of_a_pass() -> None:
    assert [state for state, shape in SHAPES.items() if shape == "●"] == [CellState.PRESENT]
    assert len(set(SHAPES.values())) == len(CellState)


def test_a_record_of_some_joints_says_of_how_many(
    record: Callable[..., Record], pipework: Callable[..., Outcome], pages_of: Pages
) -> None:
    joints = (
        record("joints", joint_id="J1", section_id="S1", operative_id="OP-03"),
        record("joints", joint_id="J2", section_id="S1"),
    )
    (matrix,) = _matrix(pages_of(pipework(joints=joints), Edition.FACILITIES))
    place = 2 + list(RECORD_TYPES).index("operative")
    assert [row.cells[place].text for row in matrix.matrix.rows] == [
        "◆\u00a01 of 2",
        "■\u00a0missing",
        "■\u00a0missing",
    ]


def test_the_auditor_reads_which_joints_and_which_check_and_facilities_staff_do_not(
    pipework: Callable[..., Outcome], make_finding: Callable[..., Finding], pages_of: Pages
) -> None:
    judged = pipework(make_finding("operative-not-trained", "cannot tell", sections=("S1",), joints=("J1", "J2")))
    code = judged.workings.tags.by_section["S1"]

    def training(edition: Edition) -> list[str]:
        page = pages_of(judged, edition)[f"T/{code}/index.html"]
        assert isinstance(page, SectionPage)
        assert page.completeness is not None
        (row,) = [row for row in page.completeness.rows if row.anchor == "kind-training"]
        return [cell.text for cell in row.cells]

    assert training(Edition.AUDIT)[3:] == ["J1, J2", "operative-not-trained"]
    assert len(training(Edition.FACILITIES)) == 3


def test_a_gap_that_was_accepted_says_by_whom_in_which_role(
    pipework: Callable[..., Outcome],
    make_finding: Callable[..., Finding],
    make_waiver: Callable[..., Waiver],
    pages_of: Pages,
) -> None:
    waived = make_finding("operative-not-trained", "waived", sections=("S1",), joints=("J1",), waiver=make_waiver())
    judged = pipework(waived)
    page = pages_of(judged, Edition.FACILITIES)[f"T/{judged.workings.tags.by_section['S1']}/index.html"]
    assert isinstance(page, SectionPage)
    assert page.completeness is not None
    (row,) = [row for row in page.completeness.rows if row.anchor == "kind-training"]
    assert row.cells[1].text == "○\u00a0waived"
    assert "accepted by Design engineer on 2 March 2026" in row.cells[2].text


def test_totals_add_up_to_every_section_by_every_kind(all_states: Outcome, pages_of: Pages) -> None:
    (page,) = _matrix(pages_of(all_states, Edition.AUDIT))
    for _, table in page.totals[1:]:
        assert sum(int(row.cells[1].text) for row in table.rows) == 3
        cells = sum(int(cell.text.replace(",", "")) for row in table.rows for cell in row.cells[2:])
        assert cells == 3 * len(RECORD_TYPES)


def test_more_than_five_hundred_sections_come_in_leaves_and_totals_stand_on_the_first(
    record: Callable[..., Record], pipework: Callable[..., Outcome], pages_of: Pages
) -> None:
    sections = tuple(record("sections", section_id=f"S{n}", system_id="HTG") for n in range(1001))
    leaves = _matrix(pages_of(pipework(sections=sections, joints=(), tests=()), Edition.FACILITIES))
    assert [len(leaf.matrix.rows) for leaf in leaves] == [500, 500, 1]
    assert [bool(leaf.totals) for leaf in leaves] == [True, False, False]
    assert [row.cells[0].text for leaf in leaves for row in leaf.matrix.rows] == [f"S{n}" for n in range(1001)]
