"""Test procedures as data: what a stage asks for, from the reference table or from the project itself."""

from dataclasses import dataclass

from witnessmark.model.source import SourceLocation


@dataclass(frozen=True, slots=True, kw_only=True)
class ProcedureStage:
    """One stage. Pressures bar gauge at the highest point, times min, volumes L, sizes mm; ``None``: not stated."""

    stage: str
    medium: str | None = None
    basis: str | None = None
    """'mop', 'mdp' or 'fixed'; ``None`` where the stage has no pressure."""
    factor: float | None = None
    fixed_bar: float | None = None
    cap_bar: float | None = None
    settle_min: float | None = None
    hold_min: float | None = None
    hold_free_litres: float | None = None
    hold_extra_min_per_100_l: float | None = None
    allowed_drop_bar: float | None = None
    max_od_mm: float | None = None
    source: str = ""
    """Source, edition and standing in words."""


@dataclass(frozen=True, slots=True)
class TestProcedure:
    """A procedure with its stages in order, and the place that states it: project.yml, or none for the table."""

    __test__ = False

    id: str
    title: str
    source: str
    stages: tuple[ProcedureStage, ...]
    location: SourceLocation | None = None
    note: str = ""
