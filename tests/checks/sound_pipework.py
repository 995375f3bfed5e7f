"""Systems, sections, nodes, valves, tube and joints of a made-up project."""

import datetime as dt
from dataclasses import dataclass, field
from typing import Any

from_goods: Any = None  # set by sound.py: the module of goods


@dataclass
class Section:
    """A section while the project grows: its row, its joints and what it is made of."""

    row: dict[str, str]
    system: "System"
    family: str
    sizes: list[float]
    length_m: float
    low_m: float
    high_m: float
    joints: list[dict[str, str]] = field(default_factory=list)
    last_check: dt.date = dt.date.min
    last_test: dt.date = dt.date.min
    fittings: int = 0

    @property
    def id(self) -> str:
        return self.row["section_id"]


@dataclass
class System:
    """A system while the project grows."""

    row: dict[str, str]
    kind: str
    material: str
    mop_bar: float
    sections: list[Section] = field(default_factory=list)

    @property
    def id(self) -> str:
        return self.row["system_id"]

    @property
    def potable(self) -> bool:
        return self.kind == "MCW"


KINDS = ("LTHW", "CHW", "MCW", "CA")
SERVICE = {"LTHW": "heating_flow", "CHW": "chilled_flow", "MCW": "mains_cold_water", "CA": "compressed_air"}
MEDIUM = {"LTHW": "treated_water", "CHW": "glycol_water", "MCW": "drinking_water", "CA": "compressed_air"}
ENDS = {"coupling": 2, "elbow": 2, "tee": 3, "reducer": 2}


def lay_out(site: Any, goods: Any) -> list[System]:
    """All systems with their sections, nodes, valves, tube and joints."""
    systems = [_system(site, kind) for kind in KINDS]
    large = site.rng.choice(("LTHW", "CHW"))
    for system in systems:
        for number in range(1, site.rng.randint(1, 3) + 1):
            _section(site, goods, system, number, 108 if system.kind == large and number == 1 else 0)
        _nodes(site, system)
    for system in systems:
        for section in system.sections:
            _joints(site, goods, section)
    return systems


def _system(site: Any, kind: str) -> System:
    rng = site.rng
    material = {
        "LTHW": rng.choice(("carbon_steel", "copper")),
        "CHW": "carbon_steel",
        "MCW": rng.choice(("stainless_steel", "copper")),
        "CA": rng.choice(("stainless_steel", "copper")),
    }[kind]
    mop = rng.choice({"LTHW": (2.5, 3.0, 3.5), "CHW": (3.0, 4.0), "MCW": (3.0, 4.0, 4.5), "CA": (6.0, 7.0)}[kind])
    low, high, upset = {
        "LTHW": (15, rng.choice((70, 75, 80)), 95),
        "CHW": (6, 12, 35),
        "MCW": (5, 20, 25),
        "CA": (5, 40, 60),
    }[kind]
    closed = kind in ("LTHW", "CHW")
    row = site.add(
        "systems", system_id=kind, name={"LTHW": "Heating, flow", "CHW": "Chilled water, flow", "MCW": "Mains cold water", "CA": "Compressed air"}[kind],
        service=SERVICE[kind], medium=MEDIUM[kind], glycol_percent=30 if kind == "CHW" else None, max_operating_pressure_bar=mop, max_design_pressure_bar=mop + 2,
        min_temperature_c=low, max_temperature_c=high, upset_temperature_c=upset, relief_set_bar=mop + 1.5,
        potable=kind == "MCW", closed_circuit=closed, oil_free=rng.random() < 0.5 if kind == "CA" else None, critical_for="Ground floor kitchen", stops=f"{kind} on all levels",
        responsible_role="Duty engineer", water_treatment="Inhibitor dosed to data sheet" if closed else "",
        schematic=f"{kind}-SCH-01 C01", fittings_allowance_percent=5, plant_content_l=rng.randint(20, 60) if closed else 0,
    )  # fmt: skip
    site.paper("drawing", f"{kind}-SCH-01", site.first_day - dt.timedelta(days=30), kind, "facilities", "C01")
    return System(row, kind, material, mop)


def _section(site: Any, goods: Any, system: System, number: int, size: float) -> None:
    rng = site.rng
    family = {"copper": "FAM-C", "stainless_steel": "FAM-S", "carbon_steel": "FAM-K"}[system.material]
    if system.kind == "CA":
        family = {"copper": "FAM-A", "stainless_steel": "FAM-B"}[system.material]
    size = size or rng.choice((22, 28, 35, 42, 54, 54, 76.1) if number == 1 else (15, 22, 28, 35))
    walls = list(from_goods.WALL_MM[system.material])
    sizes = [size]
    if rng.random() < 0.6 and size > 15:
        sizes.append(walls[max(0, walls.index(size) - rng.randint(1, 2))])
    low = round(rng.uniform(0, 8), 1)
    high = round(low + rng.choice((0.0, rng.uniform(0.5, 9))), 1)
    name = f"{system.kind}-{number}"
    drawing = f"{system.kind}-L{number:02d}-10{number}"
    row = site.add(
        "sections", section_id=name, system_id=system.kind, name=f"Section {number} of {system.row['name'].lower()}",
        from_node=f"V-{system.kind}-{number - 1}", to_node=f"V-{system.kind}-{number}", flow=rng.choice(("up", "down", "left", "right")),
        level=str(number), rooms=f"{number}.01 to {number}.14", location=f"Corridor {number}, above the tiles", system_family=family,
        seal=from_goods.FAMILIES[family][2], elevation_high_m=high, elevation_low_m=low, expected_ends="",
        insulation="" if system.kind == "CA" else "Mineral wool 25 mm, foil faced", access="Tile above corridor, step ladder",
        concealed="", cover_up_date="", subcontractor=rng.choice(("SUB-1", "SUB-2")), delivered_on="", installed_on="", commissioned_on="",
        drawing=drawing, drawing_revision="C02", tag_position="On the bracket beside the valve", sensitive=False, status="in_service",
    )  # fmt: skip
    site.paper("drawing", drawing, site.first_day - dt.timedelta(days=20), f"{drawing}; {name}", "facilities", "C02")
    length = round(rng.uniform(4, 18) + (high - low), 1)
    section = Section(row, system, family, sizes, length, low, high)
    system.sections.append(section)
    for n, od in enumerate(sizes):
        site.add(
            "tubes", section_id=name, material=system.material, od_mm=od, wall_mm=from_goods.WALL_MM[system.material][od],
            tube_series=from_goods.SERIES[system.material], length_m=length if n == 0 else round(rng.uniform(2, 8), 1),
            batch_id=goods.batch("tube", family, od, site.first_day),
        )  # fmt: skip


def _nodes(site: Any, system: System) -> None:
    """A valve at every end of a section; a drain and a vent for each section."""
    sections = system.sections
    for number in range(len(sections) + 1):
        around = sections[max(0, number - 1) : number + 1]
        beside = around[-1]
        kind = "plant" if number == 0 else ("terminal" if number == len(sections) else "valve")
        name = f"V-{system.kind}-{number}"
        _valve(site, name, "isolating", kind, system, around, beside, beside.sizes[0], beside.low_m)
    for section in sections:
        for kind, height in (("drain", section.low_m), ("vent", section.high_m)):
            prefix = "DR" if kind == "drain" else "AV"
            _valve(site, f"{prefix}-{section.id}", kind, kind, system, [section], section, 15, height)


def _valve(
    site: Any,
    name: str,
    kind: str,
    node_kind: str,
    system: System,
    around: list[Section],
    beside: Section,
    od: float,
    height: float,
) -> None:
    position = "open" if kind == "isolating" else "closed"
    where = f"{beside.row['location']}, {site.rng.randint(1, 9)} m from the door"
    site.add(
        "nodes", node_id=name, kind=node_kind, system_id=system.kind, name=f"{kind.capitalize()} valve of {beside.id}", od_mm=od,
        level=beside.row["level"], location=where, elevation_m=height, normal_position=position, close_by="Clockwise, quarter turn, lever",
    )  # fmt: skip
    taken = site.first_day + dt.timedelta(days=2)
    site.add(
        "valves", valve_id=name, node_id=name, kind=kind, od_mm=od, pressure_rating_bar=16, max_temperature_c=110,
        normal_position=position, closes="clockwise", turns=0.25, key="lever", level=beside.row["level"], location=where,
        access=beside.row["access"], section_ids="; ".join(section.id for section in around), exercised_on="", holds_tight=True,
        photo_near=site.paper("photo", f"Valve {name}, near", taken, name, "facilities"),
        photo_far=site.paper("photo", f"Valve {name}, from the door", taken, name, "facilities"),
        consequence=f"{system.row['name']} beyond {name}",
    )  # fmt: skip


def _joints(site: Any, goods: Any, section: Section) -> None:
    rng = site.rng
    who = rng.choice(goods.pressers)
    day = site.free_day(site.first_day + dt.timedelta(days=rng.randint(0, 8)), who)
    minute = 8 * 60 + rng.randint(5, 60)
    wanted = rng.randint(4, 13)
    ends = 0
    while ends < wanted - 1:
        kind = rng.choice(("elbow", "elbow", "coupling", "tee") if len(section.sizes) == 1 or ends else ("reducer",))
        minute = fitting(site, goods, section, kind, who, day, minute)
        ends += ENDS[kind]
    section.joints[0]["boundary"] = section.joints[-1]["boundary"] = "yes"
    section.row["installed_on"] = day.isoformat()
    section.row["expected_ends"] = str(ends)
    tubes = [row for row in site.tables["tubes"] if row["section_id"] == section.id]
    batches = {row["batch_id"]: row for row in site.tables["batches"]}
    section.row["delivered_on"] = max(batches[row["batch_id"]]["received_on"] for row in tubes)


def fitting(
    site: Any,
    goods: Any,
    section: Section,
    kind: str,
    who: str,
    day: dt.date,
    minute: int,
    replaces: list[dict[str, str]] | None = None,
) -> int:
    """Press one fitting, end by end; the minute at which the next can begin."""
    rng = site.rng
    section.fittings += 1
    tube, made_of, seal, profile = from_goods.FAMILIES[section.family]
    sizes = [section.sizes[0]] * ENDS[kind]
    if kind == "reducer" or (kind == "tee" and rng.random() < 0.5):
        sizes[-1] = section.sizes[-1]
    if replaces:
        sizes = [float(row["od_mm"]) for row in replaces]
    checker = rng.choice(goods.checkers)
    checked = site.working(day, rng.randint(0, 1))
    batch = goods.batch("fitting", section.family, max(sizes), day)
    for n, od in enumerate(sizes):
        minute += rng.randint(25, 40) if od >= from_goods.TWICE_PRESSED_MM else rng.randint(8, 16)
        sling, twice = od >= from_goods.SMALLEST_SLING_MM, od >= from_goods.TWICE_PRESSED_MM
        joint_id = f"{section.id}-J{section.fittings:03d}-{'ABC'[n]}"
        place = f"{rng.randint(1, 20)} m from valve {section.row['from_node']}"
        row = site.add(
            "joints", joint_id=joint_id, unit_of_count="end", section_id=section.id, level=section.row["level"], location=place,
            drawing=section.row["drawing"], drawing_revision="C02", joint_type="two_stage_press" if twice else "press", fitting_kind=kind,
            od_mm=od, material_tube=tube, material_fitting=made_of, system_family=section.family, press_profile=profile, seal=seal,
            fitting_batch_id=batch, tube_batch_id=goods.batch("tube", section.family, od, day),
            operative_id=who, tool_id=goods.tool_of[who], jaw_id=goods.head(who, section.family, od),
            adapter_id=goods.adapter(who, section.family, od), press_date=day, press_time=dt.time(minute // 60, minute % 60),
            cut_square=True, deburred=True, coating_stripped=True if tube == "carbon_steel" else None, seal_present=True, depth_marked=True,
            fully_inserted=True, lubricated=True if sling else None, tool_isolated=True, depth_mark_visible=True, fitting_closed=True,
            sling_left_on=True if twice else None, excess_wiped=True if sling else None, marked_complete=True, pressed_check=True,
            checker_id=checker, check_date=checked, press_count=2 if twice else 1, status="tested",
            replaces_joint=replaces[n]["joint_id"] if replaces else "", boundary=False, tube_to_next_mm=int(od * 4) + rng.randint(60, 400),
            photo=site.paper("photo", f"Joint {joint_id}", day, joint_id) if rng.random() < 0.3 else None,
        )  # fmt: skip
        section.joints.append(row)
    section.last_check = max(section.last_check, checked)
    return minute + rng.randint(1, 9)
