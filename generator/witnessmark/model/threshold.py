"""Thresholds of checks: defaults from ``shared/reference/thresholds.csv``, which ``project.yml`` may override."""

import csv
from dataclasses import dataclass
from functools import cache

from witnessmark.model.bundled import shared_path
from witnessmark.model.settings import ProjectSettings


@dataclass(frozen=True, slots=True)
class Threshold:
    """A number on which a check turns, its unit, what it means, and on what the default stands."""

    name: str
    default: float
    unit: str
    meaning: str
    standing: str


@cache
def thresholds() -> dict[str, Threshold]:
    """Every threshold by name, in the order of the table."""
    with shared_path("reference/thresholds.csv").open(encoding="utf-8", newline="") as file:
        return {
            row["name"]: Threshold(row["name"], float(row["default"]), row["unit"], row["meaning"], row["standing"])
            for row in csv.DictReader(file)
        }


def limit(settings: ProjectSettings, name: str) -> float:
    """The threshold as this project has it. Raises ``KeyError`` for a name that the table does not list."""
    default = thresholds()[name].default
    return float(settings.thresholds.get(name, default))
