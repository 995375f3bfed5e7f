"""One thing broken in sound records for every question about ratings."""

import random
from typing import Any

Tables = dict[str, list[dict[str, str]]]


def _subject(tables: Tables, system_id: str) -> str:
    """The section, where a system has one; sections of a system with one fault are told as the system."""
    sections = [row["section_id"] for row in tables["sections"] if row["system_id"] == system_id]
    return sections[0] if len(sections) == 1 else system_id


def _seals_too_weak(tables: Tables, _settings: dict[str, Any], _rng: random.Random) -> set[str]:
    """Seals of one material are rated half a bar."""
    seal = next(row["seal"] for row in tables["sections"] if row["system_id"] == "CHW")
    for row in tables["ratings"]:
        if row["component"] == "seal" and row["applies_to"] == seal:
            row["pressure_bar"] = "0.5"
    systems = {row["system_id"] for row in tables["sections"] if row["seal"] == seal}
    return {_subject(tables, system) for system in systems}


def _too_hot_for_the_seal(tables: Tables, _settings: dict[str, Any], _rng: random.Random) -> set[str]:
    heating = next(row for row in tables["systems"] if row["service"] == "heating_flow")
    heating["upset_temperature_c"] = "130"
    return {_subject(tables, heating["system_id"])}


def _weak_valve(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    valve = rng.choice([row for row in tables["valves"] if row["kind"] == "isolating"])
    valve["pressure_rating_bar"] = "1.5"
    return {valve["valve_id"]}


BREAKS = {
    "pressure-above-rating": (_seals_too_weak, "fail", {"test-pressure-above-rating"}),
    "seal-not-for-medium": (_too_hot_for_the_seal, "fail", {"pressure-above-rating", "valve-rated-too-low"}),
    "valve-rated-too-low": (_weak_valve, "fail", set()),
}
