"""The completeness matrix: sections by kind of record, its totals, and the records of one section by kind."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from witnessmark.evidence.completeness import RECORD_TYPES, CellState, MatrixRow, MatrixTotal
from witnessmark.evidence.completeness import Cell as MatrixCell
from witnessmark.pages.address import LEAF_ROWS, leaf_address, leaf_count, root_of
from witnessmark.pages.context import Context
from witnessmark.pages.figure import NO_BREAK
from witnessmark.pages.finding_view import State
from witnessmark.pages.frame import Link, PageView
from witnessmark.pages.register import Leaves, leaves_of
from witnessmark.pages.table import NONE, NUMBER, Cell, Column, Row, TableView, free_text
from witnessmark.pages.words import clean, sentence_start

SHAPES = {
    CellState.PRESENT: "●",
    CellState.INCOMPLETE: "◆",
    CellState.MISSING: "■",
    CellState.WAIVED: "○",
    CellState.NOT_APPLICABLE: "–",
}
"""A shape beside the word, so that a glance down a column tells; never colour alone."""
ANCHOR = "records-by-kind"
_STATES = (CellState.MISSING, CellState.INCOMPLETE, CellState.WAIVED, CellState.NOT_APPLICABLE, CellState.PRESENT)
_KEYS = {
    CellState.PRESENT: "pass",
    CellState.INCOMPLETE: "weak",
    CellState.MISSING: "fail",
    CellState.WAIVED: "waived",
    CellState.NOT_APPLICABLE: "na",
}
_LEGEND = {CellState.NOT_APPLICABLE: "not applicable (n.a.)"}
_MOST_JOINTS = 12


@dataclass(frozen=True, slots=True, kw_only=True)
class CompletenessPage(PageView):
    """One leaf of the matrix; totals stand on the first."""

    legend: tuple[State, ...]
    totals: tuple[tuple[str, TableView], ...]
    """Heading and table."""
    matrix: TableView
    leaves: Leaves


def completeness_pages(context: Context) -> Iterator[CompletenessPage]:
    """Every leaf of the matrix."""
    matrix = context.outcome.evidence.completeness
    rows = matrix.rows
    columns = (Column("Section"), Column("System"), *(Column(words) for words in RECORD_TYPES.values()))
    context.wide_tables["completeness"] = tuple(column.title for column in columns)
    for leaf in range(1, leaf_count(len(rows)) + 1):
        part = rows[(leaf - 1) * LEAF_ROWS : leaf * LEAF_ROWS]
        address = leaf_address("completeness", leaf)
        leaves = leaves_of("completeness", leaf, len(rows), "section")
        table = TableView(
            leaves.words,
            columns,
            tuple(_row(context, row) for row in part),
            "The records show no section.",
            kind="completeness",
        )
        yield CompletenessPage(
            frame=context.frame,
            address=address,
            root=root_of(address),
            title="Completeness" if leaf == 1 else f"Completeness, leaf {leaf}",
            crumbs=(Link("Home", "index.html"),),
            legend=tuple(State(_LEGEND.get(state, state.value), _KEYS[state]) for state in _STATES),
            totals=_totals(context) if leaf == 1 else (),
            matrix=table,
            leaves=leaves,
        )


def _row(context: Context, row: MatrixRow) -> Row:
    address = context.section_addresses.get(row.section_id, "")
    cells = [free_text(row.section_id, address), free_text(row.system_id)]
    for cell in row.cells:
        text = f"{SHAPES[cell.state]}{NO_BREAK}{_short(cell)}"
        gap = cell.state in (CellState.MISSING, CellState.INCOMPLETE, CellState.WAIVED)
        link = f"{address}#kind-{cell.record_type}" if address and gap else ""
        cells.append(Cell(text, link, "", NONE if cell.state is CellState.MISSING else ""))
    return Row("", tuple(cells))


def _short(cell: MatrixCell) -> str:
    if cell.state is CellState.INCOMPLETE and cell.needed is not None:
        return f"{cell.there:,} of {cell.needed:,}"
    return "n.a." if cell.state is CellState.NOT_APPLICABLE else cell.state.value


def _totals(context: Context) -> tuple[tuple[str, TableView], ...]:
    matrix = context.outcome.evidence.completeness
    groups: tuple[tuple[str, Sequence[MatrixTotal]], ...] = (
        ("system", (*matrix.by_system, matrix.total)),
        ("level", matrix.by_level),
        ("subcontractor", matrix.by_subcontractor),
    )
    return tuple((f"By {noun}", _total_table(noun, totals)) for noun, totals in groups)


def _total_table(noun: str, totals: Sequence[MatrixTotal]) -> TableView:
    columns = (
        Column(noun.capitalize()),
        Column("Sections", True),
        *(Column(f"{SHAPES[state]} {state.value}", True) for state in _STATES),
    )
    rows = tuple(
        Row(
            "",
            (
                free_text(total.name),
                Cell(f"{total.sections:,}", mark=NUMBER),
                *(Cell(f"{total.of(state):,}", mark=NUMBER) for state in _STATES),
            ),
        )
        for total in totals
    )
    return TableView(
        f"Kinds of record, counted over the sections of each {noun}", columns, rows, "The records show no section."
    )


def section_completeness(context: Context, section_id: str) -> TableView | None:
    """The records of one section by kind: what is there, what is not, and which checks tell of it."""
    row = context.outcome.evidence.completeness.section(section_id)
    if row is None:
        return None
    columns: tuple[Column, ...] = (Column("Kind of record"), Column("State"), Column("What there is"))
    if context.audit:
        columns = (*columns, Column("Without it"), Column("Findings"))
    return TableView(
        "Records of this section by kind", columns, tuple(_kind(context, cell) for cell in row.cells), "No records."
    )


def _kind(context: Context, cell: MatrixCell) -> Row:
    words = free_text(sentence_start(context.words(cell.words)))
    cells: tuple[Cell, ...] = (
        Cell(RECORD_TYPES[cell.record_type]),
        Cell(f"{SHAPES[cell.state]}{NO_BREAK}{cell.state.value}", mark=NONE if cell.state is CellState.MISSING else ""),
        words,
    )
    if context.audit:
        more = len(cell.joint_ids) - _MOST_JOINTS
        joints = ", ".join(cell.joint_ids[:_MOST_JOINTS]) + (f" and {more:,} more" if more > 0 else "")
        first = cell.slugs[0] if cell.slugs else ""
        cells = (*cells, free_text(clean(joints)), Cell(", ".join(cell.slugs), f"checks/{first}.html" if first else ""))
    return Row(f"kind-{cell.record_type}", cells)
