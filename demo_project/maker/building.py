"""The building: every section between two nodes, with its tube."""

from __future__ import annotations

from .model import Building, Dice, Row
from .networks import NETWORKS, ZONE, Branch, Network, Riser, Run

FLOOR_M = {0: 0.0, 1: 4.2, 2: 8.0, 3: 11.8, 4: 15.6, 5: 19.4}
CEILING_M = 2.9
SENSITIVE = "CA-L4-E"
"""The clinic asked that nothing but the duty number shows on the tag of its surgery."""
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


def add_building(building: Building) -> None:
    """Nodes, sections and tubes of the whole building."""
    for network in NETWORKS:
        _NetworkWriter(building, network).write()


class _NetworkWriter:
    def __init__(self, building: Building, network: Network) -> None:
        self.building = building
        self.network = network

    def write(self) -> None:
        net = self.network
        plant_z = round(FLOOR_M[net.plant_level] + 1.4, 2)
        by = "Valve on the outlet, wheel, clockwise to shut"
        self._node(net.plant, "plant", net.plant_words, None, net.plant_level, net.plant_words, plant_z, close_by=by)
        for riser in net.risers:
            self._riser(riser, plant_z)
        for branch in net.branches:
            self._branch(branch)

    def _node(
        self, node: str, kind: str, name: str, od: float | None, level: int, where: str, z: float, **more: str
    ) -> str:
        self.building.add(
            "nodes",
            node_id=node,
            kind=kind,
            system_id=self.network.system,
            name=name,
            od_mm=od,
            level=str(level),
            location=where,
            elevation_m=round(z, 2),
            **more,
        )
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
                self._set(riser, level),
                "valve",
                f"{net.words} valve set, riser {riser.name[1]}, level {level}",
                sizes[min(n, len(sizes) - 1)],
                level,
                f"{place[0].upper()}{place[1:]}, level {level}, knee height",
                FLOOR_M[level] + 0.6,
                normal_position="open",
                close_by="Tee with a lever on each leg; quarter turn, lever across the pipe is shut",
            )
        near = riser.levels[0] if net.supply else riser.levels[-1]
        main_run = net.mains[riser.name]
        ends = (net.plant, self._set(riser, near))
        z = FLOOR_M[near] + 0.6
        high = max(plant_z, z, FLOOR_M[net.plant_level] + CEILING_M)
        self._section(
            f"{net.system}-M{riser.name[1]}",
            f"{net.words} main from plant to riser {riser.name[1]}",
            ends,
            near,
            [(main_run, Dice("main", net.system, riser.name).between(11, 24))],
            high,
            min(plant_z, z),
            rooms="Whole building",
            location=f"Plant room level {net.plant_level}, high level along the {place.split(', ')[1]} wall",
            flow="right" if riser.name in ("R2", "R4") else "left",
            concealed=False,
            riser=None,
        )
        for n, run in enumerate(riser.runs):
            start, end = riser.levels[n], riser.levels[n + 1]
            z1, z2 = FLOOR_M[start] + 0.6, FLOOR_M[end] + 0.6
            self._section(
                f"{net.system}-{riser.name}-L{end}",
                f"{net.words} riser {riser.name[1]}, level {start} to level {end}",
                (self._set(riser, start), self._set(riser, end)),
                end,
                [(run, round(abs(z1 - z2) + Dice("riser", net.system, riser.name, end).between(0.4, 1.6), 1))],
                max(z1, z2),
                min(z1, z2),
                level=f"{min(start, end)} to {max(start, end)}",
                rooms=f"Level {end} ({LEVEL_USE[end]}) and on",
                location=f"{place[0].upper()}{place[1:]}",
                flow="up" if end > start else "down",
                concealed=True,
                riser=riser.name,
            )
        low, top = min(riser.levels), max(riser.levels)
        if riser.foot:
            drain = self._node(
                f"D-{net.code}{riser.name[1]}",
                "drain",
                f"{net.words} drain, foot of riser {riser.name[1]}",
                15,
                low,
                f"{place[0].upper()}{place[1:]}, level {low}, 200 mm above floor, hose tail",
                FLOOR_M[low] + 0.2,
                normal_position="closed",
                close_by="Square key, clockwise to shut",
            )
            self._section(
                f"{net.system}-{riser.name}-FOOT",
                f"{net.words} drain leg, foot of riser {riser.name[1]}",
                (self._set(riser, low), drain),
                low,
                [(_smaller(riser, low), 0.6)],
                FLOOR_M[low] + 0.6,
                FLOOR_M[low] + 0.2,
                rooms="Drain leg",
                location=f"{place[0].upper()}{place[1:]}",
                flow="down",
                concealed=True,
                riser=riser.name,
            )
        if riser.head:
            vent = self._node(
                f"AV-{net.code}{riser.name[1]}",
                "vent",
                f"{net.words} air vent, head of riser {riser.name[1]}",
                15,
                top,
                f"{place[0].upper()}{place[1:]}, level {top}, under the ceiling",
                FLOOR_M[top] + 3.0,
                normal_position="open",
                close_by="Lever below the vent, quarter turn",
            )
            self._section(
                f"{net.system}-{riser.name}-HEAD",
                f"{net.words} vent leg, head of riser {riser.name[1]}",
                (self._set(riser, top), vent),
                top,
                [((riser.runs[0][0], 28), 2.4)],
                FLOOR_M[top] + 3.0,
                FLOOR_M[top] + 0.6,
                rooms="Vent leg",
                location=f"{place[0].upper()}{place[1:]}",
                flow="up",
                concealed=True,
                riser=riser.name,
            )

    def _branch(self, branch: Branch) -> None:
        net = self.network
        dice = Dice("branch", net.system, branch.level, branch.zone)
        high = FLOOR_M[branch.level] + CEILING_M
        low = FLOOR_M[branch.level] + 0.6
        terminal = self._terminal(branch, low)
        valve = self._set(branch, branch.level)
        runs = [(run, dice.between(*span)) for run, span in zip(branch.runs, ((9, 22), (8, 18), (4, 11)), strict=False)]
        first, last = (1, 20) if branch.zone in "NE" else (21, 38)
        rooms = f"{branch.level}.{first:02d} to {branch.level}.{last:02d}"
        exposed = branch.level in (0, 1) or net.system == "NG"
        self._section(
            f"{net.system}-L{branch.level}-{branch.zone}",
            f"{net.words} branch, level {branch.level} {ZONE[branch.zone]}: {branch.serves}",
            (valve, terminal),
            branch.level,
            runs,
            high,
            low,
            rooms=rooms,
            location=f"Level {branch.level} corridor {ZONE[branch.zone]}, "
            + ("exposed at high level" if exposed else "above ceiling"),
            flow=dice.pick(("left", "right")),
            concealed=not exposed,
            riser=None,
        )

    def _terminal(self, branch: Branch, z: float) -> str:
        shared = {"LTHW": "EM", "CHW": "FC", "DHW": "HW"}.get(self.network.system.rsplit("-", 1)[0])
        node = f"T-{shared or self.network.code}-{branch.level}{branch.zone}"
        if any(self.building.where("nodes", node_id=node)):
            return node
        words = f"{branch.terminal[0].upper()}{branch.terminal[1:]}: {branch.serves}"
        where = f"Level {branch.level} {ZONE[branch.zone]}, {LEVEL_USE[branch.level]}"
        by = "Service valve at each, quarter turn with a screwdriver"
        return self._node(node, "terminal", words, branch.runs[-1][1], branch.level, where, z + 0.3, close_by=by)

    def _section(
        self,
        section: str,
        name: str,
        outward: tuple[str, str],
        at: int,
        runs: list[tuple[Run, float]],
        high: float,
        low: float,
        *,
        rooms: str,
        location: str,
        flow: str,
        concealed: bool,
        riser: str | None,
        level: str | None = None,
    ) -> None:
        net = self.network
        # Riser stretches are given in the order of flow already; mains and branches are given outward from the plant.
        with_flow = level is not None or net.supply or rooms in ("Drain leg", "Vent leg")
        start, end = outward if with_flow else outward[::-1]
        # A section of two materials has two families: its joints say which, end by end.
        families = {net.family[LONG[_long(run[0])]] for run, _ in runs}
        row = self.building.add(
            "sections",
            section_id=section,
            system_id=net.system,
            name=name,
            from_node=start,
            to_node=end,
            flow=flow,
            level=level or str(at),
            rooms=rooms,
            location=location,
            riser=riser,
            system_family=families.pop() if len(families) == 1 else None,
            seal=net.seal,
            elevation_high_m=round(high, 2),
            elevation_low_m=round(low, 2),
            insulation=net.insulation,
            access="Riser door, FM key"
            if riser
            else ("Tile in corridor ceiling, step ladder" if concealed else "In view, step ladder"),
            concealed=concealed,
            subcontractor=net.subcontractor,
            drawing=f"{net.drawing}-L{at:02d}-10{1 + at}",
            drawing_revision="C02",
            tag_position="On the bracket beside the valve set",
            sensitive=section == SENSITIVE,
            status="in_service",
        )
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
        "tubes",
        section_id=section["section_id"],
        material=material,
        od_mm=od,
        wall_mm=wall,
        tube_series="series_1" if short == "s1" else SERIES[material],
        length_m=length,
    )
