"""The page of a section: what a person at the pipe must know first, then everything the edition may show."""

from dataclasses import dataclass
from typing import NamedTuple

from witnessmark.pages.aid_view import AidsView
from witnessmark.pages.chain_view import ChainView
from witnessmark.pages.fact import Fact, FactList
from witnessmark.pages.finding_view import FindingView, OpenQuestion, WideFinding
from witnessmark.pages.frame import Link, PageView
from witnessmark.pages.rating_view import RatingView
from witnessmark.pages.service import Band, Hazard
from witnessmark.pages.table import TableView
from witnessmark.pages.working import InputView, WorkingView


class Flow(NamedTuple):
    """Direction of flow: an arrow and the same in words."""

    arrow: str
    words: str


class TubeLine(NamedTuple):
    """One tube length: material and size in words, and its worked figures."""

    material: str
    size: str
    figures: tuple[WorkingView, ...]


@dataclass(frozen=True, slots=True)
class GuaranteeView:
    """Guarantee of one material: last day, or what is missing, and what it hangs on."""

    material: str
    ends: str
    missing: str
    runs_from: str
    register_by: str
    registered: str
    reminders: str
    guarantor: str
    conditions: tuple[str, ...]
    formula: str
    inputs: tuple[InputView, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SectionPage(PageView):
    """A section in one edition. Empty parts are those that the edition does not hold."""

    code: str
    section_id: str
    service: str
    flow: Flow
    bands: tuple[Band, ...]
    band_words: str
    hazards: tuple[Hazard, ...]
    medium: str
    inside: tuple[Fact, ...]
    where: Fact
    stops: Fact
    status: Fact
    place: FactList
    ends: tuple[Fact, ...]
    about: FactList
    limits: tuple[WorkingView, ...]
    rating: RatingView | None
    aids: AidsView | None
    contents: tuple[WorkingView, ...]
    tubes: tuple[TubeLine, ...]
    tubes_missing: str
    joints: TableView | None
    joints_words: str
    tests: TableView | None
    tests_words: str
    guarantees: tuple[GuaranteeView, ...]
    guarantee_missing: str
    documents: TableView | None
    chain: ChainView | None
    """``None`` in the edition for everybody: what is said there must not depend on open findings."""
    trace: Link | None
    completeness: TableView | None
    findings: tuple[FindingView, ...]
    wide_findings: tuple[WideFinding, ...]
    findings_words: str
    questions: tuple[OpenQuestion, ...]
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SensitivePage(PageView):
    """The tag page of a section that the project marks sensitive: code, service and whom to call, no more."""

    code: str
    service: str
    bands: tuple[Band, ...]
    band_words: str
