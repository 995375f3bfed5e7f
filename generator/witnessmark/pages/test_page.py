"""The page of a test: all attempts and stages, what each shows, and what it could have shown."""

from dataclasses import dataclass
from typing import NamedTuple

from witnessmark.pages.fact import FactList
from witnessmark.pages.finding_view import State
from witnessmark.pages.frame import Link, PageView
from witnessmark.pages.leak_bar import SensitivityView
from witnessmark.pages.rating_view import Answer
from witnessmark.pages.trace_curve import TraceView
from witnessmark.pages.working import WorkingView


class PointView(NamedTuple):
    """A question put to a stage: its answer, the sentence, figures behind it, and the cell to look at first."""

    state: State
    question: str
    words: str
    figures: tuple[WorkingView, ...]
    place: str


@dataclass(frozen=True, slots=True)
class StageView:
    """One stage of one attempt."""

    anchor: str
    title: str
    answer: Answer
    recorded: str
    """What the certificate says of it."""
    points: tuple[PointView, ...]
    energy: WorkingView | None
    cautions: tuple[str, ...]
    sensitivity: SensitivityView | None
    trace: TraceView | None
    facts: FactList
    register: Link


@dataclass(frozen=True, slots=True, kw_only=True)
class TestPage(PageView):
    """A test in one edition."""

    __test__ = False

    test_id: str
    sections: tuple[Link, ...]
    summary: tuple[tuple[Link, Answer], ...]
    stages: tuple[StageView, ...]
    note: str
