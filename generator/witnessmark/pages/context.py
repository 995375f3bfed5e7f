"""What all page builders of one edition share, worked out once: frame, addresses, links and system briefs."""

from collections import defaultdict
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from functools import cached_property

from witnessmark.model.contract import Edition
from witnessmark.model.finding import Finding
from witnessmark.model.records import Document, Record, Section
from witnessmark.pages.address import row_address, section_address, slugs
from witnessmark.pages.edition_gate import shown
from witnessmark.pages.finding_view import FindingView, finding_view
from witnessmark.pages.frame import Frame, Link, MenuGroup
from witnessmark.pages.frame_build import frame_of
from witnessmark.pages.joint_place import JointPlaces
from witnessmark.pages.menu import menu_of
from witnessmark.pages.place_words import place_remover
from witnessmark.pages.service import ServiceBrief, service_brief
from witnessmark.pages.words import clean
from witnessmark.pipeline import Outcome

REGISTERS = (
    "joints",
    "tests",
    "valves",
    "nodes",
    "instruments",
    "tools",
    "operatives",
    "batches",
    "flushings",
    "treatments",
    "insulations",
    "supports",
    "snags",
    "concessions",
    "alterations",
    "documents",
)
"""Tables that have a register of their own, in the order of the menu."""
REGISTER_KEYS = {
    "nodes": "node_id",
    "instruments": "instrument_id",
    "tools": "tool_id",
    "operatives": "operative_id",
    "batches": "batch_id",
    "valves": "valve_id",
    "flushings": "flushing_id",
    "treatments": "treatment_id",
    "insulations": "insulation_id",
    "supports": "support_id",
    "snags": "snag_id",
    "concessions": "concession_id",
    "alterations": "alteration_id",
    "documents": "document_id",
}


@dataclass(frozen=True)
class Context:
    """An outcome seen through one edition."""

    outcome: Outcome
    edition: Edition
    guide: tuple[Link, ...] = ()
    """Narrative pages of this edition."""
    wide_tables: dict[str, tuple[str, ...]] = field(default_factory=dict, repr=False)
    """Headings of tables too wide for paper, by the name of their print layout; filled as pages are made."""
    _rows: dict[str, dict[str, str]] = field(default_factory=dict, repr=False)
    _recorded: dict[tuple[str, str], bool] = field(default_factory=dict, repr=False)
    _findings: dict[int, FindingView] = field(default_factory=dict, repr=False)

    @property
    def audit(self) -> bool:
        """Whether this is the edition that shows everything."""
        return self.edition is Edition.AUDIT

    @property
    def registers(self) -> bool:
        """Whether this edition has registers at all."""
        return self.edition is not Edition.TAG

    def shows(self, table: str, field_name: str) -> bool:
        """The gate, for this edition."""
        return shown(table, field_name, self.edition)

    @cached_property
    def system_slugs(self) -> dict[str, str]:
        """File names of the systems' pages."""
        return slugs(self.outcome.project.systems)

    @cached_property
    def test_addresses(self) -> dict[str, str]:
        """Address of every test's page, by test id; none where the edition holds no tests."""
        if not self.registers:
            return {}
        ids = dict.fromkeys(stage.test_id for stage in self.outcome.project.records.tests)
        return {test_id: f"tests/{slug}.html" for test_id, slug in slugs(ids).items()}

    @cached_property
    def words(self) -> Callable[[str], str]:
        """Makes a sentence of the workings fit for this edition: only the audit edition names files, rows and cells."""
        if self.audit:
            return clean
        remove = place_remover(self.outcome.project)
        return lambda text: clean(remove(text))

    @cached_property
    def section_addresses(self) -> dict[str, str]:
        """Address of every section's page, by section id."""
        codes = self.outcome.workings.tags.by_section
        return {section_id: section_address(code, section_id) for section_id, code in codes.items()}

    @cached_property
    def joint_places(self) -> JointPlaces:
        """Where the trace of every joint stands; the audit edition alone has such pages."""
        return JointPlaces(self.outcome.project, self.outcome.workings.tags.by_section)

    @cached_property
    def services(self) -> dict[str, ServiceBrief]:
        """Words, bands and hazards of every system, by system id."""
        return {s.system_id: service_brief(s) for s in self.outcome.project.records.systems}

    @cached_property
    def unknown_service(self) -> ServiceBrief:
        """The brief of a section whose system is not known."""
        return service_brief(None)

    @cached_property
    def frame(self) -> Frame:
        """The frame of all pages."""
        return frame_of(self.outcome.project.settings, self.edition, self.menu)

    @cached_property
    def menu(self) -> tuple[MenuGroup, ...]:
        """The menu of this edition."""
        return menu_of(self.edition, self.guide)

    def finding_view(self, finding: Finding) -> FindingView:
        """A finding in full, made once however many pages show it."""
        view = self._findings.get(id(finding))
        if view is None:
            view = self._findings[id(finding)] = finding_view(finding, self.section_addresses)
        return view

    def service_of(self, section: Section) -> ServiceBrief:
        """The brief of the section's system."""
        return self.services.get(section.system_id or "", self.unknown_service)

    def system_link(self, system_id: str | None) -> Link | None:
        """Link to a system's page; ``None`` where there is no such page."""
        if system_id is None or system_id not in self.system_slugs or not self.registers:
            return None
        return Link(clean(system_id), f"systems/{self.system_slugs[system_id]}.html")

    @cached_property
    def documents_about(self) -> dict[str, list[Document]]:
        """Documents by the ids that they say they are about."""
        about: dict[str, list[Document]] = defaultdict(list)
        for document in self.outcome.project.records.documents:
            for each in dict.fromkeys(part.strip() for part in (document.about or "").split(";")):
                if each:
                    about[each].append(document)
        return dict(about)

    def is_recorded(self, table: str, field_name: str) -> bool:
        """Whether at least one row of a table says something in a field, be it unreadable."""
        key = (table, field_name)
        known = self._recorded.get(key)
        if known is None:
            known = self._recorded[key] = _recorded(self.outcome.project.records.table(table), field_name)
        return known

    def address_of(self, table: str, record_id: str) -> str:
        """Address of the page or register row of a record; '' where this edition has none."""
        if table == "sections":
            return self.section_addresses.get(record_id, "")
        if not self.registers:
            return ""
        if table == "tests":
            return self.test_addresses.get(record_id, "")
        if table == "systems":
            slug = self.system_slugs.get(record_id)
            return f"systems/{slug}.html" if slug else ""
        return self._register_rows(table).get(record_id, "")

    def _register_rows(self, table: str) -> dict[str, str]:
        rows = self._rows.get(table)
        if rows is None:
            key = REGISTER_KEYS.get(table)
            records = self.outcome.project.records.table(table) if key else ()
            stem = f"registers/{table}"
            rows = {}
            for index, record in enumerate(records):
                rows.setdefault(getattr(record, key or ""), row_address(stem, index))
            self._rows[table] = rows
        return rows


def _recorded(records: Sequence[Record], field_name: str) -> bool:
    if not records or any(getattr(record, field_name) not in (None, ()) for record in records):
        return True
    # All values are missing; a cell may still hold something that could not be made out.
    places: dict[int, int] = {}
    for record in records:
        source = record.source
        table = id(source.table)
        place = places.get(table)
        if place is None:
            column = source.table.columns.get(field_name)
            place = places[table] = -1 if column is None else column.index
        if 0 <= place < len(source.raw) and source.raw[place].strip():
            return True
        if source.overrides and field_name in source.overrides and source.overrides[field_name].raw.strip():
            return True
    return False
