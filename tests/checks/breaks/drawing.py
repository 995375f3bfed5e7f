"""One thing broken in the drawings that records cite."""

import random
from typing import Any

Tables = dict[str, list[dict[str, str]]]


def _superseded(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    joint = rng.choice([row for row in tables["joints"] if row["status"] != "cut_out"])
    joint["drawing_revision"] = "C01"
    return {joint["drawing"]}


BREAKS = {"drawing-revision-not-as-built": (_superseded, "fail", set())}
