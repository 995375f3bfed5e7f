"""The one error of the file readers: a file from which no cell can be read."""

from __future__ import annotations


class UnreadableFile(Exception):
    """A file that cannot be read at all; ``str()`` is one sentence: the file, what is wrong, what would fix it."""

    def __init__(
        self, file: str, kind: str, message: str, remedy: str, *, sheet: str | None = None, row: int | None = None
    ) -> None:
        self.file = file
        self.kind = kind
        self.message = message
        self.remedy = remedy
        self.sheet = sheet
        self.row = row
        place = file + (f", sheet {sheet}" if sheet else "") + (f", row {row}" if row else "")
        super().__init__(f"{place}: {message}; {remedy}.")
