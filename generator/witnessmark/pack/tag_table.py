"""The tag register as a table of the export: every code ever given, those that this build gives included."""

from __future__ import annotations

from operator import attrgetter
from typing import TYPE_CHECKING, NamedTuple

from witnessmark.model.contract import contract
from witnessmark.pack.data_table import DataColumn, DataTable, figure, values_for
from witnessmark.pack.record_tables import descriptor
from witnessmark.pack.tag_address import tag_address

if TYPE_CHECKING:
    from witnessmark.pipeline import Outcome


class _Row(NamedTuple):
    code: str
    section_id: str
    first_issue: str | None


def tag_table(outcome: Outcome) -> DataTable:
    """Codes in the order given. The register is written by the build, so a row has no source but the register."""
    table, settings = contract()["tags"], outcome.project.settings
    codes = outcome.workings.tags
    in_use = set(codes.by_section.values())
    known = [(tag.code, tag.section_id, tag.first_issue) for tag in outcome.project.records.tags]
    new = [(code, section_id, settings.issue.number) for code, section_id in codes.new]
    columns = []
    for field in table.fields:
        own = descriptor("tags", field)
        columns.append(DataColumn(own, values_for(own, attrgetter(field.name))))
    return DataTable(
        name="tags",
        title=table.title,
        description=table.description,
        primary_key="code",
        columns=(
            *columns,
            figure("address", "string", "Address", "Address that the tag's QR symbol holds.",
                   lambda tag: tag_address(settings.tags, tag.code)),
            figure("in_use", "boolean", "In use", "Whether a section of these records has the code.",
                   lambda tag: tag.code in in_use),
        ),
        rows=[_Row(*row) for row in (*known, *new)],
    )  # fmt: skip
