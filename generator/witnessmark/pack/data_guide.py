"""The guide to the export, DATA.md: every table and column, written from the same descriptors as the schemas."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from witnessmark.pack.data_table import DataTable

_HEAD = """\
# Data of this pack

What the pages show, these files say. Every table is a CSV file with a Table Schema beside it (`NAME.schema.json`);
`datapackage.json` lists them all with their keys, for any program that reads data packages.

- UTF-8, comma, decimal point, dates YYYY-MM-DD, times HH:MM, `yes` and `no`. An empty cell means
  that the records do not say.
- Pressures are gauge pressures in bar; a unit stands at the end of the column's name.
- A cell whose text a spreadsheet would run as a formula begins with an apostrophe. A text that begins with apostrophes
  and such a sign has one more. Take one leading apostrophe away where one of `= + - @`, a tab or a line break follows
  the apostrophes: what remains is the text. Control characters are shown by their pictures.
- A reference such as `tool_id` holds the id of a row that exists. What the records give and no register has stands in
  the column beside it, `tool_id_unresolved`, and is a finding.
- Records that contradict each other are kept side by side in joints, tests, tubes, calibrations, services and
  trainings; their key is `record`, the number in the order read.
- Figures are not rounded. A figure that is not known is empty, and `..._missing` says what is not recorded.
"""


def data_guide(tables: Sequence[DataTable]) -> str:
    """The guide as Markdown."""
    parts = [_HEAD, "| file | what it holds | rows |\n| --- | --- | --- |"]
    parts[-1] += "".join(
        [f"\n| [{t.file_name}]({t.file_name}) | {_cell(t.description)} | {len(t.rows)} |" for t in tables]
    )
    for table in tables:
        lines = [f"## {table.file_name}", "", _cell(table.description), ""]
        lines += [f"Key: `{table.primary_key}`.", "", "| column | type | unit | meaning |", "| --- | --- | --- | --- |"]
        lines += [_column(column.descriptor) for column in table.columns]
        parts.append("\n".join(lines))
    return "\n\n".join([part.rstrip("\n") for part in parts]) + "\n"


def _column(descriptor: dict[str, Any]) -> str:
    meaning = descriptor["description"]
    choices = descriptor.get("constraints", {}).get("enum")
    if choices:
        meaning += f" One of: {', '.join(choices)}."
    return f"| `{descriptor['name']}` | {descriptor['type']} | {descriptor.get('unit', '')} | {_cell(meaning)} |"


def _cell(text: str) -> str:
    return text.replace("|", "\\|").replace("\n", " ")
