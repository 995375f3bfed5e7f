"""One thing broken in sound records for every question about valves, drains and vents."""

import datetime
import random
from typing import Any

Tables = dict[str, list[dict[str, str]]]
Settings = dict[str, Any]


def _isolating(tables: Tables, rng: random.Random) -> dict[str, str]:
    return rng.choice([row for row in tables["valves"] if row["kind"] == "isolating"])


def _node(tables: Tables, valve: dict[str, str]) -> dict[str, str]:
    return next(row for row in tables["nodes"] if row["node_id"] == valve["node_id"])


def _regulating_at_an_end(tables: Tables, _settings: Settings, rng: random.Random) -> set[str]:
    """The valve at the end of a section only regulates, and the pipework goes on behind it."""
    section = rng.choice(tables["sections"])
    end = section["to_node"]
    next(row for row in tables["valves"] if row["node_id"] == end)["kind"] = "regulating"
    next(row for row in tables["nodes"] if row["node_id"] == end)["kind"] = "valve"
    return {row["section_id"] for row in tables["sections"] if end in (row["from_node"], row["to_node"])}


def _none_of(kind: str) -> Any:
    def change(tables: Tables, _settings: Settings, rng: random.Random) -> set[str]:
        """No valve of a system with water is of this kind."""
        wet = [row["system_id"] for row in tables["systems"] if row["medium"].endswith("water")]
        system_id = rng.choice(wet)
        at = {row["node_id"] for row in tables["nodes"] if row["system_id"] == system_id}
        for row in tables["valves"]:
            if row["kind"] == kind and row["node_id"] in at:
                row["kind"] = "other"
        return {system_id}

    return change


def _blank(field: str) -> Any:
    def empty(tables: Tables, _settings: Settings, rng: random.Random) -> set[str]:
        valve = _isolating(tables, rng)
        node = _node(tables, valve)
        valve[field] = ""
        if field in node:
            node[field] = ""
        return {node["system_id"]}

    return empty


def _leaks(tables: Tables, _settings: Settings, rng: random.Random) -> set[str]:
    valve = _isolating(tables, rng)
    valve["holds_tight"] = "no"
    return {valve["valve_id"]}


def _stuck(tables: Tables, settings: Settings, rng: random.Random) -> set[str]:
    valve = _isolating(tables, rng)
    issue = datetime.date.fromisoformat(settings["issue"]["date"])
    valve["exercised_on"] = (issue - datetime.timedelta(days=400)).isoformat()
    return {_node(tables, valve)["system_id"]}


def _other_position(tables: Tables, _settings: Settings, rng: random.Random) -> set[str]:
    valve = rng.choice(tables["valves"])
    _node(tables, valve)["normal_position"] = "closed" if valve["normal_position"] == "open" else "open"
    return {valve["valve_id"]}


BREAKS = {
    "section-end-not-isolated": (_regulating_at_an_end, "fail", {"open-end"}),
    "section-without-drain": (_none_of("drain"), "cannot tell", set()),
    "section-without-vent": (_none_of("vent"), "cannot tell", set()),
    "valve-shuts-nothing": (_blank("section_ids"), "cannot tell", set()),
    "valve-does-not-hold": (_leaks, "fail", set()),
    "valve-position-contradicted": (_other_position, "fail", set()),
    "valve-not-located": (_blank("location"), "cannot tell", set()),
    "valve-not-photographed": (_blank("photo_far"), "cannot tell", set()),
    "valve-not-exercised": (_stuck, "fail", set()),
}
