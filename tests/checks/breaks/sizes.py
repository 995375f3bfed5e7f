"""One thing broken in sizes, families and tubes."""

import random
from typing import Any

Tables = dict[str, list[dict[str, str]]]


def _in_place(tables: Tables, rng: random.Random) -> dict[str, str]:
    replaced = {row["replaces_joint"] for row in tables["joints"]}
    return rng.choice(
        [row for row in tables["joints"] if row["status"] != "cut_out" and row["joint_id"] not in replaced]
    )


def _no_size(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    joint = _in_place(tables, rng)
    joint["od_mm"] = ""
    return {joint["section_id"]}


def _no_family(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    """The family of one joint is nowhere: not in its row, nor its section, nor its batch, nor in other rows of these."""
    joint = _in_place(tables, rng)
    section = next(row for row in tables["sections"] if row["section_id"] == joint["section_id"])
    section["system_family"] = joint["system_family"] = joint["fitting_batch_id"] = ""
    return {section["system_id"]}


def _of_another_size(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    joint = _in_place(tables, rng)
    system = next(row["system_id"] for row in tables["sections"] if row["section_id"] == joint["section_id"])
    beside = {row["section_id"] for row in tables["sections"] if row["system_id"] == system}
    there = {float(row["od_mm"]) for row in tables["tubes"] if row["section_id"] in beside}
    there |= {float(row["od_mm"]) for row in tables["valves"]}
    joint["od_mm"] = f"{rng.choice([od for od in (12, 18, 22, 28, 35, 42, 64) if od not in there]):g}"
    return {joint["section_id"]}


def _no_wall(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    tube = rng.choice(tables["tubes"])
    tube["wall_mm"] = tube["tube_series"] = tube["batch_id"] = ""
    return {tube["section_id"]}


BREAKS = {
    "joint-size-unknown": (_no_size, "cannot tell", set()),
    "joint-family-unknown": (_no_family, "cannot tell", {"batch-not-recorded", "joint-of-another-family"}),
    "joint-not-of-section-tube": (
        _of_another_size,
        "fail",
        {
            "jaw-of-another-size",
            "jaw-where-a-sling-is-needed",
            "tube-not-of-its-batch",
            "sling-not-lubricated",
            "excess-lubricant-left",
        },
    ),
    "tube-content-unknown": (
        _no_wall,
        "cannot tell",
        {
            "pressure-above-rating",
            "test-pressure-above-rating",
            "test-could-not-see-one-joint",
            "zero-drop-with-temperature-change",
        },
    ),
}
