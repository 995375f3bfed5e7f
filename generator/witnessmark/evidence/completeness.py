"""The completeness matrix: sections by kind of record, with totals by system, level and subcontractor.

Cells are counted from the records themselves: a record may be there and still not carry, which its findings tell.
"""

from collections import Counter, defaultdict
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property, partial

from witnessmark.evidence.chain import ChainBook
from witnessmark.evidence.completeness_slugs import CHECKS_OF
from witnessmark.evidence.record_counts import RecordCounts
from witnessmark.evidence.section_records import Count, SectionRecords
from witnessmark.model.day_words import day_words
from witnessmark.model.finding import Finding, Outcome, Waiver
from witnessmark.model.project import Project
from witnessmark.model.records import Section
from witnessmark.workings.work import Workings

NOT_RECORDED = "not recorded"
_STAGES = ("visual", "leak", "strength", "tightness")
_ONLY_THERE = ("planned", "removed")


class CellState(StrEnum):
    """Whether the records of a kind are there. Only ``PRESENT`` may be shown as good."""

    MISSING = "missing"
    INCOMPLETE = "incomplete"
    WAIVED = "waived"
    NOT_APPLICABLE = "not applicable"
    PRESENT = "present"


RECORD_TYPES: dict[str, str] = {
    "joints": "Joint log",
    "operative": "Operative named",
    "training": "Training",
    "tool": "Tool and jaw named",
    "service": "Tool service",
    "batch": "Batches",
    "certificate": "Batch certificates",
    "visual_check": "Second look at joints",
    "visual": "Visual test",
    "leak": "Leak test",
    "strength": "Strength test",
    "tightness": "Tightness test",
    "test_certificate": "Test certificates",
    "calibration": "Gauge calibration",
    "insulation": "Insulation",
    "support": "Supports",
    "valve": "Valves, drain, vent",
    "flushing": "Flushing",
    "disinfection": "Disinfection",
    "treatment": "Water treatment",
    "photo": "Photos",
    "drawing": "Drawing",
    "guarantee": "Guarantee terms",
}
"""Columns of the matrix, in order, with their headings."""


@dataclass(frozen=True, slots=True)
class Cell:
    """One kind of record of one section."""

    record_type: str
    state: CellState
    count: Count
    slugs: tuple[str, ...] = ()
    """Checks with an open finding of that kind that concerns the section."""
    waivers: tuple[Waiver, ...] = ()
    """Of a waived cell, the concessions."""

    @property
    def there(self) -> int:
        """Records that are there."""
        return self.count.there

    @property
    def needed(self) -> int | None:
        """Records that should be there; ``None`` where nothing says how many."""
        return self.count.needed

    @property
    def joint_ids(self) -> tuple[str, ...]:
        """Joints without such a record."""
        return self.count.joint_ids

    @property
    def words(self) -> str:
        """'3 of 5 joints pressed by someone with a training record', or why it is not asked for, or who waived it."""
        count = self.count
        if count.not_applicable:
            return count.not_applicable
        if count.once:
            words = count.words if count.there else f"no {count.words}"
        elif count.needed is None:
            words = f"{count.there:,} {count.words}"
        else:
            words = f"{count.there:,} of {count.needed:,} {count.words}"
        accepted = dict.fromkeys(
            f"accepted by {w.approved_by_role} on {day_words(w.approved_on)}" for w in self.waivers
        )
        return "; ".join([words, *accepted])


@dataclass(frozen=True, slots=True)
class MatrixRow:
    """One section."""

    section_id: str
    system_id: str
    level: str
    subcontractor: str
    cells: tuple[Cell, ...]
    """In the order of :data:`RECORD_TYPES`."""


@dataclass(frozen=True, slots=True)
class MatrixTotal:
    """Cells of several sections by state."""

    name: str
    sections: int
    cells: tuple[Mapping[CellState, int], ...]
    """In the order of :data:`RECORD_TYPES`; states that do not occur are 0."""

    def of(self, state: CellState) -> int:
        """Cells in that state, over all kinds of record."""
        return sum(cell[state] for cell in self.cells)


class Completeness:
    """The matrix of a project, a row at a time; totals over all rows are kept."""

    def __init__(self, project: Project, workings: Workings, chain: ChainBook) -> None:
        self._project = project
        self._chain = chain
        self._counts = RecordCounts(project, workings)
        self._columns = _columns(self._counts)
        self._types_of: dict[str, list[str]] = defaultdict(list)
        for record_type, slugs in CHECKS_OF.items():
            for slug in slugs:
                self._types_of[slug].append(record_type)

    @cached_property
    def rows(self) -> tuple[MatrixRow, ...]:
        """Every section in the order read."""
        return tuple(self._row(section) for section in self._project.records.sections)

    def section(self, section_id: str) -> MatrixRow | None:
        """The row of one section, without working out the others; ``None`` where there is no such section."""
        section = self._project.sections.get(section_id)
        return self._row(section) if section is not None else None

    @cached_property
    def by_system(self) -> tuple[MatrixTotal, ...]:
        """Totals by system, in the order of the systems table."""
        order = {system_id: place for place, system_id in enumerate(self._project.systems)}
        return self._totals(lambda row: row.system_id, lambda name: (order.get(name, len(order)), name))

    @cached_property
    def by_level(self) -> tuple[MatrixTotal, ...]:
        """Totals by level as the sections name it, in the order read."""
        return self._totals(lambda row: row.level)

    @cached_property
    def by_subcontractor(self) -> tuple[MatrixTotal, ...]:
        """Totals by subcontractor, in the order of their codes."""
        return self._totals(lambda row: row.subcontractor, lambda name: (name == NOT_RECORDED, name))

    @cached_property
    def total(self) -> MatrixTotal:
        """All sections."""
        return _total("all sections", self.rows)

    def _totals(
        self, name_of: Callable[[MatrixRow], str], order: Callable[[str], tuple[int, str]] | None = None
    ) -> tuple[MatrixTotal, ...]:
        groups: dict[str, list[MatrixRow]] = defaultdict(list)
        for row in self.rows:
            groups[name_of(row)].append(row)
        names = sorted(groups, key=order) if order is not None else list(groups)
        return tuple(_total(name, tuple(groups[name])) for name in names)

    def _row(self, section: Section) -> MatrixRow:
        return MatrixRow(
            section.section_id,
            section.system_id or NOT_RECORDED,
            section.level or NOT_RECORDED,
            section.subcontractor or NOT_RECORDED,
            self._cells(section),
        )

    def _cells(self, section: Section) -> tuple[Cell, ...]:
        if section.status in _ONLY_THERE:
            reason = Count(not_applicable=f"section {section.status}, by the sections table")
            return tuple(Cell(each, CellState.NOT_APPLICABLE, reason) for each in RECORD_TYPES)
        held = self._counts.of(section)
        findings: dict[str, list[Finding]] = defaultdict(list)
        for finding in self._chain.findings_of_section(section.section_id):
            for record_type in self._types_of.get(finding.rule.slug, ()):
                findings[record_type].append(finding)
        return tuple(_cell(key, count(held), findings.get(key, ())) for key, count in self._columns.items())


def _columns(counts: RecordCounts) -> dict[str, Callable[[SectionRecords], Count]]:
    return {
        "joints": counts.joints,
        "operative": counts.operative,
        "training": counts.training,
        "tool": counts.tool,
        "service": counts.service,
        "batch": counts.batch,
        "certificate": counts.certificate,
        "visual_check": counts.second_look,
        **{stage: partial(counts.stage, stage=stage) for stage in _STAGES},
        "test_certificate": counts.test_certificate,
        "calibration": counts.calibration,
        "insulation": counts.insulation,
        "support": counts.support,
        "valve": counts.valve,
        "flushing": counts.flushing,
        "disinfection": counts.disinfection,
        "treatment": counts.treatment,
        "photo": counts.photo,
        "drawing": counts.drawing,
        "guarantee": counts.guarantee,
    }


def _cell(record_type: str, count: Count, findings: Sequence[Finding]) -> Cell:
    opened: tuple[str, ...] = ()
    waivers: tuple[Waiver, ...] = ()
    if findings:
        opened = tuple(dict.fromkeys(f.rule.slug for f in findings if f.outcome is not Outcome.WAIVED))
        waivers = tuple(f.waiver for f in findings if f.waiver is not None)
    state = _state(count)
    if record_type in _STAGES and state in (CellState.PRESENT, CellState.NOT_APPLICABLE):
        # One check asks for all stages: its finding is about those that are not there.
        opened = ()
    if waivers and not opened and state in (CellState.MISSING, CellState.INCOMPLETE):
        return Cell(record_type, CellState.WAIVED, count, (), waivers)
    return Cell(record_type, state, count, opened)


def _state(count: Count) -> CellState:
    if count.not_applicable:
        return CellState.NOT_APPLICABLE
    if count.needed is not None and count.there >= count.needed > 0:
        return CellState.PRESENT
    return CellState.INCOMPLETE if count.there else CellState.MISSING


def _total(name: str, rows: tuple[MatrixRow, ...]) -> MatrixTotal:
    counters: list[Counter[CellState]] = [Counter() for _ in RECORD_TYPES]
    for row in rows:
        for counter, cell in zip(counters, row.cells, strict=True):
            counter[cell.state] += 1
    return MatrixTotal(name, len(rows), tuple({state: counter[state] for state in CellState} for counter in counters))
