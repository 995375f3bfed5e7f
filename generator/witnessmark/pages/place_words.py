"""Words without the files, rows and columns that they name: those are for the audit edition."""

import re
from collections.abc import Callable, Iterable

from witnessmark.model.project import Project
from witnessmark.model.records import Record
from witnessmark.model.source import SourceTable

TABLES = ("systems", "sections", "tubes", "nodes", "ratings", "tests", "instruments", "calibrations")
"""Tables whose cells the workings name in words."""


def _pattern(table: SourceTable) -> str:
    headings = sorted({column.heading for column in table.columns.values()}, key=lambda text: (-len(text), text))
    heading = "|".join(re.escape(text) for text in headings)
    sheet = f", sheet {re.escape(table.sheet)}" if table.sheet else ""
    return rf"{re.escape(table.file)}{sheet}(?:, row \d+)?(?:, column [A-Z]+(?: \((?:{heading})\))?)?"


def place_remover(project: Project) -> Callable[[str], str]:
    """A function that takes the places of this project's records out of a sentence."""
    seen: dict[int, SourceTable] = {}
    for name in TABLES:
        records: Iterable[Record] = project.records.table(name)
        for record in records:
            seen.setdefault(id(record.source.table), record.source.table)
    patterns = sorted({_pattern(table) for table in seen.values()}, key=lambda text: (-len(text), text))
    if not patterns:
        return _without_settings
    places = re.compile(rf"(?:, named)?(?:,? (?:in|at))? ?(?:{'|'.join(patterns)})")
    return lambda text: _without_settings(places.sub("", text))


def _without_settings(text: str) -> str:
    return text.replace(" in project.yml", "").replace("project.yml", "the project")
