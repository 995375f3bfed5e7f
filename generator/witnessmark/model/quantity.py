"""A worked result: value, unit, and how it came about, or what is missing."""

from dataclasses import dataclass

from witnessmark.model.source import SourceLocation


@dataclass(frozen=True, slots=True)
class Input:
    """One input of a working: what it is, its value as text with unit, and the cell or table it came from."""

    name: str
    value: str
    location: SourceLocation | None = None
    basis: str = ""
    """Where it came from when that is no cell: a reference table, a declared series, another working."""


@dataclass(frozen=True, slots=True)
class Worked:
    """A figure with its working. ``value`` is ``None`` exactly when ``missing`` names what is not known."""

    name: str
    value: float | None
    unit: str
    places: int
    formula: str
    inputs: tuple[Input, ...] = ()
    source: str = ""
    limits: str = ""
    missing: tuple[str, ...] = ()
    formula_id: str = ""
    """Entry of the formula book that explains the formula; empty for a figure that is taken as recorded."""

    def __post_init__(self) -> None:
        if (self.value is None) != bool(self.missing):
            raise ValueError(f"{self.name}: a working has either a value or a list of what is missing")

    @property
    def known(self) -> bool:
        """Whether there is a value."""
        return self.value is not None
