"""What became of the source rows: repair ledger, rows set aside, and the sum of every file."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import TypeVar

from witnessmark.model.project import Repair, SetAside, SourceAccount
from witnessmark.pages.address import LEAF_ROWS, leaf_address, leaf_count, root_of
from witnessmark.pages.context import Context
from witnessmark.pages.frame import Link, PageView
from witnessmark.pages.register import RegisterPage, leaves_of
from witnessmark.pages.table import NONE, NUMBER, Cell, Column, Row, TableView, free_text
from witnessmark.pages.words import clean, counted

T = TypeVar("T")

REPAIR_COLUMNS = tuple(Column(t) for t in ("Where", "Table", "Column", "As written", "Read as", "Why"))
SET_ASIDE_COLUMNS = tuple(Column(t) for t in ("Where", "Table", "Why", "As written"))
ACCOUNT_COLUMNS = (
    Column("File"),
    Column("Sheet"),
    Column("Table"),
    Column("Rows in", True),
    Column("Rows used", True),
    Column("Rows set aside", True),
    Column("Adds up"),
    Column("Records", True),
    Column("SHA-256"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class SourcesPage(PageView):
    """Every source file with its sum: rows in = rows used + rows set aside."""

    sum_words: str
    adds_up: bool
    table: TableView


def _repair(index: int, repair: Repair) -> Row:
    cells = (repair.location.words, repair.table, repair.field, repair.raw, repair.read, repair.reason)
    return Row(f"r{index + 1}", tuple(free_text(text) for text in cells))


def _set_aside(index: int, row: SetAside) -> Row:
    return Row(f"r{index + 1}", tuple(free_text(t) for t in (row.location.words, row.table, row.reason, row.raw)))


def _leafed(
    context: Context,
    items: Sequence[T],
    make: Callable[[int, T], Row],
    stem: str,
    title: str,
    intro: str,
    columns: tuple[Column, ...],
    empty: str,
) -> Iterator[RegisterPage]:
    for leaf in range(1, leaf_count(len(items)) + 1):
        first = (leaf - 1) * LEAF_ROWS
        rows = tuple(make(first + i, item) for i, item in enumerate(items[first : first + LEAF_ROWS]))
        address = leaf_address(stem, leaf)
        leaves = leaves_of(stem, leaf, len(items))
        yield RegisterPage(
            frame=context.frame,
            address=address,
            root=root_of(address),
            title=title if leaf == 1 else f"{title}, leaf {leaf}",
            crumbs=(Link("Home", "index.html"),),
            intro=intro,
            tables=(TableView(leaves.words, columns, rows, empty),),
            leaves=leaves,
        )


def ledgers(context: Context) -> Iterator[RegisterPage]:
    """Leaves of the repair ledger and of the rows set aside."""
    project = context.outcome.project
    yield from _leafed(
        context,
        project.repairs,
        _repair,
        "registers/repairs",
        "Repair ledger",
        "Every value that was read as something other than its plain text, and why.",
        REPAIR_COLUMNS,
        "No value was read as anything but its plain text.",
    )
    yield from _leafed(
        context,
        project.set_aside,
        _set_aside,
        "registers/set-aside",
        "Rows set aside",
        "Rows that became no record, and why. Nothing is dropped without standing here.",
        SET_ASIDE_COLUMNS,
        "No row was set aside.",
    )


def sum_words(accounts: Sequence[SourceAccount]) -> str:
    """'412 rows in = 400 used + 12 set aside.'"""
    rows_in, used, aside = (
        sum(a.rows_in for a in accounts),
        sum(a.rows_used for a in accounts),
        sum(a.rows_set_aside for a in accounts),
    )
    return f"{counted(rows_in, 'row')} in = {used:,} used + {aside:,} set aside"


def _account(account: SourceAccount) -> Row:
    def number(value: int) -> Cell:
        return Cell(f"{value:,}", mark=NUMBER)

    return Row(
        "",
        (
            free_text(account.file),
            free_text(account.sheet) if account.sheet else Cell("–"),
            Cell(clean(account.table)),
            number(account.rows_in),
            number(account.rows_used),
            number(account.rows_set_aside),
            Cell("yes" if account.adds_up else "no"),
            number(account.records),
            Cell(account.sha256) if account.sha256 else Cell("not recorded", mark=NONE),
        ),
    )


def sources_page(context: Context) -> SourcesPage:
    """The page of source files."""
    accounts = context.outcome.project.accounts
    return SourcesPage(
        frame=context.frame,
        address="sources.html",
        root="",
        title="Source files",
        crumbs=(Link("Home", "index.html"),),
        sum_words=sum_words(accounts),
        adds_up=all(account.adds_up for account in accounts),
        table=TableView(
            "Source files, as they stood when this issue was made",
            ACCOUNT_COLUMNS,
            tuple(_account(account) for account in accounts),
            "No file was read.",
        ),
    )
