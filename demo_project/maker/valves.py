"""Valves by their discs: two legs, a drain and a vent for every section, with photos of them and of the way there."""

from __future__ import annotations

import datetime as dt
from collections import defaultdict

from .model import Building, Dice, Row, Value
from .papers import add_document
from .picture import valve_picture
from .pressure_tests import COMMISSIONED

COCK_MM = 15
PHOTOGRAPHED = dt.date(2026, 4, 27)


def add_valves(building: Building) -> None:
    """All valves; at a valve set each leg has a lever, and a cock below or above it."""
    nodes = {row.text("node_id"): row for row in building["nodes"]}
    tubes: dict[str, list[Row]] = defaultdict(list)
    for tube in building["tubes"]:
        tubes[tube.text("section_id")].append(tube)
    meeting: dict[str, list[Row]] = defaultdict(list)
    for section in building["sections"]:
        for end in ("from_node", "to_node"):
            meeting[section.text(end)].append(section)
    photos = _Photos(building)
    for name, node in nodes.items():
        for letter, section in zip("ABCDEF", meeting[name], strict=False):
            _end(building, node, section, letter, _size_at(section, node, tubes), photos)
    for section in building["sections"]:
        low, high = sorted(
            (nodes[section.text(end)] for end in ("from_node", "to_node")), key=lambda row: row.number("elevation_m")
        )
        if "drain" not in (low["kind"], high["kind"]):
            _cock(building, low, section, "drain", photos)
        if "vent" not in (low["kind"], high["kind"]):
            _cock(building, high, section, "vent", photos)


def _size_at(section: Row, node: Row, tubes: dict[str, list[Row]]) -> float:
    """Branches are written from the valve set to the terminal."""
    of_section = tubes[section.text("section_id")]
    return (of_section[-1] if node["kind"] == "terminal" else of_section[0]).number("od_mm")


def _end(building: Building, node: Row, section: Row, letter: str, od: float, photos: _Photos) -> None:
    name, kind = node.text("node_id"), node.text("kind")
    lever: dict[str, Value] = {"closes": "clockwise", "turns": 0.25, "key": "Lever on the valve"}
    if kind == "drain":
        _cock(building, node, section, "drain", photos, name)
        # The leg's own valve stands at the valve set; the drain valve itself closes its other end.
        return
    if kind == "vent":
        _cock(building, node, section, "vent", photos, name)
        return
    if kind == "plant":
        valve, where = f"{name.replace('PL-', 'V-')}-{letter}", f"{node['location']}, outlet {letter}"
        lever = {"closes": "clockwise", "turns": Dice("turns", valve).whole(6, 14) / 2, "key": "Wheel"}
    elif kind == "terminal":
        valve, where = f"SV-{section['section_id']}", f"{node['location']}, end of the branch"
        lever["key"] = "Screwdriver"
    else:
        valve, where = f"{name}-{letter}", f"{node['location']}, leg {letter}"
    _valve(building, node, section, valve, "isolating", od, where, photos, lever)


def _cock(building: Building, node: Row, section: Row, kind: str, photos: _Photos, own: str = "") -> None:
    valve = own or f"{'DC' if kind == 'drain' else 'AC'}-{section['section_id']}"
    where = node.text("location") if own else f"{node['location']}, cock on the leg of {section['section_id']}"
    more: dict[str, Value] = {"closes": "clockwise", "turns": 0.25, "key": "Square key 8 mm"}
    _valve(building, node, section, valve, kind, COCK_MM, where, photos, more)


def _valve(
    building: Building,
    node: Row,
    section: Row,
    valve: str,
    kind: str,
    od: float,
    where: str,
    photos: _Photos,
    more: dict[str, Value],
) -> None:
    gas = section["system_id"] == "NG"
    at_node = kind == "isolating" or node["kind"] == kind
    building.add(
        "valves",
        valve_id=valve,
        # A cock on a leg is beside the valve set: the node tells how the set itself stands.
        node_id=node["node_id"] if at_node else None,
        kind=kind,
        od_mm=od,
        pressure_rating_bar=5 if gas else 16,
        max_temperature_c=60 if gas else 110,
        normal_position=(node["normal_position"] if at_node else "closed") or "open",
        level=node["level"],
        location=where,
        access=section["access"] if node["kind"] != "plant" else "Plant room door, FM key",
        section_ids=section["section_id"],
        photo_near=photos.near(node),
        photo_far=photos.far(node),
        exercised_on=COMMISSIONED[section.text("subcontractor")],
        holds_tight=True,
        consequence=f"{section['name']}: {section['rooms']}" if kind == "isolating" else None,
        **more,
    )


class _Photos:
    """One picture of each valve set, and one of the way to each place."""

    def __init__(self, building: Building) -> None:
        self.building = building
        self.nodes_at: dict[str, list[str]] = defaultdict(list)
        for node in building["nodes"]:
            self.nodes_at[_place(node)].append(node.text("node_id"))
        self.known: dict[str, str] = {}

    def near(self, node: Row) -> str:
        """Document of the picture of the valves at a node."""
        name = node.text("node_id")
        return self._photo(f"DOC-VN-{name}", f"Valves at {name}", name, f"valves/{name}.png")

    def far(self, node: Row) -> str:
        """Document of the picture that shows the way to a node."""
        place = _place(node)
        code = f"DOC-VF-{sorted(self.nodes_at).index(place) + 1:02d}"
        about = "; ".join(self.nodes_at[place])
        return self._photo(code, f"The way to the valves: {place}", about, f"valves/{code[4:]}.png")

    def _photo(self, code: str, title: str, about: str, file: str) -> str:
        if code not in self.known:
            self.known[code] = code
            picture = valve_picture(code)
            add_document(self.building, code, file, title, "photo", PHOTOGRAPHED, about, "facilities", picture)
        return code


def _place(node: Row) -> str:
    """Riser cupboard, plant room or floor, without what tells one valve set there from the next."""
    where = node.text("location")
    if "riser cupboard" in where.lower():
        return f"{where.partition(',')[0]}, level {node['level']}"
    return where if node["kind"] == "terminal" else f"Plant rooms, level {node['level']}"
