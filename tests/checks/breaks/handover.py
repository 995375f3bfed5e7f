"""One thing broken in sound records for every question about snags."""

import random
from typing import Any

Tables = dict[str, list[dict[str, str]]]
Settings = dict[str, Any]


def _opened(tables: Tables, snag_class: str, rng: random.Random) -> dict[str, str]:
    snag = rng.choice([row for row in tables["snags"] if row["snag_class"] == snag_class])
    snag["closed_on"] = snag["closed_by_role"] = ""
    return snag


def _open_a(tables: Tables, _settings: Settings, rng: random.Random) -> set[str]:
    return {_opened(tables, "A", rng)["snag_id"]}


def _overdue_b(tables: Tables, _settings: Settings, rng: random.Random) -> set[str]:
    snag = _opened(tables, "B", rng)
    snag["due_on"] = snag["raised_on"]
    return {snag["snag_id"]}


def _retest_unknown(tables: Tables, _settings: Settings, rng: random.Random) -> set[str]:
    snag = rng.choice([row for row in tables["snags"] if row["kind"] in ("leak", "rework")])
    snag["retest_test_id"] = "PT-NOT-THERE"
    return {snag["snag_id"]}


def _by_nobody(tables: Tables, _settings: Settings, rng: random.Random) -> set[str]:
    snag = rng.choice(tables["snags"])
    snag["closed_by_role"] = ""
    return {snag["snag_id"]}


BREAKS = {
    "open-snag-class-a": (_open_a, "fail", set()),
    "snag-overdue": (_overdue_b, "fail", set()),
    "snag-without-retest": (_retest_unknown, "fail", set()),
    "snag-closing-not-shown": (_by_nobody, "cannot tell", set()),
}
