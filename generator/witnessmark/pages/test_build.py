"""Builds test pages: the verdict of every stage through an edition."""

from collections import defaultdict
from collections.abc import Iterator

from witnessmark.model.quantity import Worked
from witnessmark.model.records import TestStage
from witnessmark.pages.address import root_of, row_address
from witnessmark.pages.context import Context
from witnessmark.pages.fact import FactReader
from witnessmark.pages.finding_view import state_of
from witnessmark.pages.frame import Link
from witnessmark.pages.leak_bar import sensitivity_view
from witnessmark.pages.rating_view import Answer
from witnessmark.pages.test_page import PointView, StageView, TestPage
from witnessmark.pages.trace_curve import trace_view
from witnessmark.pages.words import NOT_IN_RECORDS, choice_words, clean, date_words
from witnessmark.pages.working import WorkingView, working_view
from witnessmark.workings.stage_point import Point
from witnessmark.workings.test_verdict import StageVerdict

FACTS = (
    "date", "start_time", "end_time", "medium", "procedure", "required_pressure_bar", "pressure_basis",
    "start_pressure_bar", "end_pressure_bar", "settle_min", "hold_min", "instrument_id", "gauge_elevation_m",
    "ambient_start_c", "ambient_end_c", "pipe_start_c", "pipe_end_c", "barometer_start_mbar", "barometer_end_mbar",
    "relief_set_bar", "topped_up", "boundary", "joints_inspected", "leaks_found", "made_safe", "made_safe_date",
    "tester", "witness", "witness_organisation", "witness_date", "certificate_no", "document_id", "remarks",
)  # fmt: skip

_HEIGHT = ("tests", "gauge_elevation_m")
_HEAT = ("tests", "pipe_start_c")
BEHIND = {
    "pressure_reached": (_HEIGHT,),
    "within_rating": (_HEIGHT, _HEAT),
    "topped_up": (("tests", "topped_up"),),
    "drop": (_HEAT, ("tests", "barometer_start_mbar")),
    "stuck": (_HEAT, ("tests", "pipe_end_c")),
    "calibration": (("calibrations", "certificate_no"), ("instruments", "serial")),
    "inspected": (("tests", "joints_inspected"),),
}
"""Columns that the sentence of an answer may quote; where an edition may not show one, it shows the answer alone."""
HELD_BACK = "The figures behind this answer are in the audit edition."


class TestBuilder:
    """Makes the pages of all tests of an edition."""

    __test__ = False

    def __init__(self, context: Context) -> None:
        self._context = context
        self._facts = FactReader(context, "tests", FACTS)
        self._open = {
            key: all(context.shows(table, field) for table, field in columns) for key, columns in BEHIND.items()
        }

    def pages(self) -> Iterator[TestPage]:
        """Every test's page, in the order of the records."""
        stages: dict[str, list[tuple[int, TestStage]]] = defaultdict(list)
        for index, stage in enumerate(self._context.outcome.project.records.tests):
            stages[stage.test_id].append((index, stage))
        for test_id, found in stages.items():
            yield self.page(test_id, found)

    def page(self, test_id: str, stages: list[tuple[int, TestStage]]) -> TestPage:
        """One test's page; ``stages`` with their places in the register."""
        context = self._context
        address = context.test_addresses[test_id]
        views = tuple(self._stage(number, index, stage) for number, (index, stage) in enumerate(stages, 1))
        sections = dict.fromkeys(name for _, stage in stages for name in stage.section_ids)
        return TestPage(
            frame=context.frame,
            address=address,
            root=root_of(address),
            title=f"Test {clean(test_id)}",
            crumbs=(Link("Home", "index.html"), Link("Tests", "registers/tests.html")),
            test_id=clean(test_id),
            sections=tuple(Link(clean(name), context.section_addresses.get(name, "")) for name in sections),
            summary=tuple((Link(view.title, f"{address}#{view.anchor}"), view.answer) for view in views),
            stages=views,
            note="" if context.audit else HELD_BACK.replace("this answer", "some answers"),
        )

    def _stage(self, number: int, index: int, stage: TestStage) -> StageView:
        context = self._context
        workings = context.outcome.workings
        place = stage.source.location
        verdict = workings.verdicts[place]
        sensitivity = workings.sensitivities.get(place)
        trace = workings.traces.get(place)
        attempt = f"Attempt {stage.attempt}" if stage.attempt is not None else "Attempt not numbered"
        result = choice_words(stage.result) if stage.result else NOT_IN_RECORDS
        day = f" of {date_words(stage.date)}" if stage.date else ""
        energy = verdict.stored_energy_kj
        return StageView(
            anchor=f"s{number}",
            title=f"{attempt}, {choice_words(stage.stage or 'unnamed')} stage",
            answer=Answer(state_of(verdict.outcome), self._summary(verdict)),
            recorded=f"The certificate{day} records: {result}.",
            points=self._points(verdict),
            energy=working_view(energy, context.edition, words_of=context.words) if energy is not None else None,
            cautions=verdict.cautions,
            sensitivity=(
                sensitivity_view(context, sensitivity, with_inputs=context.shows(*_HEAT)) if sensitivity else None
            ),
            trace=trace_view(context, trace) if trace is not None else None,
            facts=self._facts.facts(stage),
            register=Link("Row in the register", row_address("registers/tests", index)),
        )

    def _summary(self, verdict: StageVerdict) -> str:
        first = next(each for each in verdict.points if each.outcome is verdict.outcome)
        if self._open.get(first.key, True):
            return self._context.words(verdict.sentence)
        return verdict.sentence.partition(" First:")[0] + f" First: {first.question}"

    def _points(self, verdict: StageVerdict) -> tuple[PointView, ...]:
        shown: set[Worked] = set()
        return tuple(self._point(point, shown) for point in verdict.points)

    def _point(self, point: Point, shown: set[Worked]) -> PointView:
        if self._open.get(point.key, True):
            words, figures = self._context.words(point.sentence), self._figures(point, shown)
        else:
            words, figures = HELD_BACK, ()
        place = clean(point.location.words) if self._context.audit and point.location is not None else ""
        return PointView(state_of(point.outcome), point.question, words, figures, place)

    def _figures(self, point: Point, shown: set[Worked]) -> tuple[WorkingView, ...]:
        # A figure that several answers rest on opens under the first of them.
        known = [worked for worked in dict.fromkeys(point.workings) if worked.known and worked not in shown]
        shown.update(known)
        return tuple(working_view(each, self._context.edition, words_of=self._context.words) for each in known)
