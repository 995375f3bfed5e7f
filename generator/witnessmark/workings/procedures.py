"""Test procedures: those of the reference table, with those of the project in their place or beside them."""

import csv
from functools import cache

from witnessmark.model.bundled import shared_path
from witnessmark.model.procedure import ProcedureStage, TestProcedure
from witnessmark.model.settings import ProjectSettings

_FIGURES = (
    "factor",
    "fixed_bar",
    "cap_bar",
    "settle_min",
    "hold_min",
    "hold_free_litres",
    "hold_extra_min_per_100_l",
    "allowed_drop_bar",
    "max_od_mm",
)


@cache
def reference_procedures() -> dict[str, TestProcedure]:
    """Procedures of ``shared/reference/procedures.csv`` by id, stages in order."""
    with shared_path("reference/procedures.csv").open(encoding="utf-8", newline="") as handle:
        rows = sorted(csv.DictReader(handle), key=lambda row: (row["procedure"], int(row["order"])))
    procedures: dict[str, TestProcedure] = {}
    for row in rows:
        figures = {name: float(row[name]) if row[name] else None for name in _FIGURES}
        edition = f", {row['edition']}" if row["edition"] else ""
        source = f"{row['source']}{edition} ({row['standing']})".lstrip()
        stage = ProcedureStage(
            stage=row["stage"], medium=row["medium"] or None, basis=row["basis"] or None, source=source, **figures
        )
        earlier = procedures.get(row["procedure"])
        stages = (*earlier.stages, stage) if earlier is not None else (stage,)
        procedures[row["procedure"]] = TestProcedure(
            row["procedure"], row["title"], source, stages, None, row["note"] or (earlier.note if earlier else "")
        )
    return procedures


def all_procedures(settings: ProjectSettings) -> dict[str, TestProcedure]:
    """Every procedure that a project may name."""
    return {**reference_procedures(), **settings.procedures}


def stage_of(procedure: TestProcedure, stage: str | None, largest_od_mm: float | None) -> ProcedureStage | None:
    """The stage of that name for sections up to that size; ``None`` where the procedure has none."""
    for each in procedure.stages:
        if each.stage != stage:
            continue
        if each.max_od_mm is None or (largest_od_mm is not None and largest_od_mm <= each.max_od_mm + 0.05):
            return each
    return None
