"""How a press joint is made, by size and tube material, out of ``shared/reference/joint_method.csv``."""

import csv
from dataclasses import dataclass
from functools import cache

from witnessmark.model.bundled import shared_path

_ROUNDING_MM = 0.5
"""Logs write 76 for 76.1 and 67 for 66.7; neighbouring sizes are 1 mm apart or more."""


@dataclass(frozen=True, slots=True, kw_only=True)
class JointMethod:
    """What a joint of these sizes needs. ``material`` is '' where the row holds for every material."""

    od_from_mm: float
    od_to_mm: float
    material: str
    equipment: frozenset[str]
    """'jaw', 'sling' or both."""
    presses: int
    second_adapter: bool
    lubricated: bool
    excess_wiped: bool
    sling_left_on: bool
    coating_stripped: bool
    """Whether a plastic coating, where the tube has one, comes off first."""
    jaw_group: str
    """Joints of different groups need jaws or slings of their own; '' where it makes no difference."""
    basis: str

    def fits(self, od_mm: float) -> bool:
        """Whether the row speaks of tube of this outside diameter, mm."""
        return self.od_from_mm - _ROUNDING_MM <= od_mm <= self.od_to_mm + _ROUNDING_MM


@cache
def joint_methods() -> tuple[JointMethod, ...]:
    """All rows, in the order of the table."""
    with shared_path("reference/joint_method.csv").open(encoding="utf-8", newline="") as handle:
        return tuple(_method(row) for row in csv.DictReader(handle))


def _method(row: dict[str, str]) -> JointMethod:
    return JointMethod(
        od_from_mm=float(row["od_from_mm"]),
        od_to_mm=float(row["od_to_mm"]),
        material=row["material"],
        equipment=frozenset(row["equipment"].split(";")),
        presses=int(row["presses"]),
        second_adapter=row["second_adapter"] == "yes",
        lubricated=row["lubricated"] == "yes",
        excess_wiped=row["excess_wiped"] == "yes",
        sling_left_on=row["sling_left_on"] == "yes",
        coating_stripped=row["coating_stripped"] == "yes",
        jaw_group=row["jaw_group"],
        basis=row["source"],
    )


@cache
def joint_method(od_mm: float | None, material: str | None) -> JointMethod | None:
    """The method for tube of that outside diameter, mm, and material; a row that names the material comes first.

    ``None`` where the size is not known or no row speaks of it.
    """
    if od_mm is None:
        return None
    rows = [row for row in joint_methods() if row.fits(od_mm) and row.material in ("", material)]
    return max(rows, key=lambda row: row.material != "", default=None)
