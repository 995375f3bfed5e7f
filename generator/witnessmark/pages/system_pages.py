"""Systems and the lists of their sections."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from witnessmark.evidence.chain import ChainState
from witnessmark.model.quantity import Worked
from witnessmark.model.records import Section, System
from witnessmark.pages.address import LEAF_ROWS, leaf_address, leaf_count, root_of
from witnessmark.pages.chain_view import SHAPES, ChainView, chain_view
from witnessmark.pages.context import Context
from witnessmark.pages.fact import FactList, FactReader
from witnessmark.pages.figure import NO_BREAK, Figure, figure_text
from witnessmark.pages.frame import Link, PageView
from witnessmark.pages.register import Leaves, leaves_of
from witnessmark.pages.service import Band, Hazard
from witnessmark.pages.table import NONE, NUMBER, Cell, Column, Row, TableView, free_text
from witnessmark.pages.words import NOT_RECORDED, clean, counted
from witnessmark.pages.working import WorkingView, working_view
from witnessmark.workings.aids import system_masses
from witnessmark.workings.work import SystemWorkings

SYSTEM_FIELDS = (
    "service",
    "medium",
    "glycol_percent",
    "max_operating_pressure_bar",
    "max_design_pressure_bar",
    "min_temperature_c",
    "max_temperature_c",
    "upset_temperature_c",
    "relief_set_bar",
    "potable",
    "closed_circuit",
    "oil_free",
    "stops",
    "critical_for",
    "responsible_role",
    "water_treatment",
    "schematic",
)
SECTION_COLUMNS = (
    Column("Tag"),
    Column("Section"),
    Column("Name"),
    Column("Level"),
    Column("Where"),
    Column("State"),
    Column("Evidence"),
    Column("Water content", True),
)


@dataclass(frozen=True, slots=True)
class SystemLine:
    """A system in the list of systems."""

    link: Link
    name: str
    service: str
    bands: tuple[Band, ...]
    band_words: str
    medium: str
    sections: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SystemsIndex(PageView):
    """All systems."""

    systems: tuple[SystemLine, ...]
    without_system: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SystemPage(PageView):
    """One leaf of a system: facts and totals on the first, sections on all."""

    system_id: str
    service: str
    bands: tuple[Band, ...]
    band_words: str
    hazards: tuple[Hazard, ...]
    first: bool
    chain: ChainView | None
    facts: FactList | None
    totals: tuple[WorkingView, ...]
    sections: TableView
    leaves: Leaves


@dataclass(frozen=True, slots=True, kw_only=True)
class SectionsIndex(PageView):
    """One leaf of the list of all sections, in the order of the records."""

    sections: TableView
    leaves: Leaves


class _SectionRows:
    def __init__(self, context: Context, with_system: bool) -> None:
        self._context = context
        self._with_system = with_system
        self.columns = (
            (*SECTION_COLUMNS[:3], Column("System"), *SECTION_COLUMNS[3:]) if with_system else SECTION_COLUMNS
        )

    def row(self, section: Section) -> Row:
        context = self._context
        address = context.section_addresses[section.section_id]
        worked = context.outcome.workings.sections[section.section_id]
        content = worked.content_l
        cells = [
            Cell(context.outcome.workings.tags.by_section[section.section_id], address),
            free_text(section.section_id, address),
            _text(context, section, "name"),
            _text(context, section, "level"),
            _text(context, section, "location"),
            _text(context, section, "status"),
            self._chain(section),
            Cell(figure_text(Figure(content.value, content.unit, content.places)), mark=NUMBER)
            if content.value is not None
            else Cell("not known", mark=NONE),
        ]
        if self._with_system:
            link = context.system_link(section.system_id)
            cells.insert(3, free_text(link.text, link.address) if link else Cell(NOT_RECORDED, mark=NONE))
        return Row("", tuple(cells))

    def _chain(self, section: Section) -> Cell:
        state = self._context.outcome.evidence.chain.section_states[section.section_id]
        return Cell(f"{SHAPES[state]}{NO_BREAK}{state.value}", mark="" if state is ChainState.COMPLETE else NONE)

    def table(self, sections: Sequence[Section], caption: str) -> TableView:
        return TableView(caption, self.columns, tuple([self.row(s) for s in sections]), "The records show no section.")


def _text(context: Context, section: Section, field: str) -> Cell:
    value = getattr(section, field) if context.shows("sections", field) else None
    return (
        free_text(value.replace("_", " ") if field == "status" else value) if value else Cell(NOT_RECORDED, mark=NONE)
    )


def systems_index(context: Context) -> SystemsIndex:
    """The list of systems."""
    project = context.outcome.project
    lines = []
    for system in project.systems.values():
        link = context.system_link(system.system_id)
        assert link is not None
        brief = context.services[system.system_id]
        number = len(project.sections_of_system.get(system.system_id, []))
        lines.append(
            SystemLine(
                link,
                clean(system.name or ""),
                brief.words,
                brief.bands,
                brief.band_words,
                brief.medium,
                counted(number, "section"),
            )
        )
    strays = sum(1 for s in project.sections.values() if s.system_id not in project.systems)
    return SystemsIndex(
        frame=context.frame,
        address="systems.html",
        root="",
        title="Systems",
        crumbs=(Link("Home", "index.html"),),
        systems=tuple(lines),
        without_system=f"{counted(strays, 'section')} without a system of the records." if strays else "",
    )


def _system(context: Context, system: System, facts: FactReader, rows: _SectionRows) -> Iterator[SystemPage]:
    sections = context.outcome.project.sections_of_system.get(system.system_id, [])
    brief = context.services[system.system_id]
    worked = context.outcome.workings.systems[system.system_id]
    stem = f"systems/{context.system_slugs[system.system_id]}"
    system_id = clean(system.system_id)
    title = clean(system.name or "") or f"System {system_id}"
    for leaf in range(1, leaf_count(len(sections)) + 1):
        address = leaf_address(stem, leaf)
        part = sections[(leaf - 1) * LEAF_ROWS : leaf * LEAF_ROWS]
        first = leaf == 1
        yield SystemPage(
            frame=context.frame,
            address=address,
            root=root_of(address),
            title=title if first else f"{title}, leaf {leaf}",
            crumbs=(Link("Home", "index.html"), Link("Systems", "systems.html")),
            system_id=system_id,
            service=brief.words,
            bands=brief.bands,
            band_words=brief.band_words,
            hazards=brief.hazards,
            first=first,
            chain=chain_view(context, context.outcome.evidence.chain.system(system.system_id)) if first else None,
            facts=facts.facts(system) if first else None,
            totals=tuple(
                working_view(w, context.edition, words_of=context.words) for w in _totals(context, system_id, worked)
            )
            if first
            else (),
            sections=rows.table(part, "Sections of this system"),
            leaves=leaves_of(stem, leaf, len(sections), "section"),
        )


def _totals(context: Context, system_id: str, worked: SystemWorkings) -> tuple[Worked, ...]:
    aids = context.outcome.workings.aids
    members = context.outcome.project.sections_of_system.get(system_id, [])
    masses = system_masses(aids[section.section_id] for section in members if section.section_id in aids)
    return (worked.length_m, worked.content_l, worked.fittings_allowance_l, worked.plant_content_l, *masses)


def system_pages(context: Context) -> Iterator[SystemPage]:
    """Every leaf of every system."""
    facts = FactReader(context, "systems", SYSTEM_FIELDS)
    rows = _SectionRows(context, with_system=False)
    for system in context.outcome.project.systems.values():
        yield from _system(context, system, facts, rows)


def sections_index(context: Context) -> Iterator[SectionsIndex]:
    """Every leaf of the list of sections."""
    sections = tuple(context.outcome.project.sections.values())
    rows = _SectionRows(context, with_system=True)
    for leaf in range(1, leaf_count(len(sections)) + 1):
        address = leaf_address("sections", leaf)
        yield SectionsIndex(
            frame=context.frame,
            address=address,
            root=root_of(address),
            title="Sections and tags" if leaf == 1 else f"Sections and tags, leaf {leaf}",
            crumbs=(Link("Home", "index.html"),),
            sections=rows.table(sections[(leaf - 1) * LEAF_ROWS : leaf * LEAF_ROWS], "Sections, with their tags"),
            leaves=leaves_of("sections", leaf, len(sections), "section"),
        )
