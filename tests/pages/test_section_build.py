"""What a section page says, and what it does not pretend to know."""

import dataclasses
from collections.abc import Callable

import pytest

from witnessmark.model.contract import Edition
from witnessmark.model.records import Record
from witnessmark.pages.context import Context
from witnessmark.pages.section_build import SectionBuilder
from witnessmark.pages.section_page import SectionPage, SensitivePage
from witnessmark.pipeline import Outcome

MakeRecord = Callable[..., Record]


def _page(outcome: Outcome, section_id: str, edition: Edition = Edition.AUDIT) -> SectionPage:
    page = SectionBuilder(Context(outcome, edition)).page(outcome.project.sections[section_id])
    assert isinstance(page, SectionPage)
    return page


def test_the_first_screen_answers_what_where_inside_and_whom_to_call(small_outcome: Outcome) -> None:
    page = _page(small_outcome, "LTHW-F-R2", Edition.TAG)
    assert (page.service, page.flow.arrow, page.flow.words) == ("Heating flow", "↑", "flows up")
    assert page.band_words == "green · blue · crimson · blue · green"
    assert page.where.text == "Riser cupboard 2, left of the door, level 1 to 5"
    assert page.medium == "Treated water"
    # Content: 12.5 m of 54 × 1.2 at 2.0912 L/m and 3 m of 22 × 0.9 at 0.3205 L/m (EN 1057 sizes) are 27.1 L.
    assert [fact.text for fact in page.inside] == ["80\u00a0°C", "3.0\u00a0bar", "27.1\u00a0litres"]
    assert page.stops.text == "Heating on levels 0 to 5"
    assert [hazard.word for hazard in page.hazards] == ["HOT", "PRESSURE", "TREATED WATER"]
    assert (page.frame.duty.role, page.frame.duty.dial) == ("Duty engineer", "+442079460018")


def test_a_section_of_which_nothing_is_known_says_so_everywhere_and_warns(small_outcome: Outcome) -> None:
    page = _page(small_outcome, "X?", Edition.TAG)
    assert page.service == "Service not in the records"
    assert page.flow.words == "direction of flow not in the records"
    assert page.medium == "medium not in the records"
    assert [fact.known for fact in (*page.inside, page.where, page.stops, page.status)] == [False] * 6
    assert [hazard.word for hazard in page.hazards] == ["HAZARDS UNKNOWN"]
    assert page.tubes_missing == "not in the records: the tube: material, size and length"
    assert page.guarantee_missing == "not in the records: the material of the tube"


def test_a_figure_opens_to_formula_and_inputs_and_only_the_auditor_sees_the_cells(small_outcome: Outcome) -> None:
    audit = _page(small_outcome, "LTHW-F-R2").tubes[0].figures[2]
    facilities = _page(small_outcome, "LTHW-F-R2", Edition.FACILITIES).tubes[0].figures[2]
    assert audit.formula == facilities.formula == "V = π/4 · (D − 2·t)² · L / 1000"
    assert "records/tubes.csv, row 2" in audit.inputs[0].origin
    assert [each.origin for each in facilities.inputs] == ["", "", ""]
    assert _page(small_outcome, "LTHW-F-R2", Edition.TAG).tubes[0].figures[2].inputs == ()


def test_a_figure_that_cannot_be_worked_out_names_what_is_missing(small_outcome: Outcome) -> None:
    figure = _page(small_outcome, "GAS-B1").tubes[0].figures[2]
    assert figure.figure is None
    assert figure.missing == "not in the records: the wall, or the series of the tube; the length"


def test_the_guarantee_says_its_last_day_and_what_it_hangs_on(small_outcome: Outcome) -> None:
    (guarantee,) = _page(small_outcome, "LTHW-F-R2").guarantees
    assert guarantee.ends == "8 May 2056"
    assert guarantee.runs_from == "30 years from practical completion"
    assert guarantee.registered == "20 May 2026"
    (unknown,) = _page(small_outcome, "GAS-B1").guarantees
    assert unknown.ends == ""
    assert unknown.missing == "not in the records: the guarantee terms for carbon steel in project.yml"


def test_joints_show_the_text_as_written_beside_the_value_in_the_audit_edition_only(small_outcome: Outcome) -> None:
    def written(edition: Edition) -> set[str]:
        table = _page(small_outcome, "LTHW-F-R2", edition).joints
        assert table is not None
        return {cell.raw for row in table.rows for cell in row.cells} - {""}

    assert written(Edition.AUDIT) == {"02/03/2026", "54mm"}
    assert written(Edition.FACILITIES) == set()


def test_the_tag_edition_has_no_joints_tests_documents_or_findings(small_outcome: Outcome) -> None:
    page = _page(small_outcome, "LTHW-F-R2", Edition.TAG)
    assert (page.joints, page.tests, page.documents, page.findings, page.questions) == (None, None, None, (), ())


def test_facilities_staff_read_the_open_question_and_not_the_words_of_the_finding(small_outcome: Outcome) -> None:
    page = _page(small_outcome, "LTHW-F-R2", Edition.FACILITIES)
    assert page.findings == ()
    assert [(q.state.words, q.question) for q in page.questions] == [
        ("fail", "Was every section tested after its last joint was pressed?")
    ]


def test_a_log_by_the_fitting_says_that_its_ends_were_not_recorded_one_by_one(
    record: MakeRecord, make_outcome: Callable[..., Outcome]
) -> None:
    outcome = make_outcome(
        sections=(record("sections", section_id="R1"),),
        joints=(record("joints", joint_id="J1", section_id="R1", recorded_as_end=False),),
    )
    assert "not recorded one by one" in _page(outcome, "R1").joints_words


def test_a_cell_that_could_not_be_read_is_not_called_empty(
    record: MakeRecord, make_outcome: Callable[..., Outcome]
) -> None:
    outcome = make_outcome(
        sections=(record("sections", section_id="R1"),),
        joints=(record("joints", raw={"press_date": "03/04/26?"}, joint_id="J1", section_id="R1"),),
    )
    table = _page(outcome, "R1").joints
    assert table is not None
    (row,) = table.rows
    (cell,) = [cell for cell in row.cells if cell.raw]
    assert (cell.text, cell.raw, cell.mark) == ("could not be read", "03/04/26?", "none")


@pytest.mark.parametrize("edition", list(Edition))
def test_only_the_tag_edition_hides_a_sensitive_section(small_outcome: Outcome, edition: Edition) -> None:
    page = SectionBuilder(Context(small_outcome, edition)).page(small_outcome.project.sections["GAS-B1"])
    assert isinstance(page, SensitivePage) == (edition is Edition.TAG)


def test_views_cannot_be_changed(small_outcome: Outcome) -> None:
    page = _page(small_outcome, "LTHW-F-R2")
    with pytest.raises(dataclasses.FrozenInstanceError):
        page.code = "x"  # type: ignore[misc]  # that it cannot be set is the point
