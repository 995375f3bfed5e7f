"""One thing broken in what every page must be able to say."""

import random
from typing import Any

Tables = dict[str, list[dict[str, str]]]


def _no_highest_temperature(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    system = rng.choice(tables["systems"])
    system["max_temperature_c"] = ""
    return {system["system_id"]}


def _no_terms(tables: Tables, settings: dict[str, Any], rng: random.Random) -> set[str]:
    material = rng.choice(sorted(settings["guarantee"]))
    del settings["guarantee"][material]
    return {min(row["section_id"] for row in tables["tubes"] if row["material"] == material)}


BREAKS = {
    "system-not-described": (_no_highest_temperature, "cannot tell", {"pressure-above-rating", "seal-not-for-medium"}),
    "guarantee-dates-unknown": (_no_terms, "cannot tell", set()),
}
