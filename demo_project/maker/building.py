"""The building: systems, risers, branches and plant as sections between nodes, with their tube."""

from __future__ import annotations

from dataclasses import dataclass, field

from .model import Building, Dice, Row

FLOOR_M = {0: 0.0, 1: 4.2, 2: 8.0, 3: 11.8, 4: 15.6, 5: 19.4}
CEILING_M = 2.9
LEVEL_USE = {
    0: "kitchen, refectory and plant room",
    1: "workshops",
    2: "offices",
    3: "offices and meeting rooms",
    4: "clinic",
    5: "studio and roof plant room",
}
RISER_PLACE = {
    "R1": "riser cupboard 1, north stair",
    "R2": "riser cupboard 2, south stair",
    "R3": "riser cupboard 3, kitchen core",
    "R4": "riser cupboard 4, yard side",
}
ZONE = {"N": "north", "S": "south", "E": "east", "W": "west"}

WALL_MM = {
    # EN 1057 walls of the UK table X, EN 10312 series 2 and the usual EN 10305-3 pairs
    "copper": {15: 0.7, 22: 0.9, 28: 0.9, 35: 1.2, 42: 1.2, 54: 1.2, 76.1: 1.5, 108: 1.5},
    "stainless_steel": {15: 1.0, 22: 1.2, 28: 1.2, 35: 1.5, 42: 1.5, 54: 1.5, 76.1: 2.0, 88.9: 2.0, 108: 2.0},
    "carbon_steel": {15: 1.2, 22: 1.5, 28: 1.5, 35: 1.5, 42: 1.5, 54: 1.5, 76.1: 2.0, 88.9: 2.0, 108: 2.0},
}
SERIES_1_WALL_MM = {15: 0.6, 22: 0.7, 28: 0.8}
SERIES = {"copper": "table_x", "stainless_steel": "series_2", "carbon_steel": "press_carbon"}
SHORT = {"copper": "cu", "stainless_steel": "st", "carbon_steel": "cs"}
LONG = {short: material for material, short in SHORT.items()}

Run = tuple[str, float]
"""Short material and outside diameter, mm."""


@dataclass(frozen=True)
class Riser:
    """Levels in the order of flow, and the tube of each stretch between two of them."""

    name: str
    levels: tuple[int, ...]
    runs: tuple[Run, ...]
    foot: str = ""
    """'drain' where a drain leg hangs below the lowest valve set."""
    head: str = ""
    """'vent' where an air vent stands above the highest valve set."""


@dataclass(frozen=True)
class Branch:
    """One floor's branch off a riser: where it goes, what it serves, main run and run-outs."""

    riser: str
    level: int
    zone: str
    serves: str
    runs: tuple[Run, ...]
    terminal: str
    tees: int = 3


@dataclass(frozen=True)
class Network:
    """One system as built."""

    system: str
    code: str
    words: str
    plant: str
    plant_words: str
    plant_level: int
    supply: bool
    """True where water flows from plant to terminals; False for returns."""
    mains: dict[str, Run]
    risers: tuple[Riser, ...]
    branches: tuple[Branch, ...]
    subcontractor: str
    family: dict[str, str]
    seal: str
    insulation: str
    drawing: str
    values: dict[str, object] = field(default_factory=dict)


def _heating_branches(levels: dict[int, str]) -> tuple[Branch, ...]:
    found = []
    for level in levels:
        for riser, zone in (("R1", "N"), ("R2", "S")):
            if level == 5 and zone == "S":
                continue
            big = 35 if level in (0, 4) else 28
            runs: tuple[Run, ...] = (("cs", big), ("cu", 22), ("cu", 15))
            words = "radiant panels" if level <= 1 else "radiators"
            found.append(Branch(riser, level, zone, f"{words}, level {level} {ZONE[zone]}", runs, "emitters"))
    return tuple(found)


_CHILLED_ZONES = (("R1", 5, "N"), ("R1", 4, "N"), ("R1", 3, "N"), ("R1", 2, "N"), ("R1", 0, "N"), ("R2", 4, "S"),
                  ("R2", 3, "S"), ("R2", 2, "S"))  # fmt: skip


def _chilled_branches() -> tuple[Branch, ...]:
    found = []
    for riser, level, zone in _CHILLED_ZONES:
        big = 54 if level in (0, 4) else 42
        runs: tuple[Run, ...] = (("cs", big), ("cu", 28), ("cu", 22))
        serves = "kitchen cold-room coolers" if level == 0 else f"fan coils, level {level} {ZONE[zone]}"
        found.append(Branch(riser, level, zone, serves, runs, "coolers", tees=4))
    return tuple(found)


_WATER_USES = {
    (0, "N"): "kitchen sinks and refectory",
    (0, "S"): "cleaners' store and wash room",
    (1, "N"): "workshop wash room",
    (1, "S"): "workshop sinks",
    (2, "N"): "wash rooms and tea point",
    (2, "S"): "tea point",
    (3, "N"): "wash rooms and tea point",
    (3, "S"): "tea point",
    (4, "N"): "clinic treatment rooms",
    (4, "S"): "clinic wash rooms",
    (5, "N"): "studio wash room",
}


def _water_branches(big: Run, middle: Run, skip: tuple[tuple[int, str], ...] = (), tees: int = 3) -> tuple[Branch, ...]:
    return tuple(
        Branch("R1" if zone == "N" else "R2", level, zone, serves, (big, middle, ("cu", 15)), "outlets", tees)
        for (level, zone), serves in _WATER_USES.items()
        if (level, zone) not in skip
    )


def _runs(material: str, *sizes: float) -> tuple[Run, ...]:
    return tuple((material, size) for size in sizes)


DOWN, UP = (5, 4, 3, 2, 1, 0), (0, 1, 2, 3, 4, 5)
HEATING_LEVELS = dict.fromkeys(DOWN, "")
WARM = "Mineral wool 25 mm, foil faced"
COLD = "Closed-cell rubber 19 mm, all seams glued as vapour barrier"
FAMILIES = {"copper": "FAM-C", "stainless_steel": "FAM-S", "carbon_steel": "FAM-K"}

NETWORKS = (
    Network(
        "LTHW-F", "LF", "Heating flow", "PL-BOILER-F", "Boiler header, flow, roof plant room", 5, True,
        {"R1": ("cs", 76.1), "R2": ("cs", 76.1)},
        (Riser("R1", DOWN, _runs("cs", 76.1, 54, 54, 42, 35), "drain", "vent"),
         Riser("R2", DOWN, _runs("cs", 76.1, 54, 54, 42, 35), "drain", "vent")),
        _heating_branches(HEATING_LEVELS), "SUB-1", FAMILIES, "EPDM", WARM, "HTG",
        {"name": "Low temperature heating, flow", "service": "heating_flow", "medium": "treated_water",
         "max_operating_pressure_bar": 3.0, "max_design_pressure_bar": 6.0, "min_temperature_c": 15, "max_temperature_c": 80,
         "upset_temperature_c": 95, "relief_set_bar": 5.0, "potable": False, "closed_circuit": True,
         "critical_for": "Clinic, level 4", "stops": "Heating on levels 0 to 5", "responsible_role": "Duty engineer",
         "water_treatment": "Inhibitor and biocide dosed to data sheet", "schematic": "HTG-SCH-01 C02"},
    ),
    Network(
        "LTHW-R", "LR", "Heating return", "PL-BOILER-R", "Boiler header, return, roof plant room", 5, False,
        {"R1": ("cs", 76.1), "R2": ("cs", 76.1)},
        (Riser("R1", UP, _runs("cs", 35, 42, 54, 54, 76.1), "drain"),
         Riser("R2", UP, _runs("cs", 35, 42, 54, 54, 76.1), "drain")),
        _heating_branches(HEATING_LEVELS), "SUB-1", FAMILIES, "EPDM", WARM, "HTG",
        {"name": "Low temperature heating, return", "service": "heating_return", "medium": "treated_water",
         "max_operating_pressure_bar": 3.0, "max_design_pressure_bar": 6.0, "min_temperature_c": 15, "max_temperature_c": 60,
         "upset_temperature_c": 95, "relief_set_bar": 5.0, "potable": False, "closed_circuit": True,
         "critical_for": "Clinic, level 4", "stops": "Heating on levels 0 to 5", "responsible_role": "Duty engineer",
         "water_treatment": "Inhibitor and biocide dosed to data sheet", "schematic": "HTG-SCH-01 C02"},
    ),
    Network(
        "CHW-F", "CF", "Chilled water flow", "PL-CHILLER-F", "Chiller header, flow, roof plant room", 5, True,
        {"R1": ("cs", 108), "R2": ("cs", 88.9)},
        (Riser("R1", (5, 4, 3, 2, 0), _runs("cs", 108, 88.9, 76.1, 54), "drain"),
         Riser("R2", (5, 4, 3, 2), _runs("cs", 88.9, 76.1, 54), "drain")),
        _chilled_branches(), "SUB-2", FAMILIES, "EPDM", COLD, "CHW",
        {"name": "Chilled water, flow", "service": "chilled_flow", "medium": "treated_water",
         "max_operating_pressure_bar": 4.0, "max_design_pressure_bar": 6.0, "min_temperature_c": 6, "max_temperature_c": 12,
         "upset_temperature_c": 35, "relief_set_bar": 5.5, "potable": False, "closed_circuit": True,
         "critical_for": "Kitchen cold rooms, level 0; clinic pharmacy store, level 4",
         "stops": "Cooling on levels 2 to 5 and the kitchen cold rooms", "responsible_role": "Duty engineer",
         "water_treatment": "Inhibitor and biocide dosed to data sheet", "schematic": "CHW-SCH-01 C02"},
    ),
    Network(
        "CHW-R", "CR", "Chilled water return", "PL-CHILLER-R", "Chiller header, return, roof plant room", 5, False,
        {"R1": ("cs", 108), "R2": ("cs", 88.9)},
        (Riser("R1", (0, 2, 3, 4, 5), _runs("cs", 54, 76.1, 88.9, 108), "drain"),
         Riser("R2", (2, 3, 4, 5), _runs("cs", 54, 76.1, 88.9), "drain")),
        _chilled_branches(), "SUB-2", FAMILIES, "EPDM", COLD, "CHW",
        {"name": "Chilled water, return", "service": "chilled_return", "medium": "treated_water",
         "max_operating_pressure_bar": 4.0, "max_design_pressure_bar": 6.0, "min_temperature_c": 6, "max_temperature_c": 18,
         "upset_temperature_c": 35, "relief_set_bar": 5.5, "potable": False, "closed_circuit": True,
         "critical_for": "Kitchen cold rooms, level 0; clinic pharmacy store, level 4",
         "stops": "Cooling on levels 2 to 5 and the kitchen cold rooms", "responsible_role": "Duty engineer",
         "water_treatment": "Inhibitor and biocide dosed to data sheet", "schematic": "CHW-SCH-01 C02"},
    ),
    Network(
        "MCW", "MC", "Mains cold water", "PL-METER-W", "Water meter, level 0 plant room", 0, True,
        {"R3": ("st", 54)},
        (Riser("R3", UP, _runs("st", 42, 42, 35, 35, 28)),),
        (Branch("R3", 0, "E", "kitchen drinking water", (("st", 42), ("st", 28), ("st", 22)), "outlets"),
         Branch("R3", 1, "E", "workshop drinking point", (("st", 22), ("st", 15)), "outlets", 1),
         Branch("R3", 2, "E", "office drinking points", (("st", 28), ("st", 22), ("s1", 15)), "outlets", 2),
         Branch("R3", 3, "E", "office drinking points", (("st", 28), ("st", 22), ("s1", 15)), "outlets", 2),
         Branch("R3", 4, "E", "clinic drinking points", (("st", 28), ("st", 22), ("s1", 15)), "outlets", 3),
         Branch("R3", 5, "E", "fill points, roof plant room", (("st", 28), ("st", 22)), "fill unit", 1)),
        "SUB-3", FAMILIES, "EPDM", COLD, "DWS",
        {"name": "Mains cold water", "service": "mains_cold_water", "medium": "drinking_water",
         "max_operating_pressure_bar": 4.0, "max_design_pressure_bar": 10.0, "min_temperature_c": 5, "max_temperature_c": 20,
         "upset_temperature_c": 25, "potable": True, "closed_circuit": False, "critical_for": "Kitchen, level 0",
         "stops": "Drinking points on all levels, the break tank and the fill points", "responsible_role": "Duty engineer",
         "schematic": "DWS-SCH-01 C01"},
    ),
    Network(
        "BCW", "BC", "Boosted cold water", "PL-BOOSTER", "Booster set, level 0 plant room", 0, True,
        {"R1": ("st", 88.9), "R2": ("st", 76.1)},
        (Riser("R1", UP, _runs("st", 76.1, 54, 54, 42, 42), "drain"),
         Riser("R2", (0, 1, 2, 3, 4), _runs("st", 54, 54, 42, 35), "drain")),
        _water_branches(("st", 35), ("cu", 22)), "SUB-3", FAMILIES, "EPDM", COLD, "DWS",
        {"name": "Boosted cold water", "service": "boosted_cold_water", "medium": "drinking_water",
         "max_operating_pressure_bar": 6.0, "max_design_pressure_bar": 10.0, "min_temperature_c": 5, "max_temperature_c": 20,
         "upset_temperature_c": 25, "relief_set_bar": 8.0, "potable": True, "closed_circuit": False,
         "critical_for": "Clinic, level 4; kitchen, level 0", "stops": "Cold water to wash rooms, kitchen and clinic",
         "responsible_role": "Duty engineer", "schematic": "DWS-SCH-01 C01"},
    ),
    Network(
        "DHW-F", "HF", "Hot water flow", "PL-CALORIFIER-F", "Calorifier, flow, level 0 plant room", 0, True,
        {"R1": ("st", 54), "R2": ("st", 54)},
        (Riser("R1", UP, _runs("st", 54, 42, 42, 35, 28), "drain"),
         Riser("R2", (0, 1, 2, 3, 4), _runs("st", 42, 42, 35, 28), "drain")),
        _water_branches(("cu", 28), ("cu", 22)), "SUB-3", FAMILIES, "EPDM", WARM, "DWS",
        {"name": "Hot water, flow", "service": "hot_water_flow", "medium": "drinking_water",
         "max_operating_pressure_bar": 6.0, "max_design_pressure_bar": 10.0, "min_temperature_c": 10, "max_temperature_c": 60,
         "upset_temperature_c": 75, "relief_set_bar": 8.0, "potable": True, "closed_circuit": False,
         "critical_for": "Clinic, level 4; kitchen, level 0", "stops": "Hot water to wash rooms, kitchen and clinic",
         "responsible_role": "Duty engineer", "schematic": "DWS-SCH-02 C01"},
    ),
    Network(
        "DHW-R", "HR", "Hot water return", "PL-CALORIFIER-R", "Calorifier, return pump, level 0 plant room", 0, False,
        {"R1": ("cu", 28), "R2": ("cu", 28)},
        (Riser("R1", (4, 3, 2, 1, 0), _runs("cu", 22, 22, 28, 28)),
         Riser("R2", (4, 3, 2, 1, 0), _runs("cu", 22, 22, 28, 28))),
        _water_branches(("cu", 22), ("cu", 15), skip=((5, "N"), (1, "S"), (3, "S")), tees=1),
        "SUB-3", FAMILIES, "EPDM", WARM, "DWS",
        {"name": "Hot water, return", "service": "hot_water_return", "medium": "drinking_water",
         "max_operating_pressure_bar": 6.0, "max_design_pressure_bar": 10.0, "min_temperature_c": 10, "max_temperature_c": 50,
         "upset_temperature_c": 75, "relief_set_bar": 8.0, "potable": True, "closed_circuit": False,
         "critical_for": "Clinic, level 4; kitchen, level 0", "stops": "Circulation of hot water: outlets run cold first",
         "responsible_role": "Duty engineer", "schematic": "DWS-SCH-02 C01"},
    ),
    Network(
        "CA", "CA", "Compressed air", "PL-COMPRESSOR", "Air receiver, level 0 plant room", 0, True,
        {"R4": ("st", 54)},
        (Riser("R4", (0, 1, 4, 5), _runs("st", 54, 42, 35), "drain"),),
        (Branch("R4", 0, "E", "loading bay tools", (("cu", 35), ("cu", 22)), "air points", 3),
         Branch("R4", 1, "W", "workshop benches west", (("cu", 42), ("cu", 28), ("cu", 22)), "air points", 5),
         Branch("R4", 4, "E", "clinic surgery chairs", (("cu", 28), ("cu", 22)), "air points", 3),
         Branch("R4", 5, "E", "studio stage lifts", (("cu", 28), ("cu", 22)), "air points", 2)),
        "SUB-4", FAMILIES, "FKM", "None", "CA",
        {"name": "Compressed air", "service": "compressed_air", "medium": "compressed_air",
         "max_operating_pressure_bar": 7.0, "max_design_pressure_bar": 8.0, "min_temperature_c": 5, "max_temperature_c": 40,
         "upset_temperature_c": 60, "relief_set_bar": 8.0, "potable": False, "closed_circuit": False,
         "critical_for": "Clinic surgery, level 4", "stops": "Workshop tools, clinic chairs, stage lifts",
         "responsible_role": "Duty engineer", "schematic": "CA-SCH-01 C01"},
    ),
    Network(
        "NG", "NG", "Natural gas", "PL-METER-G", "Gas meter, yard housing, level 0", 0, True,
        {"R4": ("cu", 54)},
        (Riser("R4", (0, 1, 3, 5), _runs("cu", 54, 54, 54)),),
        (Branch("R4", 0, "E", "kitchen ranges", (("cu", 42), ("cu", 28)), "appliances", 3),
         Branch("R4", 1, "W", "workshop forge", (("cu", 28), ("cu", 22)), "appliances", 1),
         Branch("R4", 5, "N", "boilers, roof plant room", (("cu", 54), ("cu", 35)), "appliances", 2)),
        "SUB-4", {"copper": "FAM-G"}, "HNBR", "None", "GAS",
        {"name": "Natural gas", "service": "natural_gas", "medium": "natural_gas",
         "max_operating_pressure_bar": 0.021, "max_design_pressure_bar": 0.075, "min_temperature_c": 0,
         "max_temperature_c": 30, "upset_temperature_c": 40, "potable": False, "closed_circuit": False,
         "critical_for": "Kitchen, level 0", "stops": "Kitchen ranges, workshop forge, boilers on level 5",
         "responsible_role": "Duty engineer", "schematic": "GAS-SCH-01 C01"},
    ),
)  # fmt: skip


def add_building(building: Building) -> None:
    """Systems, nodes, sections and tubes of the whole building."""
    for network in NETWORKS:
        building.add("systems", system_id=network.system, **network.values)  # type: ignore[arg-type]
        _NetworkWriter(building, network).write()


class _NetworkWriter:
    def __init__(self, building: Building, network: Network) -> None:
        self.building = building
        self.network = network

    def write(self) -> None:
        net = self.network
        plant_z = round(FLOOR_M[net.plant_level] + 1.4, 2)
        self._node(net.plant, "plant", net.plant_words, None, net.plant_level, net.plant_words, plant_z)
        for riser in net.risers:
            self._riser(riser, plant_z)
        for branch in net.branches:
            self._branch(branch)

    def _node(self, node: str, kind: str, name: str, od: float | None, level: int, where: str, z: float, **more: str) -> str:
        self.building.add(
            "nodes", node_id=node, kind=kind, system_id=self.network.system, name=name, od_mm=od, level=str(level),
            location=where, elevation_m=round(z, 2), **more,
        )  # fmt: skip
        return node

    def _set(self, riser: Riser | Branch, level: int) -> str:
        name = riser.name if isinstance(riser, Riser) else riser.riser
        return f"V-{self.network.code}{name[1]}-{level}"

    def _riser(self, riser: Riser, plant_z: float) -> None:
        net = self.network
        place = RISER_PLACE[riser.name]
        sizes = [run[1] for run in riser.runs]
        for n, level in enumerate(riser.levels):
            self._node(
                self._set(riser, level), "valve", f"{net.words} valve set, riser {riser.name[1]}, level {level}",
                sizes[min(n, len(sizes) - 1)], level, f"{place[0].upper()}{place[1:]}, level {level}, knee height",
                FLOOR_M[level] + 0.6, normal_position="open",
                close_by="Tee with a lever on each leg; quarter turn, lever across the pipe is shut",
            )  # fmt: skip
        near = riser.levels[0] if net.supply else riser.levels[-1]
        main_run = net.mains[riser.name]
        ends = (net.plant, self._set(riser, near))
        z = FLOOR_M[near] + 0.6
        high = max(plant_z, z, FLOOR_M[net.plant_level] + CEILING_M)
        self._section(
            f"{net.system}-M{riser.name[1]}", f"{net.words} main from plant to riser {riser.name[1]}", ends, near,
            [(main_run, Dice("main", net.system, riser.name).between(11, 24))], high, min(plant_z, z),
            rooms="Whole building", location=f"Plant room level {net.plant_level}, high level along the {place.split(', ')[1]} wall",
            flow="right" if riser.name in ("R2", "R4") else "left", concealed=False, riser=None,
        )  # fmt: skip
        for n, run in enumerate(riser.runs):
            start, end = riser.levels[n], riser.levels[n + 1]
            z1, z2 = FLOOR_M[start] + 0.6, FLOOR_M[end] + 0.6
            self._section(
                f"{net.system}-{riser.name}-L{end}",
                f"{net.words} riser {riser.name[1]}, level {start} to level {end}",
                (self._set(riser, start), self._set(riser, end)), end,
                [(run, round(abs(z1 - z2) + Dice("riser", net.system, riser.name, end).between(0.4, 1.6), 1))],
                max(z1, z2), min(z1, z2), level=f"{min(start, end)} to {max(start, end)}",
                rooms=f"Level {end} ({LEVEL_USE[end]}) and on", location=f"{place[0].upper()}{place[1:]}",
                flow="up" if end > start else "down", concealed=True, riser=riser.name,
            )  # fmt: skip
        low, top = min(riser.levels), max(riser.levels)
        if riser.foot:
            drain = self._node(
                f"D-{net.code}{riser.name[1]}", "drain", f"{net.words} drain, foot of riser {riser.name[1]}", 15, low,
                f"{place[0].upper()}{place[1:]}, level {low}, 200 mm above floor, hose tail", FLOOR_M[low] + 0.2,
                normal_position="closed", close_by="Square key, clockwise to shut",
            )  # fmt: skip
            self._section(
                f"{net.system}-{riser.name}-FOOT", f"{net.words} drain leg, foot of riser {riser.name[1]}",
                (self._set(riser, low), drain), low, [(_smaller(riser, low), 0.6)], FLOOR_M[low] + 0.6, FLOOR_M[low] + 0.2,
                rooms="Drain leg", location=f"{place[0].upper()}{place[1:]}", flow="down", concealed=True, riser=riser.name,
            )  # fmt: skip
        if riser.head:
            vent = self._node(
                f"AV-{net.code}{riser.name[1]}", "vent", f"{net.words} air vent, head of riser {riser.name[1]}", 15, top,
                f"{place[0].upper()}{place[1:]}, level {top}, under the ceiling", FLOOR_M[top] + 3.0,
                normal_position="open", close_by="Lever below the vent, quarter turn",
            )  # fmt: skip
            self._section(
                f"{net.system}-{riser.name}-HEAD", f"{net.words} vent leg, head of riser {riser.name[1]}",
                (self._set(riser, top), vent), top, [(("cs", 28), 2.4)], FLOOR_M[top] + 3.0, FLOOR_M[top] + 0.6,
                rooms="Vent leg", location=f"{place[0].upper()}{place[1:]}", flow="up", concealed=True, riser=riser.name,
            )  # fmt: skip

    def _branch(self, branch: Branch) -> None:
        net = self.network
        dice = Dice("branch", net.system, branch.level, branch.zone)
        high = FLOOR_M[branch.level] + CEILING_M
        low = FLOOR_M[branch.level] + 0.6
        terminal = self._terminal(branch, low)
        valve = self._set(branch, branch.level)
        runs = [(run, dice.between(*span)) for run, span in zip(branch.runs, ((9, 22), (8, 18), (4, 11)), strict=False)]
        rooms = f"{branch.level}.{1 if branch.zone in 'NE' else 21:02d} to {branch.level}.{20 if branch.zone in 'NE' else 38:02d}"
        exposed = branch.level in (0, 1) or net.system == "NG"
        self._section(
            f"{net.system}-L{branch.level}-{branch.zone}",
            f"{net.words} branch, level {branch.level} {ZONE[branch.zone]}: {branch.serves}",
            (valve, terminal), branch.level, runs, high, low, rooms=rooms,
            location=f"Level {branch.level} corridor {ZONE[branch.zone]}, " + ("exposed at high level" if exposed else "above ceiling"),
            flow=dice.pick(("left", "right")), concealed=not exposed, riser=None,
        )  # fmt: skip

    def _terminal(self, branch: Branch, z: float) -> str:
        shared = {"LTHW": "EM", "CHW": "FC", "DHW": "HW"}.get(self.network.system.rsplit("-", 1)[0])
        node = f"T-{shared or self.network.code}-{branch.level}{branch.zone}"
        if any(self.building.where("nodes", node_id=node)):
            return node
        words = f"{branch.terminal[0].upper()}{branch.terminal[1:]}: {branch.serves}"
        where = f"Level {branch.level} {ZONE[branch.zone]}, {LEVEL_USE[branch.level]}"
        return self._node(node, "terminal", words, branch.runs[-1][1], branch.level, where, z + 0.3)

    def _section(
        self, section: str, name: str, outward: tuple[str, str], at: int, runs: list[tuple[Run, float]], high: float, low: float,
        *, rooms: str, location: str, flow: str, concealed: bool, riser: str | None, level: str | None = None,
    ) -> None:  # fmt: skip
        net = self.network
        # Riser stretches are given in the order of flow already; mains and branches are given outward from the plant.
        with_flow = level is not None or net.supply or rooms in ("Drain leg", "Vent leg")
        start, end = outward if with_flow else outward[::-1]
        material = LONG[_long(runs[0][0][0])]
        row = self.building.add(
            "sections", section_id=section, system_id=net.system, name=name, from_node=start, to_node=end, flow=flow,
            level=level or str(at), rooms=rooms, location=location, riser=riser, system_family=net.family[material],
            seal=net.seal, elevation_high_m=round(high, 2), elevation_low_m=round(low, 2), insulation=net.insulation,
            access="Riser door, FM key" if riser else ("Tile in corridor ceiling, step ladder" if concealed else "In view, step ladder"),
            concealed=concealed, subcontractor=net.subcontractor, drawing=f"{net.drawing}-L{at:02d}-10{1 + at}",
            drawing_revision="C02", tag_position="On the bracket beside the valve set", sensitive=False, status="in_service",
        )  # fmt: skip
        for (short, od), length in runs:
            _add_tube(self.building, row, short, od, length)


def _smaller(riser: Riser, level: int) -> Run:
    return riser.runs[-1] if riser.levels[-1] == level else riser.runs[0]


def _long(short: str) -> str:
    return "st" if short == "s1" else short


def _add_tube(building: Building, section: Row, short: str, od: float, length: float) -> None:
    material = LONG[_long(short)]
    wall = SERIES_1_WALL_MM[int(od)] if short == "s1" else WALL_MM[material][od]
    building.add(
        "tubes", section_id=section["section_id"], material=material, od_mm=od, wall_mm=wall,
        tube_series="series_1" if short == "s1" else SERIES[material], length_m=length,
    )  # fmt: skip
