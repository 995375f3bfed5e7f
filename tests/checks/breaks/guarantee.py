"""One thing broken in sound records for every question about the registration of guarantees."""

import datetime
import random
from typing import Any

Tables = dict[str, list[dict[str, str]]]
Settings = dict[str, Any]


def _no_time(_tables: Tables, settings: Settings, rng: random.Random) -> set[str]:
    material = rng.choice(sorted(settings["guarantee"]))
    settings["guarantee"][material]["register_within_days"] = 0
    return {material}


def _never(_tables: Tables, settings: Settings, rng: random.Random) -> set[str]:
    material = rng.choice(sorted(settings["guarantee"]))
    terms = settings["guarantee"][material]
    terms["register_within_days"] = 0
    del terms["registered_on"]
    return {material}


def _not_shown(_tables: Tables, settings: Settings, rng: random.Random) -> set[str]:
    material = rng.choice(sorted(settings["guarantee"]))
    del settings["guarantee"][material]["registration"]
    return {material}


def _commissioned_first(tables: Tables, _settings: Settings, rng: random.Random) -> set[str]:
    """A section of compressed air, whose water nobody asks for, was commissioned the day before it was installed."""
    air = {row["system_id"] for row in tables["systems"] if row["service"] == "compressed_air"}
    section = rng.choice([row for row in tables["sections"] if row["system_id"] in air])
    installed = datetime.date.fromisoformat(section["installed_on"])
    section["commissioned_on"] = (installed - datetime.timedelta(days=1)).isoformat()
    return {section["section_id"]}


BREAKS = {
    "guarantee-registered-late": (_no_time, "fail", set()),
    "guarantee-not-registered": (_never, "fail", set()),
    "guarantee-registration-not-shown": (_not_shown, "cannot tell", set()),
    "guarantee-start-contradicted": (_commissioned_first, "fail", {"guarantee-registered-late"}),
}
