"""Joints: the fittings of every section, each end pressed at a plausible minute and checked by another person."""

from __future__ import annotations

import datetime as dt
from collections import defaultdict
from collections.abc import Iterator

from .building import CEILING_M
from .equipment import LARGEST_JAW_MM, PROFILE, TOOLS, TWICE_PRESSED_MM, adapter_id, jaw_id
from .goods import fitting_batch, is_coated, tube_batch
from .model import Building, Dice, Row
from .people import CHECKER, PRESSERS
from .site_calendar import WORKING_DAYS, clock, working_day

ENDS = {"coupling": 2, "elbow": 2, "tee": 3, "reducer": 2, "adaptor": 1, "valve": 1, "cap": 1, "union": 2}
FAMILY = {"copper": "FAM-C", "stainless_steel": "FAM-S", "carbon_steel": "FAM-K"}
FITTING_MATERIAL = {"copper": "copper", "stainless_steel": "stainless_steel", "carbon_steel": "carbon_steel"}
FROM_TO = {
    "SUB-1": (dt.date(2025, 10, 6), dt.date(2026, 3, 13)),
    "SUB-2": (dt.date(2025, 10, 20), dt.date(2026, 3, 13)),
    "SUB-3": (dt.date(2025, 10, 13), dt.date(2026, 4, 1)),
    "SUB-4": (dt.date(2025, 12, 1), dt.date(2026, 4, 1)),
}
DAY_BEGINS, LUNCH_BEGINS, LUNCH_ENDS, DAY_ENDS = 8 * 60 + 5, 12 * 60 + 30, 13 * 60 + 15, 16 * 60 + 10

Fitting = tuple[str, tuple[Row, ...]]
"""Kind, and the tube under each end."""


def add_joints(building: Building) -> None:
    """All joints, section by section, and what follows from them for the sections' dates."""
    tubes: dict[str, list[Row]] = defaultdict(list)
    for tube in building["tubes"]:
        tubes[tube.text("section_id")].append(tube)
    by_firm: dict[str, list[Row]] = defaultdict(list)
    for section in building["sections"]:
        by_firm[section.text("subcontractor")].append(section)
    made: dict[str, list[Row]] = {}
    for firm, sections in by_firm.items():
        made.update(_firm(building, firm, sections, tubes))
    for section in building["sections"]:
        building["joints"].extend(made[section.text("section_id")])


def _firm(building: Building, firm: str, sections: list[Row], tubes: dict[str, list[Row]]) -> dict[str, list[Row]]:
    pressers = PRESSERS[firm]
    share = -(-len(sections) // len(pressers))
    begin, finish = (WORKING_DAYS.index(working_day(day)) for day in FROM_TO[firm])
    step = (finish - begin) / share
    made = {}
    for n, section in enumerate(sections):
        who = n % len(pressers)
        day = WORKING_DAYS[begin + int((n // len(pressers) + who / len(pressers)) * step)]
        made[section.text("section_id")] = _section(
            building, section, tubes[section.text("section_id")], firm, who, day
        )
    return made


def _section(building: Building, section: Row, tubes: list[Row], firm: str, who: int, day: dt.date) -> list[Row]:
    dice = Dice("joints", section["section_id"])
    minute = DAY_BEGINS + dice.whole(0, 70)
    joints: list[Row] = []
    for n, (kind, ends) in enumerate(_fittings(section, tubes, dice), start=1):
        for letter, tube in zip("ABC", ends, strict=False):
            minute += dice.whole(5, 12)
            if LUNCH_BEGINS <= minute < LUNCH_ENDS:
                minute = LUNCH_ENDS + dice.whole(1, 9)
            if minute > DAY_ENDS:
                day, minute = working_day(day, 1), DAY_BEGINS + dice.whole(0, 40)
            name = f"{section['section_id']}-J{n:03d}" + (f"-{letter}" if ENDS[kind] > 1 else "")
            joints.append(_joint(section, tube, kind, name, firm, who, day, minute, dice))
        minute += dice.whole(1, 9)
    section["expected_ends"] = len(joints)
    section["installed_on"] = joints[-1]["press_date"]
    for tube in tubes:
        batch = tube_batch(tube.text("material"), tube.number("od_mm"), tube.text("tube_series"))
        tube["batch_id"] = batch
    section["delivered_on"] = building.find("batches", batch_id=tubes[0]["batch_id"])["received_on"]
    return joints


def _joint(
    section: Row, tube: Row, kind: str, name: str, firm: str, who: int, day: dt.date, minute: int, dice: Dice
) -> Row:
    material, od = tube.text("material"), tube.number("od_mm")
    family = FAMILY[material] if section["seal"] != "HNBR" else "FAM-G"
    high = section.number("elevation_high_m") - section.number("elevation_low_m") >= CEILING_M / 2
    place = (
        dice.pick(("at floor", "300 mm above floor", "at bracket", "under ceiling"))
        if section["riser"]
        else (f"{dice.whole(1, 24)} m from valve set" + (", high level" if high and dice.chance(0.7) else ""))
    )
    sling, twice = od > LARGEST_JAW_MM, od >= TWICE_PRESSED_MM
    brass_end = kind in ("valve", "adaptor") and material == "copper"
    return Row(
        "joints",
        {
            "joint_id": name,
            "unit_of_count": "end",
            "section_id": section["section_id"],
            "level": section["level"],
            "location": f"{section['riser'] or 'Branch'} {place}" if section["riser"] else place[0].upper() + place[1:],
            "drawing": section["drawing"],
            "drawing_revision": section["drawing_revision"],
            "joint_type": "two_stage_press" if twice else "press",
            "fitting_kind": kind,
            "od_mm": od,
            "material_tube": material,
            "material_fitting": "gunmetal" if brass_end else FITTING_MATERIAL[material],
            "system_family": family,
            "press_profile": PROFILE[family],
            "seal": section["seal"],
            "fitting_batch_id": fitting_batch(family, section.text("seal"), od, day),
            "tube_batch_id": tube_batch(material, od, tube.text("tube_series")),
            "operative_id": PRESSERS[firm][who],
            "tool_id": TOOLS[firm][who],
            "jaw_id": jaw_id(firm, PROFILE[family], od),
            "adapter_id": adapter_id(firm, PROFILE[family], od),
            "press_date": day,
            "press_time": clock(minute),
            "cut_square": True,
            "deburred": True,
            "coating_stripped": True if is_coated(material, od) else None,
            "seal_present": True,
            "depth_marked": True,
            "fully_inserted": True,
            "lubricated": True if sling else None,
            "tool_isolated": True,
            "depth_mark_visible": True,
            "fitting_closed": True,
            "sling_left_on": True if twice else None,
            "excess_wiped": True if sling else None,
            "marked_complete": True,
            "pressed_check": True,
            "checker_id": CHECKER[firm],
            "check_date": working_day(day, 1),
            "press_count": 2 if twice else 1,
            "status": "tested",
            "boundary": kind in ("valve", "cap"),
            "tube_to_next_mm": Dice("next", name).whole(8, 90) * 10,
        },
    )


def _fittings(section: Row, tubes: list[Row], dice: Dice) -> Iterator[Fitting]:
    """The fittings in the order of the run: valve set, bends, tees, changes of size, ends."""
    first = tubes[0]
    yield "valve", (first,)
    if section.text("rooms") in ("Drain leg", "Vent leg"):
        for _ in range(dice.whole(1, 2)):
            yield "elbow", (first, first)
        yield "adaptor", (first,)
        return
    if section["riser"] or len(tubes) == 1:
        for _ in range(max(1, round(first.number("length_m") / 5.0))):
            yield "coupling", (first, first)
        for _ in range(dice.whole(1, 2) if section["riser"] else dice.whole(2, 3)):
            yield "elbow", (first, first)
        if dice.chance(0.4):
            yield "tee", (first, first, first)
        yield "valve", (first,)
        return
    for n, tube in enumerate(tubes):
        if n:
            before = tubes[n - 1]
            kind = "reducer" if before["material"] == tube["material"] else "union"
            yield kind, (before, tube)
        for _ in range(max(1, round(tube.number("length_m") / 14.0))):
            yield "coupling", (tube, tube)
        for _ in range(dice.whole(1, 2)):
            yield "elbow", (tube, tube)
        if n < len(tubes) - 1:
            yield "tee", (tube, tube, tube)
    for _ in range(dice.whole(1, 3)):
        yield "adaptor", (tubes[-1],)
