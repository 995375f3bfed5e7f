"""Registers: long plain tables in leaves of 500 rows that can be leafed without scripts."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from witnessmark.model.records import Document, Record
from witnessmark.pages.address import LEAF_ROWS, leaf_address, leaf_count, root_of
from witnessmark.pages.context import Context
from witnessmark.pages.document_shelf import document_reader, document_row
from witnessmark.pages.frame import Link, PageView
from witnessmark.pages.register_plans import AS_RECORDED, PLANS, Companion, Plan
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


def _children(context: Context, companion: Companion) -> dict[str | None, list[Record]]:
    grouped: dict[str | None, list[Record]] = {}
    for record in context.outcome.project.records.table(companion.table):
        grouped.setdefault(getattr(record, companion.key), []).append(record)
    return grouped


def _companions(
    reader: RowReader,
    companion: Companion,
    parents: Sequence[Record],
    strays: Sequence[Record],
    grouped: dict[str | None, list[Record]],
) -> Iterator[TableView]:
    children = [child for parent in parents for child in grouped.get(getattr(parent, companion.key), ())]
    yield reader.table(children, companion.caption, f"The records show no {companion.caption.lower()} for these.")
    if strays:
        yield reader.table(strays, companion.strays, "")


def _register(context: Context, plan: Plan) -> Iterator[RegisterPage]:
    records = context.outcome.project.records.table(plan.table)
    stem = f"registers/{plan.table.replace('_', '-')}"
    reader = document_reader(context) if plan.table == "documents" else RowReader(context, plan.table, plan.fields)
    titles = (*reader.columns, Column("Open")) if plan.table == "documents" else reader.columns

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
        note = reader.note if records else ""
        tables = [TableView(leaves.words, titles, rows, plan.empty, note, reader.kind)]
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
    """Every leaf of every register that the edition holds; only the auditor gets the plain rows of the other tables."""
    for plan in (*PLANS, *AS_RECORDED) if context.audit else PLANS:
        yield from _register(context, plan)
