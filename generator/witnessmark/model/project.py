"""A project as read: records, what was repaired, what was set aside, and look-ups over them."""

from collections import defaultdict
from dataclasses import dataclass, field
from functools import cached_property
from operator import attrgetter
from pathlib import Path

from witnessmark.model.finding import Finding
from witnessmark.model.records import (
    Alteration,
    Batch,
    Calibration,
    Concession,
    Document,
    Flushing,
    Instrument,
    Insulation,
    IssuedTag,
    Joint,
    Node,
    Operative,
    Rating,
    Record,
    Section,
    Snag,
    Support,
    System,
    Tag,
    TestStage,
    Tool,
    ToolService,
    Training,
    Treatment,
    TubeLength,
    Valve,
)
from witnessmark.model.settings import ProjectSettings
from witnessmark.model.source import SourceLocation
from witnessmark.model.trace import Trace

_NOT_THERE = frozenset({"void", "planned", "cut_out"})
"""States of a joint that is not in the pipework."""
_TUBE_THERE = attrgetter("section_id", "material_tube", "status")


@dataclass(frozen=True, slots=True)
class Repair:
    """One row of the repair ledger: a value that was read as something other than its plain text."""

    location: SourceLocation
    table: str
    field: str
    raw: str
    read: str
    reason: str


@dataclass(frozen=True, slots=True)
class SetAside:
    """A row that became no record, and why."""

    location: SourceLocation
    table: str
    reason: str
    raw: str


@dataclass(frozen=True, slots=True)
class SourceAccount:
    """The sum of one file or sheet: ``rows_in = rows_used + rows_set_aside``. Blank rows are not counted."""

    file: str
    sheet: str
    table: str
    rows_in: int
    rows_used: int
    rows_set_aside: int
    records: int
    """Records made from the rows used; more than those where a row stood for several."""
    sha256: str = ""

    @property
    def adds_up(self) -> bool:
        """Whether nothing was dropped silently."""
        return self.rows_in == self.rows_used + self.rows_set_aside


@dataclass(frozen=True, slots=True, kw_only=True)
class Records:
    """All records, a tuple a table, in the order read."""

    systems: tuple[System, ...] = ()
    sections: tuple[Section, ...] = ()
    tubes: tuple[TubeLength, ...] = ()
    nodes: tuple[Node, ...] = ()
    joints: tuple[Joint, ...] = ()
    tests: tuple[TestStage, ...] = ()
    instruments: tuple[Instrument, ...] = ()
    calibrations: tuple[Calibration, ...] = ()
    tools: tuple[Tool, ...] = ()
    tool_services: tuple[ToolService, ...] = ()
    operatives: tuple[Operative, ...] = ()
    trainings: tuple[Training, ...] = ()
    batches: tuple[Batch, ...] = ()
    ratings: tuple[Rating, ...] = ()
    documents: tuple[Document, ...] = ()
    valves: tuple[Valve, ...] = ()
    flushings: tuple[Flushing, ...] = ()
    treatments: tuple[Treatment, ...] = ()
    snags: tuple[Snag, ...] = ()
    concessions: tuple[Concession, ...] = ()
    alterations: tuple[Alteration, ...] = ()
    supports: tuple[Support, ...] = ()
    insulations: tuple[Insulation, ...] = ()
    issued_tags: tuple[IssuedTag, ...] = ()
    tags: tuple[Tag, ...] = ()

    def table(self, name: str) -> tuple[Record, ...]:
        """Records of the table of that name."""
        records: tuple[Record, ...] = getattr(self, name)
        return records


@dataclass(frozen=True)
class Project:
    """Everything read from one project folder. Nothing in it changes after reading."""

    folder: Path
    settings: ProjectSettings
    records: Records
    repairs: tuple[Repair, ...] = ()
    set_aside: tuple[SetAside, ...] = ()
    accounts: tuple[SourceAccount, ...] = ()
    traces: tuple[Trace, ...] = ()
    """Traces of the logger files that could be read."""
    findings: tuple[Finding, ...] = field(default=())
    """What intake could not read or would have had to guess."""

    @cached_property
    def systems(self) -> dict[str, System]:
        """Systems by id."""
        return {s.system_id: s for s in self.records.systems}

    @cached_property
    def sections(self) -> dict[str, Section]:
        """Sections by id."""
        return {s.section_id: s for s in self.records.sections}

    @cached_property
    def nodes(self) -> dict[str, Node]:
        """Nodes by id."""
        return {n.node_id: n for n in self.records.nodes}

    @cached_property
    def instruments(self) -> dict[str, Instrument]:
        """Instruments by id."""
        return {i.instrument_id: i for i in self.records.instruments}

    @cached_property
    def tools(self) -> dict[str, Tool]:
        """Tools by id."""
        return {t.tool_id: t for t in self.records.tools}

    @cached_property
    def operatives(self) -> dict[str, Operative]:
        """Operatives by id."""
        return {o.operative_id: o for o in self.records.operatives}

    @cached_property
    def batches(self) -> dict[str, Batch]:
        """Batches by id."""
        return {b.batch_id: b for b in self.records.batches}

    @cached_property
    def documents(self) -> dict[str, Document]:
        """Documents by id."""
        return {d.document_id: d for d in self.records.documents}

    @cached_property
    def sections_of_system(self) -> dict[str, list[Section]]:
        """Sections by system id."""
        grouped: dict[str, list[Section]] = defaultdict(list)
        for section in self.records.sections:
            if section.system_id is not None:
                grouped[section.system_id].append(section)
        return dict(grouped)

    @cached_property
    def joints_of_section(self) -> dict[str, list[Joint]]:
        """Joints by section id, in the order read."""
        grouped: dict[str, list[Joint]] = defaultdict(list)
        for joint in self.records.joints:
            if joint.section_id is not None:
                grouped[joint.section_id].append(joint)
        return dict(grouped)

    @cached_property
    def tubes_of_section(self) -> dict[str, list[TubeLength]]:
        """Tube lengths by section id."""
        grouped: dict[str, list[TubeLength]] = defaultdict(list)
        for tube in self.records.tubes:
            if tube.section_id is not None:
                grouped[tube.section_id].append(tube)
        return dict(grouped)

    @cached_property
    def tests_of_section(self) -> dict[str, list[TestStage]]:
        """Test stages by section id."""
        grouped: dict[str, list[TestStage]] = defaultdict(list)
        for test in self.records.tests:
            for section_id in test.section_ids:
                grouped[section_id].append(test)
        return dict(grouped)

    @cached_property
    def joints_of_batch(self) -> dict[str, list[Joint]]:
        """Joints in the pipework by the batch of their fitting or tube, in the order read; every joint once a batch."""
        grouped: dict[str, list[Joint]] = defaultdict(list)
        for joint in self.records.joints:
            if joint.status in _NOT_THERE:
                continue
            fitting, tube = joint.fitting_batch_id, joint.tube_batch_id
            if fitting is not None:
                grouped[fitting].append(joint)
            if tube is not None and tube != fitting:
                grouped[tube].append(joint)
        return dict(grouped)

    @cached_property
    def supports_of_section(self) -> dict[str, list[Support]]:
        """Supports, anchors, guides and expansion devices by section id."""
        grouped: dict[str, list[Support]] = defaultdict(list)
        for support in self.records.supports:
            if support.section_id is not None:
                grouped[support.section_id].append(support)
        return dict(grouped)

    @cached_property
    def insulations_of_section(self) -> dict[str, list[Insulation]]:
        """Insulations by section id."""
        grouped: dict[str, list[Insulation]] = defaultdict(list)
        for insulation in self.records.insulations:
            for section_id in insulation.section_ids:
                grouped[section_id].append(insulation)
        return dict(grouped)

    @cached_property
    def materials_of_section(self) -> dict[str, frozenset[str]]:
        """Tube materials by section id, of its tube lengths and of the joints that are in the pipework."""
        found: dict[str, set[str]] = {section.section_id: set() for section in self.records.sections}
        for tube in self.records.tubes:
            if tube.material is not None and tube.section_id in found:
                found[tube.section_id].add(tube.material)
        for section_id, material, status in set(map(_TUBE_THERE, self.records.joints)):
            if material is not None and section_id in found and status not in _NOT_THERE:
                found[section_id].add(material)
        return {section_id: frozenset(materials) for section_id, materials in found.items()}
