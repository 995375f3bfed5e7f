"""Reference tables that ship in ``shared/reference/``, as look-ups on plain values."""

import csv
import json
from dataclasses import dataclass
from functools import cache

from witnessmark.model.bundled import shared_path


@dataclass(frozen=True, slots=True)
class TubeRow:
    """One size of one series of one tube standard."""

    material: str
    series: str
    od_mm: float
    wall_mm: float
    standard: str
    edition: str
    standing: str

    @property
    def citation(self) -> str:
        """Standard, edition and standing in words."""
        edition = f":{self.edition}" if self.edition else ""
        return f"{self.standard}{edition} ({self.standing})"


@cache
def tube_rows() -> tuple[TubeRow, ...]:
    """All rows of the tube table."""
    with shared_path("reference/tubes.csv").open(encoding="utf-8", newline="") as handle:
        return tuple(
            TubeRow(
                material=row["material"],
                series=row["series"],
                od_mm=float(row["od_mm"]),
                wall_mm=float(row["wall_mm"]),
                standard=row["standard"],
                edition=row.get("edition", "") or "",
                standing=row["standing"],
            )
            for row in csv.DictReader(handle)
        )


@cache
def known_outside_diameters() -> tuple[float, ...]:
    """Outside diameters of all tables, rising, mm."""
    return tuple(sorted({row.od_mm for row in tube_rows()}))


@cache
def series_wall(material: str, series: str, od_mm: float) -> TubeRow | None:
    """The row that a declared series gives for a material and size; ``None`` where it gives none, or more than one."""
    rows = [r for r in tube_rows() if (r.material, r.series, r.od_mm) == (material, series, od_mm)]
    return rows[0] if len(rows) == 1 else None


@dataclass(frozen=True, slots=True)
class Colour:
    """An identification colour: its name in words, its paint code, and an approximate screen value."""

    name: str
    paint_code: str
    srgb: str
    standing: str


@dataclass(frozen=True, slots=True)
class Service:
    """A service: words, identification bands and hazards."""

    key: str
    words: str
    basic: Colour | None
    bands: tuple[Colour, ...]
    hazards: tuple[str, ...]
    standing: str


@cache
def services() -> dict[str, Service]:
    """Services by key."""
    raw = json.loads(shared_path("reference/services.json").read_text(encoding="utf-8"))
    colours = {name: Colour(name, row["bs4800"], row["srgb"], row["standing"]) for name, row in raw["colours"].items()}
    return {
        key: Service(
            key=key,
            words=row["words"],
            basic=colours.get(row["basic"]),
            bands=tuple(colours[name] for name in row["bands"]),
            hazards=tuple(row["hazards"]),
            standing=row["standing"],
        )
        for key, row in raw["services"].items()
    }
