"""Traces for the auditor: joints link by link, and what each batch, tool, operative and gauge touched."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from witnessmark.evidence.chain import ChainState
from witnessmark.evidence.joint_trace import TraceLink
from witnessmark.evidence.reverse_trace import KINDS, Touched
from witnessmark.model.finding import Outcome
from witnessmark.model.records import Joint, Section
from witnessmark.pages.address import LEAF_ROWS, leaf_address, leaf_count, root_of, slugs
from witnessmark.pages.chain_view import SHAPES as CHAIN_SHAPES
from witnessmark.pages.chain_view import ChainView, chain_state, chain_view
from witnessmark.pages.context import Context
from witnessmark.pages.finding_view import OUTCOME_KEYS, State
from witnessmark.pages.frame import Link, PageView
from witnessmark.pages.joint_place import trace_page
from witnessmark.pages.register import Leaves, leaves_of
from witnessmark.pages.table import NONE, NUMBER, Cell, Column, Row, TableView, free_text
from witnessmark.pages.words import clean, counted, sentence_start

INDEX = "trace.html"
TABLES = {"batch": "batches", "tool": "tools", "operative": "operatives", "gauge": "instruments"}
_KIND_OF = {table: kind for kind, table in TABLES.items()}
TITLES = {"batch": "Batches", "tool": "Press tools, jaws and slings", "operative": "Operatives", "gauge": "Gauges"}
STATE_WORDS = {
    Outcome.PASS: "recorded",
    Outcome.FAIL: "fail",
    Outcome.CANNOT_TELL: "cannot tell",
    Outcome.WAIVED: "waived",
}
_MOST = 40


class LinkView(NamedTuple):
    """One link of a joint's trace."""

    words: str
    record: str
    address: str
    detail: str
    state: State
    reason: str
    place: str


class RecordedView(NamedTuple):
    """A link that the joint's own row shows and nothing speaks against: only its column is named."""

    words: str
    record: str
    address: str
    detail: str
    column: str


class JointView(NamedTuple):
    """One joint with its own links: those that its row shows in short, the others in full."""

    anchor: str
    joint_id: str
    chain: ChainView
    source: str
    recorded: tuple[RecordedView, ...]
    links: tuple[LinkView, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SectionTracePage(PageView):
    """Every joint of one section. Links that all of its joints share stand once, above."""

    section: Link
    states: tuple[tuple[State, tuple[Link, ...]], ...]
    """Joints by the state of their chain, the worst first; their addresses are anchors of this page."""
    shared: tuple[LinkView, ...]
    joints: tuple[JointView, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class TouchedPage(PageView):
    """One leaf of what a batch, tool, operative or gauge touched."""

    record: Link
    summary: str
    lists: tuple[tuple[str, tuple[Link, ...], str], ...]
    guarantees: tuple[str, ...]
    joints: TableView
    leaves: Leaves


@dataclass(frozen=True, slots=True, kw_only=True)
class TraceIndex(PageView):
    """Everything that can be traced backwards."""

    tables: tuple[tuple[str, TableView], ...]
    """Heading and table."""


class TracePages:
    """Makes the pages; traces are worked out one by one, so that none need be kept."""

    def __init__(self, context: Context) -> None:
        self._context = context
        self._evidence = context.outcome.evidence
        self._views: dict[int, LinkView] = {}
        self._addresses: dict[tuple[str, str], str] = {}
        self._ids = {kind: self._evidence.reverse_trace.ids(kind) for kind in KINDS}
        self._stems = {
            kind: {each: f"trace/{kind}/{slug}" for each, slug in slugs(ids).items()} for kind, ids in self._ids.items()
        }

    def pages(self) -> Iterator[PageView]:
        """The index, every reverse trace, every section's joints."""
        touched_counts: dict[str, dict[str, Touched]] = {}
        for kind, ids in self._ids.items():
            touched_counts[kind] = {}
            for record_id in ids:
                touched = self._evidence.reverse_trace.touched(kind, record_id)
                touched_counts[kind][record_id] = touched
                yield from self._touched(touched)
        yield self._index(touched_counts)
        for section in self._context.outcome.project.sections.values():
            yield self._section(section)
            self._evidence.joint_trace.forget()

    def _index(self, touched: dict[str, dict[str, Touched]]) -> TraceIndex:
        columns = (Column("Id"), Column("Joints", True), Column("Sections", True), Column("Tests", True))
        tables = []
        for kind, found in touched.items():
            rows = tuple(
                Row(
                    "",
                    (
                        free_text(record_id, leaf_address(self._stems[kind][record_id], 1)),
                        Cell(f"{len(each.joints):,}", mark=NUMBER),
                        Cell(f"{len(each.sections):,}", mark=NUMBER),
                        Cell(f"{len(each.test_ids):,}", mark=NUMBER),
                    ),
                )
                for record_id, each in found.items()
            )
            table = TableView(f"What each {kind} touched", columns, rows, "The records show none.")
            tables.append((TITLES[kind], table))
        return TraceIndex(
            frame=self._context.frame,
            address=INDEX,
            root="",
            title="Trace",
            crumbs=(Link("Home", "index.html"),),
            tables=tuple(tables),
        )

    def _touched(self, touched: Touched) -> Iterator[TouchedPage]:
        context = self._context
        stem = self._stems[touched.kind][touched.record_id]
        columns = (
            Column("Joint"), Column("How"), Column("Section"), Column("Level"), Column("Where"), Column("Size"),
            Column("Evidence"), Column("Row"),
        )  # fmt: skip
        joints = touched.joints
        words = f"{counted(len(joints), 'joint')}, {counted(len(touched.sections), 'section')}, "
        words += counted(len(touched.test_ids), "test")
        for leaf in range(1, leaf_count(len(joints)) + 1):
            part = joints[(leaf - 1) * LEAF_ROWS : leaf * LEAF_ROWS]
            leaves = leaves_of(stem, leaf, len(joints), "joint")
            address = leaf_address(stem, leaf)
            name = clean(touched.record_id)
            title = f"What {touched.kind} {name} touched"
            yield TouchedPage(
                frame=context.frame,
                address=address,
                root=root_of(address),
                title=title if leaf == 1 else f"{title}, leaf {leaf}",
                crumbs=(Link("Home", "index.html"), Link("Trace", INDEX)),
                record=Link(name, context.address_of(TABLES[touched.kind], touched.record_id)),
                summary=f"{sentence_start(touched.kind)} {name} touched {words}.",
                lists=tuple(self._lists(touched)) if leaf == 1 else (),
                guarantees=tuple(_guarantees(touched)) if leaf == 1 else (),
                joints=TableView(
                    leaves.words,
                    columns,
                    tuple(self._joint_row(each.joint, each.how) for each in part),
                    "No joint of the records names it.",
                ),
                leaves=leaves,
            )

    def _lists(self, touched: Touched) -> Iterator[tuple[str, tuple[Link, ...], str]]:
        context = self._context
        sections = [
            Link(clean(section.section_id), context.section_addresses[section.section_id])
            for section in touched.sections
        ]
        tests = [Link(clean(test), context.address_of("tests", test)) for test in touched.test_ids]
        rooms = [Link(clean(room), "") for room in touched.rooms]
        tags = [Link(code, "") for code in touched.tag_codes]
        for words, links in (("Sections", sections), ("Rooms", rooms), ("Tags", tags), ("Tests", tests)):
            if links:
                more = f"and {len(links) - _MOST:,} more" if len(links) > _MOST else ""
                yield words, tuple(links[:_MOST]), more

    def _joint_row(self, joint: Joint, how: Sequence[str]) -> Row:
        context = self._context
        section_id = joint.section_id or ""
        section = context.outcome.project.sections.get(section_id)
        state = self._evidence.chain.joint_states[joint.joint_id]
        cells = (
            free_text(joint.joint_id, context.joint_places.address(joint)),
            Cell(", ".join(how)),
            free_text(section_id, context.section_addresses.get(section_id, "")) if section_id else _none(),
            _or_none(joint.level or (section.level if section else None)),
            _or_none(joint.location or (section.location if section else None)),
            Cell(f"{joint.od_mm:g} mm", mark=NUMBER) if joint.od_mm is not None else _none(),
            Cell(f"{CHAIN_SHAPES[state]} {state.value}"),
            free_text(joint.source.location.words),
        )
        return Row("", cells)

    def _section(self, section: Section) -> SectionTracePage:
        context = self._context
        joints = context.outcome.project.joints_of_section.get(section.section_id, [])
        traces = [(joint, self._evidence.joint_trace.trace(joint)) for joint in joints]
        shared = _shared([links for _, links in traces])
        alike = frozenset(map(id, shared))
        self._views.clear()
        code = context.outcome.workings.tags.by_section[section.section_id]
        address = trace_page(code)
        name = clean(section.section_id)
        views = tuple(self._joint(joint, links, alike) for joint, links in traces)
        return SectionTracePage(
            frame=context.frame,
            address=address,
            root=root_of(address),
            title=f"Joints of {name}, link by link",
            crumbs=(
                Link("Home", "index.html"),
                Link("Trace", INDEX),
                Link(name, context.section_addresses[section.section_id]),
            ),
            section=Link(name, context.section_addresses[section.section_id]),
            states=tuple(_by_state(views)),
            shared=tuple(self._link(link) for link in shared),
            joints=views,
        )

    def _joint(self, joint: Joint, links: Sequence[TraceLink], shared: frozenset[int]) -> JointView:
        row = joint.source.location
        recorded: list[RecordedView] = []
        others: list[LinkView] = []
        for link in links:
            if id(link) in shared:
                continue
            place = link.place
            if (
                link.state is Outcome.PASS
                and place is not None
                and place.row == row.row
                and place.file == row.file
                and place.sheet == row.sheet
            ):
                address = self._address(link)
                recorded.append(
                    RecordedView(link.words, clean(link.record_id), address, clean(link.detail), place.column)
                )
            else:
                others.append(self._link(link))
        return JointView(
            self._context.joint_places.anchor(joint),
            clean(joint.joint_id),
            chain_view(self._context, self._evidence.chain.joint(joint.joint_id)),
            clean(row.words),
            tuple(recorded),
            tuple(others),
        )

    def _link(self, link: TraceLink) -> LinkView:
        view = self._views.get(id(link))
        if view is None:
            view = self._views[id(link)] = self._made(link)
        return view

    def _address(self, link: TraceLink) -> str:
        key = (link.table, link.record_id)
        if key not in self._addresses:
            kind = _KIND_OF.get(link.table, "")
            stem = self._stems.get(kind, {}).get(link.record_id)
            known = bool(link.table and link.record_id)
            own = self._context.address_of(link.table, link.record_id) if known else ""
            self._addresses[key] = leaf_address(stem, 1) if stem is not None else own
        return self._addresses[key]

    def _made(self, link: TraceLink) -> LinkView:
        return LinkView(
            clean(link.words),
            clean(link.record_id) or "nothing recorded",
            self._address(link),
            clean(link.detail),
            State(STATE_WORDS[link.state], OUTCOME_KEYS[link.state]),
            clean(link.reason),
            clean(link.place.words) if link.place else "",
        )


def _by_state(joints: Sequence[JointView]) -> Iterator[tuple[State, tuple[Link, ...]]]:
    for state in map(chain_state, ChainState):
        of_state = tuple(Link(joint.joint_id, joint.anchor) for joint in joints if joint.chain.state == state)
        if of_state:
            yield state, of_state


def _shared(traces: Sequence[Sequence[TraceLink]]) -> tuple[TraceLink, ...]:
    """Links that are one and the same in every trace, as the tests of a section are."""
    if len(traces) < 2:
        return ()
    common = set(map(id, traces[0])).intersection(*(map(id, trace) for trace in traces[1:]))
    return tuple(link for link in traces[0] if id(link) in common)


def _guarantees(touched: Touched) -> Iterator[str]:
    for guarantee in touched.guarantees:
        by = f" by {clean(guarantee.guarantor)}" if guarantee.guarantor else ""
        number = counted(len(guarantee.section_ids), "section")
        yield f"Guarantee for {guarantee.material.replace('_', ' ')}{by}: {number} of these"


def _none() -> Cell:
    return Cell("not recorded", mark=NONE)


def _or_none(text: str | None) -> Cell:
    return free_text(text) if text else _none()
