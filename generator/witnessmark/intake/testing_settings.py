"""What project.yml says of pressure tests: procedures, what each service needs, tube stresses, logger files."""

import csv
from collections.abc import Mapping
from difflib import get_close_matches
from functools import cache
from typing import Any

from witnessmark.intake.errors import UnusableProject
from witnessmark.model.bundled import shared_path
from witnessmark.model.procedure import ProcedureStage, TestProcedure
from witnessmark.model.settings import LoggerAnswer, TubeStress
from witnessmark.model.source import SourceLocation

_FIGURE_OF_BASIS = {"mop": "factor", "mdp": "factor", "fixed": "fixed_bar"}


def read_procedure(name: str, raw: Mapping[str, Any], file: str) -> TestProcedure:
    """A procedure of the project. Raises ``UnusableProject`` where a stage lacks the figure that its basis needs."""
    stages = []
    source = " ".join(part for part in (raw["source"], raw.get("edition", "")) if part)
    for stage in raw["stages"]:
        basis = stage.get("basis")
        needed = _FIGURE_OF_BASIS.get(basis or "")
        if needed and needed not in stage:
            raise UnusableProject(
                f"{file}: procedures.{name}, stage {stage['stage']} has the basis '{basis}' and no '{needed}'; add it."
            )
        figures = {key: float(value) for key, value in stage.items() if key not in ("stage", "medium", "basis")}
        stages.append(
            ProcedureStage(
                stage=stage["stage"], medium=stage.get("medium"), basis=basis, source=f"{source} (project)", **figures
            )
        )
    return TestProcedure(name, raw["title"], source, tuple(stages), SourceLocation(file), raw.get("note", ""))


def read_testing(raw: Mapping[str, str], own: Mapping[str, Any], file: str) -> dict[str, str]:
    """Service to procedure. Raises ``UnusableProject`` for a procedure that is known nowhere."""
    known = {*own, *_reference_procedures()}
    for service, name in raw.items():
        if name not in known:
            near = get_close_matches(name, sorted(known), n=1)
            hint = f"did you mean '{near[0]}'?" if near else f"known are {', '.join(sorted(known))}."
            raise UnusableProject(
                f"{file}: testing.{service} names the procedure '{name}', which stands neither under 'procedures' "
                f"nor in the reference table; {hint}"
            )
    return dict(raw)


def read_tube_stress(raw: Mapping[str, Any]) -> TubeStress:
    """Allowable stress of one material."""
    return TubeStress(float(raw["stress_mpa"]), float(raw["up_to_c"]), raw["source"])


def read_logger(raw: Mapping[str, Any]) -> LoggerAnswer:
    """What settles one logger file."""
    return LoggerAnswer(**{**raw, "no_reading": tuple(float(value) for value in raw.get("no_reading", ()))})


@cache
def _reference_procedures() -> frozenset[str]:
    with shared_path("reference/procedures.csv").open(encoding="utf-8", newline="") as handle:
        return frozenset(row["procedure"] for row in csv.DictReader(handle))
