"""Rows on their way to records: columns of read values, with the row each came from."""

from dataclasses import dataclass, field
from typing import Any

from witnessmark.model.project import Repair, SetAside, SourceAccount
from witnessmark.model.source import RowSource, SourceLocation


@dataclass(frozen=True, slots=True)
class PendingFinding:
    """A finding whose subject and section are known only once all tables are read."""

    kind: str
    message: str
    remedy: str
    location: SourceLocation
    table: str = ""
    row: RowSource | None = None
    """The row it concerns; ``None`` where it concerns a file, sheet or column."""
    related: tuple[SourceLocation, ...] = ()
    cannot_tell: bool = True


@dataclass(slots=True)
class Draft:
    """All rows of one table, column by column; ``None`` where the records do not say."""

    table: str
    sources: list[RowSource] = field(default_factory=list)
    columns: dict[str, list[Any]] = field(default_factory=dict)
    as_end: list[bool] = field(default_factory=list)
    """Joints only: whether the row was recorded as one press end."""

    def __len__(self) -> int:
        return len(self.sources)

    def drop(self, positions: set[int]) -> None:
        """Take rows out."""
        if not positions:
            return
        keep = [position for position in range(len(self)) if position not in positions]
        self.sources = [self.sources[position] for position in keep]
        for name, column in self.columns.items():
            self.columns[name] = [column[position] for position in keep]


@dataclass(slots=True)
class Ledger:
    """What intake has to tell, collected while reading."""

    findings: list[PendingFinding] = field(default_factory=list)
    repairs: list[Repair] = field(default_factory=list)
    set_aside: list[SetAside] = field(default_factory=list)
    accounts: list[SourceAccount] = field(default_factory=list)
