"""Registers: long plain tables in leaves of 500 rows that can be leafed without scripts."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from witnessmark.model.records import Document, Record
from witnessmark.pages.address import LEAF_ROWS, leaf_address, leaf_count, root_of
from witnessmark.pages.context import Context
from witnessmark.pages.document_shelf import document_reader, document_row
from witnessmark.pages.frame import Link, PageView
from witnessmark.pages.section_build import JOINT_FIELDS, TEST_FIELDS
from witnessmark.pages.table import Column, Row, RowReader, TableView
from witnessmark.pages.words import counted


@dataclass(frozen=True, slots=True)
class Leaves:
    """Where a leaf stands among its fellows."""

    words: str
    earlier: Link | None
    later: Link | None
    all: tuple[Link, ...]
    current: int


@dataclass(frozen=True, slots=True, kw_only=True)
class RegisterPage(PageView):
    """One leaf of a register."""

    intro: str
    tables: tuple[TableView, ...]
    leaves: Leaves


def leaves_of(stem: str, leaf: int, rows: int, noun: str = "row") -> Leaves:
    """Links between the leaves of a list of ``rows`` rows, seen from leaf ``leaf``, from 1."""
    count = leaf_count(rows)
    if count == 1:
        return Leaves(counted(rows, noun), None, None, (), 1)
    first, last = (leaf - 1) * LEAF_ROWS + 1, min(rows, leaf * LEAF_ROWS)
    # A window keeps the page small when there are hundreds of leaves.
    window = sorted({1, count, *range(max(1, leaf - 4), min(count, leaf + 4) + 1)})
    return Leaves(
        f"{noun}s {first:,} to {last:,} of {rows:,}",
        Link("Earlier", leaf_address(stem, leaf - 1)) if leaf > 1 else None,
        Link("Later", leaf_address(stem, leaf + 1)) if leaf < count else None,
        tuple(Link(f"{n:,}", leaf_address(stem, n)) for n in window),
        leaf,
    )


@dataclass(frozen=True, slots=True)
class _Companion:
    """A table that belongs to the records of another: calibrations, services, trainings."""

    table: str
    key: str
    fields: tuple[str, ...]
    caption: str
    strays: str


@dataclass(frozen=True, slots=True)
class _Plan:
    """What a register shows."""

    table: str
    title: str
    intro: str
    fields: tuple[str, ...]
    empty: str
    companion: _Companion | None = None


PLANS = (
    _Plan(
        "joints",
        "Joint register",
        "One row is one pressed end: an elbow has two, a tee three.",
        (
            "joint_id",
            "section_id",
            *JOINT_FIELDS[1:],
            "material_fitting",
            "system_family",
            "press_profile",
            "seal",
            "tube_batch_id",
            "press_time",
            "press_count",
            "cut_square",
            "deburred",
            "seal_present",
            "depth_marked",
            "fully_inserted",
            "depth_mark_visible",
            "unit_of_count",
            "drawing",
            "drawing_revision",
            "replaces_joint",
            "photo",
            "remarks",
        ),
        "The records show no joint.",
    ),
    _Plan(
        "tests",
        "Test register",
        "One row is one stage of one attempt; failed attempts are kept. A passed pressure test does not prove that "
        "every joint was pressed.",
        (
            "test_id",
            "attempt",
            "stage",
            "section_ids",
            *TEST_FIELDS[3:],
            "procedure",
            "pressure_basis",
            "start_time",
            "end_time",
            "settle_min",
            "ambient_start_c",
            "ambient_end_c",
            "pipe_start_c",
            "pipe_end_c",
            "barometer_start_mbar",
            "barometer_end_mbar",
            "gauge_elevation_m",
            "relief_set_bar",
            "topped_up",
            "boundary",
            "leaks_found",
            "made_safe",
            "made_safe_date",
            "witness_organisation",
            "witness_date",
            "document_id",
            "remarks",
        ),
        "The records show no test.",
    ),
    _Plan(
        "nodes",
        "Valves and other nodes",
        "Where sections meet: valves, drains, vents, tees, plant, terminals and caps, as recorded. What must be closed "
        "for a section is not worked out from them.",
        (
            "node_id",
            "kind",
            "system_id",
            "name",
            "level",
            "location",
            "od_mm",
            "elevation_m",
            "normal_position",
            "close_by",
            "remarks",
        ),
        "The records show no valve and no other node.",
    ),
    _Plan(
        "instruments",
        "Instruments",
        "Gauges, loggers and thermometers with which tests were read.",
        (
            "instrument_id",
            "kind",
            "serial",
            "range_min_bar",
            "range_max_bar",
            "class_percent",
            "resolution_bar",
            "owner",
            "remarks",
        ),
        "The records show no instrument.",
        _Companion(
            "calibrations",
            "instrument_id",
            (
                "instrument_id",
                "calibrated_on",
                "due_on",
                "result",
                "certificate_no",
                "serial_on_certificate",
                "laboratory",
                "accreditation_no",
                "error_found_bar",
                "document_id",
            ),
            "Calibrations",
            "Calibrations that name no instrument of the register",
        ),
    ),
    _Plan(
        "tools",
        "Press tools, jaws and slings",
        "What the joints were pressed with.",
        (
            "tool_id",
            "kind",
            "serial",
            "press_profile",
            "od_mm",
            "system_family",
            "force_kn",
            "owner",
            "cycle_limit",
            "remarks",
        ),
        "The records show no press tool.",
        _Companion(
            "tool_services",
            "tool_id",
            (
                "tool_id",
                "serviced_on",
                "due_on",
                "result",
                "cycle_count",
                "provider",
                "certificate_no",
                "document_id",
            ),
            "Services",
            "Services that name no tool of the register",
        ),
    ),
    _Plan(
        "operatives",
        "Operatives",
        "Who pressed and who checked, by register code.",
        (
            "operative_id",
            "name",
            "initials",
            "also_written",
            "role",
            "employer",
            "inducted_on",
            "remarks",
        ),
        "The records show no operative.",
        _Companion(
            "trainings",
            "operative_id",
            (
                "operative_id",
                "system_family",
                "max_od_mm",
                "trained_on",
                "expires_on",
                "sample_joint",
                "provider",
                "certificate_no",
                "document_id",
            ),
            "Trainings",
            "Trainings that name no operative of the register",
        ),
    ),
    _Plan(
        "batches",
        "Batches",
        "Batches of tube, fittings and seals.",
        (
            "batch_id",
            "item",
            "description",
            "material",
            "standard",
            "od_mm",
            "wall_mm",
            "tube_series",
            "system_family",
            "press_profile",
            "seal",
            "certificate_type",
            "certificate_no",
            "delivery_note",
            "received_on",
            "quantity",
            "quarantined",
            "potable_approval",
            "document_id",
        ),
        "The records show no batch.",
    ),
    _Plan(
        "documents",
        "Documents",
        "Files that came with the records.",
        (),
        "The records show no document.",
    ),
)


def _children(context: Context, companion: _Companion) -> dict[str | None, list[Record]]:
    grouped: dict[str | None, list[Record]] = {}
    for record in context.outcome.project.records.table(companion.table):
        grouped.setdefault(getattr(record, companion.key), []).append(record)
    return grouped


def _companions(
    reader: RowReader,
    companion: _Companion,
    parents: Sequence[Record],
    strays: Sequence[Record],
    grouped: dict[str | None, list[Record]],
) -> Iterator[TableView]:
    children = [child for parent in parents for child in grouped.get(getattr(parent, companion.key), ())]
    yield reader.table(children, companion.caption, f"The records show no {companion.caption.lower()} for these.")
    if strays:
        yield reader.table(strays, companion.strays, "")


def _register(context: Context, plan: _Plan) -> Iterator[RegisterPage]:
    records = context.outcome.project.records.table(plan.table)
    stem = f"registers/{plan.table}"
    reader = document_reader(context) if plan.table == "documents" else RowReader(context, plan.table, plan.fields)
    titles = (*reader.columns, Column("File")) if plan.table == "documents" else reader.columns

    def make(record: Record, anchor: str) -> Row:
        return (
            document_row(context, reader, record, anchor)
            if isinstance(record, Document)
            else reader.row(record, anchor)
        )

    companion = plan.companion
    companions = RowReader(context, companion.table, companion.fields) if companion else None
    grouped = _children(context, companion) if companion else {}
    keys = {getattr(record, companion.key) for record in records} if companion else set()
    strays = [child for key, children in grouped.items() if key not in keys for child in children]
    count = leaf_count(len(records))
    for leaf in range(1, count + 1):
        first = (leaf - 1) * LEAF_ROWS
        part = records[first : first + LEAF_ROWS]
        rows = tuple([make(record, f"r{first + index + 1}") for index, record in enumerate(part)])
        leaves = leaves_of(stem, leaf, len(records))
        tables = [TableView(leaves.words, titles, rows, plan.empty, reader.note if records else "")]
        if companion and companions:
            tables += _companions(companions, companion, part, strays if leaf == count else (), grouped)
        address = leaf_address(stem, leaf)
        yield RegisterPage(
            frame=context.frame,
            address=address,
            root=root_of(address),
            title=plan.title if leaf == 1 else f"{plan.title}, leaf {leaf}",
            crumbs=(Link("Home", "index.html"),),
            intro=plan.intro,
            tables=tuple(tables),
            leaves=leaves,
        )


def registers(context: Context) -> Iterator[RegisterPage]:
    """Every leaf of every register that the edition holds."""
    for plan in PLANS:
        yield from _register(context, plan)
