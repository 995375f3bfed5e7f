"""Test pages: every attempt and stage stays, every question is answered, and editions show what they may."""

from collections.abc import Callable

import pytest

from witnessmark.model.contract import Edition
from witnessmark.model.trace import Trace
from witnessmark.pages.context import Context
from witnessmark.pages.leak_bar import leak_words
from witnessmark.pages.test_build import HELD_BACK, TestBuilder
from witnessmark.pages.test_page import TestPage
from witnessmark.pipeline import Outcome
from witnessmark.workings.stage_point import QUESTIONS

Make = Callable[..., Outcome]


def _pages(outcome: Outcome, edition: Edition = Edition.AUDIT) -> list[TestPage]:
    return list(TestBuilder(Context(outcome, edition)).pages())


def test_a_page_answers_every_question_of_a_pressed_stage(riser_outcome: Make) -> None:
    page = _pages(riser_outcome())[0]
    assert page.address.startswith("tests/pt-1")
    assert len(page.stages) == 1
    assert [point.question for point in page.stages[0].points] == [words for key, words in QUESTIONS.items()]
    assert page.stages[0].answer.state.words == "pass"


def test_figures_behind_an_answer_open_to_their_working(riser_outcome: Make) -> None:
    page = _pages(riser_outcome())[0]
    reached = next(p for p in page.stages[0].points if p.question == QUESTIONS["pressure_reached"])
    assert any(figure.formula and figure.inputs and figure.book for figure in reached.figures)


def test_failed_attempts_stay_on_the_page_in_order(riser_outcome: Make) -> None:
    first = riser_outcome()
    stage = first.project.records.tests[0]
    base = {name: getattr(stage, name) for name in type(stage).__dataclass_fields__ if name != "source"}
    outcome = riser_outcome(tests=[base | {"result": "fail"}, base | {"attempt": 2}])
    (page,) = _pages(outcome)
    assert [stage.title for stage in page.stages] == ["Attempt 1, strength stage", "Attempt 2, strength stage"]
    assert page.stages[0].answer.state.words == "fail"
    assert "records: fail" in page.stages[0].recorded
    assert len({stage.anchor for stage in page.stages}) == 2


def test_the_facilities_edition_gives_the_answer_but_not_figures_of_columns_that_it_may_not_show(
    riser_outcome: Make,
) -> None:
    page = _pages(riser_outcome(tests={"pipe_start_c": 11.37, "gauge_elevation_m": 1.73}), Edition.FACILITIES)[0]
    points = {point.question: point for point in page.stages[0].points}
    assert points[QUESTIONS["drop"]].words == HELD_BACK
    assert points[QUESTIONS["hold"]].words.startswith("It was held for 60 min")
    text = repr(page)
    for held in ("11.37", "1.73", "records/", "GA-1"):
        assert held not in text


def test_the_audit_edition_names_the_cell_of_every_answer(riser_outcome: Make) -> None:
    page = _pages(riser_outcome())[0]
    places = [point.place for point in page.stages[0].points]
    assert sum(place.startswith("records/") for place in places) >= len(places) - 2


def test_a_small_section_well_held_could_have_shown_one_unpressed_joint(riser_outcome: Make) -> None:
    sensitivity = _pages(riser_outcome())[0].stages[0].sensitivity
    assert sensitivity is not None
    assert sensitivity.answer.state.words == "pass"
    assert sensitivity.bar is not None
    assert float(sensitivity.bar.start) + float(sensitivity.bar.width) < float(sensitivity.bar.asked)
    assert not sensitivity.remedies


def test_a_coarse_gauge_on_a_big_section_could_not_and_the_page_says_what_would_help(riser_outcome: Make) -> None:
    outcome = riser_outcome(instruments={"resolution_bar": 1.0}, tubes={"length_m": 2000.0}, tests={"end_time": None})
    sensitivity = _pages(outcome)[0].stages[0].sensitivity
    assert sensitivity is not None
    assert sensitivity.answer.state.words == "fail" or sensitivity.answer.state.words == "cannot tell"
    assert sensitivity.bar is not None
    assert float(sensitivity.bar.start) + float(sensitivity.bar.width) > float(sensitivity.bar.asked)
    assert {words.split()[0] for words in sensitivity.remedies} >= {"Hold", "Test", "Use"}


def test_where_nothing_can_be_told_there_is_a_sentence_and_no_bar(riser_outcome: Make) -> None:
    sensitivity = _pages(riser_outcome(instruments=[]))[0].stages[0].sensitivity
    assert sensitivity is not None
    assert sensitivity.bar is None
    assert "cannot be told" in sensitivity.answer.words


def test_a_test_with_gas_carries_the_caution_and_the_stored_energy(riser_outcome: Make) -> None:
    """ASME PCC-2 (2008), Article 501: 0.25 * 7.61 * 40.9 * (1 - (1.01/7.61)^0.286) kJ, from memory of the formula."""
    outcome = riser_outcome(
        testing="dry",
        systems={"medium": "compressed_air"},
        tests={"medium": "nitrogen", "procedure": "dry", "start_pressure_bar": 6.6, "end_pressure_bar": 6.6},
    )
    stage = _pages(outcome)[0].stages[0]
    assert stage.cautions
    assert "licensed practice" in stage.cautions[0]
    assert stage.energy is not None
    assert stage.energy.figure is not None
    litres = 3.141592653589793 / 4 * 51.0**2 * 20 / 1000
    expected = 0.25 * 7.61 * litres * (1 - (1.01 / 7.61) ** 0.286)
    assert stage.energy.figure.value == pytest.approx(expected, rel=0.005)


def test_a_trace_stands_beside_the_certificate_on_the_clock_of_the_building(
    riser_outcome: Make, riser_trace: Callable[..., Trace]
) -> None:
    trace = _pages(riser_outcome(traces=(riser_trace(),)))[0].stages[0].trace
    assert trace is not None
    assert trace.curve is not None
    assert "10:00" in [tick.words for tick in trace.curve.x_ticks]
    assert any(band.hold for band in trace.curve.bands)
    assert len(trace.curve.path) < 20_000
    assert [row.cells[0].text for row in trace.compared.rows][:2] == ["Pressure at the start", "Pressure at the end"]


def test_a_peak_of_one_reading_survives_in_the_curve(riser_outcome: Make, riser_trace: Callable[..., Trace]) -> None:
    trace = riser_trace(hours=48)
    trace.pressures_bar[9000] = 15.8
    view = _pages(riser_outcome(traces=(trace,)))[0].stages[0].trace
    assert view is not None
    assert view.curve is not None
    assert "highest 15.8" in view.curve.description
    heights = [float(pair.split(" ")[1]) for pair in view.curve.path.removeprefix("M").split("L")]
    assert min(heights) < sorted(heights)[1] - 10
    assert len(view.curve.path) < 20_000


def test_a_trace_kept_for_the_audit_is_not_drawn_for_facilities(
    riser_outcome: Make, riser_trace: Callable[..., Trace]
) -> None:
    kept = riser_outcome(traces=(riser_trace(),))
    assert _pages(kept, Edition.FACILITIES)[0].stages[0].trace is None
    shared = riser_outcome(traces=(riser_trace(),), documents={"edition": "facilities"})
    view = _pages(shared, Edition.FACILITIES)[0].stages[0].trace
    assert view is not None
    assert "logs/one.csv" not in repr(view)


def test_leaks_are_written_with_two_digits_that_mean_something() -> None:
    assert [leak_words(value).replace("\u00a0", " ") for value in (0.00414, 0.18, 5.06, 83.4, 1234.0)] == [
        "0.0041 mL/min", "0.18 mL/min", "5.1 mL/min", "83 mL/min", "1,234 mL/min",
    ]  # fmt: skip
