"""What a section may carry, through an edition: sentence, drawing, table and figures."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

from witnessmark.model.contract import Edition
from witnessmark.model.finding import Outcome
from witnessmark.model.quantity import Worked
from witnessmark.pages.context import Context
from witnessmark.pages.figure import NO_BREAK, display_figure
from witnessmark.pages.finding_view import State, state_of
from witnessmark.pages.rating_chart import RatingChart, rating_chart
from witnessmark.pages.table import NONE, NUMBER, Cell, Column, Row, TableView, free_text
from witnessmark.pages.words import clean, sentence_start
from witnessmark.pages.working import WorkingView, working_view
from witnessmark.workings.section_rating import RatedState, SectionRating, ServicePoint

NOT_RATED = Cell("not rated there", mark=NONE)
TEMPERATURE_OF_TEST = "pipe_start_c"
HEIGHT_OF_GAUGE = "gauge_elevation_m"


class Answer(NamedTuple):
    """A state and the sentence behind it."""

    state: State
    words: str


@dataclass(frozen=True, slots=True)
class RatingView:
    """The answer first; the rest is empty where an edition does not hold it or the records do not give it."""

    answer: Answer
    states: tuple[Answer, ...]
    seals: tuple[Answer, ...]
    chart: RatingChart | None
    table: TableView | None
    points: TableView | None
    figures: tuple[WorkingView, ...]
    note: str


def _tag_answer(rating: SectionRating) -> Answer:
    """The answer in words that name no component: the tag edition holds neither fittings nor seals."""
    state = rating.operating
    if rating.outcome is Outcome.CANNOT_TELL or state.rating_bar.value is None or state.pressure_bar.value is None:
        return Answer(state_of(rating.outcome), "The records do not say what the weakest part of this section carries.")
    if rating.outcome is Outcome.FAIL:
        words = "By the records a part of this section is rated less than it may see. Ask before you raise anything."
        return Answer(state_of(rating.outcome), words)
    celsius = display_figure(state.temperature_c.value or 0.0, "°C")
    carries, sees = (display_figure(value, "bar") for value in (state.rating_bar.value, state.pressure_bar.value))
    words = f"At {celsius} the weakest part is rated {carries}; the highest working pressure is {sees}."
    return Answer(state_of(rating.outcome), words)


def _sentence(rating: SectionRating, state: RatedState, words_of: Callable[[str], str]) -> str:
    if state.outcome is Outcome.CANNOT_TELL and len(rating.missing) > 3:
        return words_of(f"It cannot be told ({state.name}): missing is {'; '.join(rating.missing)}.")
    return words_of(state.sentence)


class RatingReader:
    """Makes the rating views of an edition."""

    def __init__(self, context: Context) -> None:
        self._context = context
        self._shows_tests = all(context.shows("tests", name) for name in (TEMPERATURE_OF_TEST, HEIGHT_OF_GAUGE))

    def view(self, section_id: str) -> RatingView | None:
        """The view of a section; ``None`` where nothing was worked out."""
        context = self._context
        rating = context.outcome.workings.ratings.get(section_id)
        if rating is None:
            return None
        if context.edition is Edition.TAG:
            return RatingView(_tag_answer(rating), (), (), None, None, None, (), "")
        words_of = context.words
        worst = next(state for state in rating.states if state.outcome is rating.outcome)
        answer = Answer(state_of(rating.outcome), _sentence(rating, worst, words_of))
        seals = tuple(
            Answer(state_of(seal.outcome), words_of(seal.sentence))
            for seal in rating.seals
            if seal.outcome is not Outcome.CANNOT_TELL or rating.complete
        )
        if not rating.complete or not rating.envelope:
            return RatingView(answer, (), seals, None, None, None, self._heads(rating), "")
        points = [p for p in rating.points if p.kind != "test" or self._shows_tests]
        hidden = len(rating.points) - len(points)
        numbers = {part.name: number for number, part in enumerate(rating.components, 1)}
        title = f"Pressure against temperature, section {clean(section_id)}"
        return RatingView(
            answer,
            tuple(Answer(state_of(s.outcome), _sentence(rating, s, words_of)) for s in rating.states if s is not worst),
            seals,
            rating_chart(rating, points, numbers, title),
            self._table(rating, numbers),
            _points(points),
            (*_margins(context, rating), *self._heads(rating)),
            "Tests are marked in the audit edition: their temperatures are held there." if hidden else "",
        )

    def _heads(self, rating: SectionRating) -> tuple[WorkingView, ...]:
        figures = [rating.static_head_bar, rating.high_point_bar, rating.boiling_bar]
        return tuple(
            working_view(each, self._context.edition, words_of=self._context.words) for each in figures if each.known
        )

    def _table(self, rating: SectionRating, numbers: dict[str, int]) -> TableView:
        states = [state for state in rating.states if state.temperature_c.value is not None]
        heads = [f"{sentence_start(s.name)}, {display_figure(s.temperature_c.value or 0.0, '°C')}" for s in states]
        columns = (Column("No.", True), Column("Component"), *(Column(head, True) for head in heads),
                   Column("Where it comes from"))  # fmt: skip
        rows = []
        for part in rating.components:
            cells = []
            for state in states:
                value = part.at(state.temperature_c.value or 0.0)
                cells.append(NOT_RATED if value is None else Cell(display_figure(value, "bar"), mark=NUMBER))
            corners = ", ".join(
                f"{display_figure(p.pressure_bar, 'bar')} at {display_figure(p.temperature_c, '°C')}"
                for p in part.envelope
            )
            basis = free_text(self._context.words(f"{part.basis}: {corners}"))
            rows.append(Row("", (Cell(str(numbers[part.name]), mark=NUMBER), free_text(part.name), *cells, basis)))
        for words, figures in (
            ("Weakest of them", [state.rating_bar for state in states]),
            ("Pressure there", [state.pressure_bar for state in states]),
            ("Margin", [state.margin_percent for state in states]),
        ):
            cells = [_worked_cell(figure) for figure in figures]
            rows.append(Row("", (Cell(""), Cell(words), *cells, Cell(""))))
        empty = "The records give no component of this section."
        return TableView("What each component carries", columns, tuple(rows), empty)


def _worked_cell(worked: Worked) -> Cell:
    if worked.value is None:
        return Cell("not in the records", mark=NONE)
    text = f"{worked.value:.0f}{NO_BREAK}%" if worked.unit == "%" else display_figure(worked.value, worked.unit)
    return Cell(text, mark=NUMBER)


def _margins(context: Context, rating: SectionRating) -> tuple[WorkingView, ...]:
    return tuple(
        replace(
            working_view(state.margin_percent, context.edition, words_of=context.words), name=f"Margin, {state.name}"
        )
        for state in rating.states
        if state.margin_percent.known
    )


def _points(points: Sequence[ServicePoint]) -> TableView:
    columns = (Column("Point"), Column("Temperature", True), Column("Pressure", True), Column("Answer"))
    rows = tuple(
        Row(
            "",
            (
                free_text(sentence_start(p.label.rpartition(": ")[0] or p.kind)),
                Cell(display_figure(p.temperature_c, "°C"), mark=NUMBER),
                Cell(display_figure(p.pressure_bar, "bar"), mark=NUMBER),
                Cell(p.outcome.value),
            ),
        )
        for p in points
    )
    return TableView("What the section sees", columns, rows, "The records give no pressure with a temperature.")
