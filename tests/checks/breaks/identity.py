"""One thing broken in ids, codes and in what a joint says it replaces."""

import random
from typing import Any

Tables = dict[str, list[dict[str, str]]]


def _replaces_nothing(tables: Tables, rng: random.Random) -> dict[str, str]:
    """A joint in place that replaces none and that none replaces."""
    replaced = {row["replaces_joint"] for row in tables["joints"]}
    return rng.choice(
        [row for row in tables["joints"] if not row["replaces_joint"] and row["joint_id"] not in replaced]
    )


def _copied_down(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    joint = _replaces_nothing(tables, rng)
    tables["joints"].append({**joint, "remarks": "Copied down"})
    return {joint["section_id"]}


def _gauge_in_lower_case(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    gauge = rng.choice(tables["instruments"])
    other = {**gauge, "instrument_id": gauge["instrument_id"].lower(), "serial": "GA-1"}
    tables["instruments"].append(other)
    return {other["instrument_id"]}


def _replaces_itself(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    joint = _replaces_nothing(tables, rng)
    joint["replaces_joint"] = joint["joint_id"]
    return {joint["joint_id"]}


def _replaces_one_that_is_gone(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    joint = _replaces_nothing(tables, rng)
    joint["replaces_joint"] = f"{joint['joint_id']}-OLD-77"
    return {joint["section_id"]}


def _swapped_letters(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    """Two neighbours of a code swapped by hand, in the register and in what was copied from the earlier issue."""
    tag = rng.choice(tables["tags"])
    before = tag["code"]
    place = next(place for place in range(5) if before[place] != before[place + 1])
    after = before[:place] + before[place + 1] + before[place] + before[place + 2 :]
    for row in (*tables["tags"], *tables["issued_tags"]):
        if row["code"] == before:
            row["code"] = after
    return {after}


def _code_of_a_neighbour(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    one, other = rng.sample(tables["tags"], 2)
    other["section_id"] = one["section_id"]
    return {one["section_id"]}


def _code_that_is_gone(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    section = rng.choice(tables["sections"])["section_id"]
    tables["issued_tags"].append({"issue": "P01", "code": "F7KX2MR", "section_id": section})
    return {"F7KX2MR"}


BREAKS = {
    "joint-id-used-twice": (_copied_down, "fail", {"ends-do-not-add-up"}),
    "ids-differ-only-in-case": (_gauge_in_lower_case, "fail", set()),
    "joint-replaces-itself": (_replaces_itself, "fail", set()),
    "replaced-joint-not-in-log": (_replaces_one_that_is_gone, "fail", set()),
    "tag-code-miswritten": (_swapped_letters, "fail", set()),
    "section-with-two-tag-codes": (_code_of_a_neighbour, "fail", {"earlier-tag-code-missing"}),
    "earlier-tag-code-missing": (_code_that_is_gone, "fail", set()),
}
