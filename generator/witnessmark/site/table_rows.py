"""Rows of long tables, set through the cell macro, with cells that come again set only once."""

from collections.abc import Callable, Iterable

from markupsafe import Markup

from witnessmark.pages.table import Cell, Row

MAX_KEPT = 50_000
"""Cells kept; a bound, so that memory does not grow with the pack."""


class RowSetter:
    """Sets rows. A register of 100,000 joints has three million cells but few different ones."""

    def __init__(self, set_cell: Callable[..., str]) -> None:
        self._set_cell = set_cell
        self._kept: dict[tuple[Cell, str], str] = {}

    def __call__(self, rows: Iterable[Row], root: str) -> Markup:
        """All rows as the body of a table."""
        kept, parts = self._kept, []
        if len(kept) > MAX_KEPT:
            kept.clear()
        for anchor, cells in rows:
            # Anchors are made by the views of letters and digits alone.
            parts.append(f'<tr id="{anchor}">' if anchor else "<tr>")
            for cell in cells:
                key = (cell, root if cell[1] else "")
                html = kept.get(key)
                if html is None:
                    html = kept[key] = str(self._set_cell(*cell, root=root))
                parts.append(html)
            parts.append("</tr>\n")
        return Markup("".join(parts))
