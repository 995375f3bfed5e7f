"""Limits on what a water sample shows, by service: ``shared/reference/water_limits.csv``."""

import csv
from dataclasses import dataclass
from functools import cache

from witnessmark.model.bundled import shared_path


@dataclass(frozen=True, slots=True)
class WaterLimit:
    """Least and greatest value of one field of a sample, with its unit and where it is from; ``None`` for no bound."""

    field: str
    words: str
    minimum: float | None
    maximum: float | None
    unit: str
    basis: str

    def asked(self) -> str:
        """'8.2 to 10', 'at least 8.2' or 'at most 100 cfu/mL'."""
        unit = f" {self.unit}" if self.unit else ""
        if self.minimum is not None and self.maximum is not None:
            return f"{self.minimum:g} to {self.maximum:g}{unit}"
        if self.minimum is not None:
            return f"at least {self.minimum:g}{unit}"
        return f"at most {self.maximum:g}{unit}"

    def keeps(self, value: float) -> bool:
        """Whether a value is inside; the bound itself is."""
        return not (
            (self.minimum is not None and value < self.minimum) or (self.maximum is not None and value > self.maximum)
        )


@cache
def _table() -> dict[str, tuple[WaterLimit, ...]]:
    limits: dict[str, list[WaterLimit]] = {}
    with shared_path("reference/water_limits.csv").open(encoding="utf-8", newline="") as handle:
        for row in csv.DictReader(handle):
            edition = f", {row['edition']}" if row["edition"] else ""
            one = WaterLimit(
                row["field"],
                row["words"],
                float(row["minimum"]) if row["minimum"] else None,
                float(row["maximum"]) if row["maximum"] else None,
                "" if row["unit"] == "1" else row["unit"],
                f"{row['source']}{edition} ({row['standing']})",
            )
            for service in row["services"].split():
                limits.setdefault(service, []).append(one)
    return {service: tuple(rows) for service, rows in limits.items()}


def water_limits(service: str | None) -> tuple[WaterLimit, ...]:
    """Limits for a service; none where the table has none."""
    return _table().get(service or "", ())
