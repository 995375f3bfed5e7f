"""Pipework read out of a building model: a list of elements to systems, sections, tube lengths and nodes."""

from collections.abc import Iterator

from witnessmark.intake.draft import Draft, Ledger
from witnessmark.intake.source_plan import PlannedSheet
from witnessmark.model.settings import ProjectSettings


def read_model_elements(planned: PlannedSheet, settings: ProjectSettings, ledger: Ledger) -> Iterator[Draft]:
    """x"""
    yield from ()
