"""The site of a made-up project: its dice, its tables as they would stand in CSV files, its working days, its papers."""

import datetime as dt
import random

Cell = str | float | int | bool | dt.date | dt.time | None


def text(value: Cell) -> str:
    """A value as somebody would write it into a CSV cell."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, dt.time):
        return value.strftime("%H:%M")
    if isinstance(value, float):
        return f"{value:g}"
    return str(value)


def clock(minutes: int) -> dt.time:
    """Minutes after midnight as a time."""
    return dt.time(minutes // 60, minutes % 60)


class Site:
    """Tables that grow row by row; everything random comes from ``rng``."""

    def __init__(self, seed: int) -> None:
        self.rng = random.Random(seed)
        self.project_id = f"sound-{seed}"
        self.tables: dict[str, list[dict[str, str]]] = {}
        self.first_day = self.working(dt.date(2025, 9, 1) + dt.timedelta(days=self.rng.randrange(140)))
        self.last_event = self.first_day
        self._used: set[tuple[dt.date, str]] = set()

    def add(self, table: str, **values: Cell) -> dict[str, str]:
        """One row more."""
        row = {name: text(value) for name, value in values.items()}
        self.tables.setdefault(table, []).append(row)
        for name, value in values.items():
            if isinstance(value, dt.date) and name not in ("due_on", "expires_on"):
                self.last_event = max(self.last_event, value)
        return row

    def working(self, day: dt.date, later: int = 0) -> dt.date:
        """The working day that many working days after ``day``; ``day`` itself or the next one for 0."""
        while day.weekday() > 4:
            day += dt.timedelta(days=1)
        for _ in range(later):
            day += dt.timedelta(days=3 if day.weekday() == 4 else 1)
        return day

    def free_day(self, day: dt.date, *whom: str) -> dt.date:
        """The first working day from ``day`` on which all of ``whom`` are free; they are taken on it."""
        day = self.working(day)
        while any((day, one) in self._used for one in whom):
            day = self.working(day, 1)
        self._used |= {(day, one) for one in whom}
        return day

    def number(self, prefix: str, table: str, width: int = 3) -> str:
        """The next number of a table, such as SP-004."""
        return f"{prefix}-{len(self.tables.get(table, [])) + 1:0{width}d}"

    def paper(
        self, kind: str, title: str, date: dt.date | None, about: str = "", edition: str = "audit", revision: str = ""
    ) -> str:
        """A document with a small file of its own; its id."""
        document_id = self.number("DOC", "documents", 4)
        ending = "png" if kind == "photo" else "pdf"
        path = f"{kind}/{document_id}.{ending}"
        self.add("files", path=path, kind=ending, text=f"{self.project_id} {document_id} {title}")
        self.add(
            "documents", document_id=document_id, file=path, title=title, kind=kind, revision=revision, date=date,
            about=about, edition=edition, legible=True,
        )  # fmt: skip
        return document_id
