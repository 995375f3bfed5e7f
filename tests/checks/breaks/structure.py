"""One thing broken in what belongs to what, and in the counting of ends."""

import random
from typing import Any

Tables = dict[str, list[dict[str, str]]]


def _named_elsewhere(tables: Tables) -> str:
    """All text by which another row names a joint."""
    cells = [row.get("joint_ids", "") for name in ("alterations", "snags", "concessions") for row in tables[name]]
    cells += [row["leaks_found"] for row in tables["tests"] if row.get("leaks_found")]
    cells += [row["replaces_joint"] for row in tables["joints"]]
    return "; ".join(cells)


def _plain_joints(tables: Tables) -> list[dict[str, str]]:
    """Joints in place whose fitting no other row names."""
    named = _named_elsewhere(tables)
    return [
        row
        for row in tables["joints"]
        if row["status"] != "cut_out" and not row["replaces_joint"] and row["joint_id"].rpartition("-")[0] not in named
    ]


def _no_section(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    joint = rng.choice(_plain_joints(tables))
    joint["section_id"] = ""
    return {joint["joint_id"]}


def _no_system(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    section = rng.choice(tables["sections"])
    section["system_id"] = ""
    return {section["section_id"]}


def _section_nobody_logged(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    plain = {row["joint_id"] for row in _plain_joints(tables)}
    whole = [
        section["section_id"]
        for section in tables["sections"]
        if all(row["joint_id"] in plain for row in tables["joints"] if row["section_id"] == section["section_id"])
    ]
    bare = rng.choice(whole)
    tables["joints"][:] = [row for row in tables["joints"] if row["section_id"] != bare]
    return {bare}


def _test_of_all_of_a_level(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    test_id = rng.choice(tables["tests"])["test_id"]
    for row in tables["tests"]:
        if row["test_id"] == test_id:
            row["section_ids"] = "all of level 3"
    return {test_id}


def _one_end_more_expected(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    section = rng.choice(tables["sections"])
    section["expected_ends"] = str(int(section["expected_ends"]) + 1)
    return {section["section_id"]}


def _end_not_logged(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    joint = rng.choice([row for row in _plain_joints(tables) if row["joint_id"].endswith("-B")])
    tables["joints"].remove(joint)
    section = next(row for row in tables["sections"] if row["section_id"] == joint["section_id"])
    section["expected_ends"] = str(int(section["expected_ends"]) - 1)
    return {joint["section_id"]}


def _row_counts_what(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    rng.choice(_plain_joints(tables))["unit_of_count"] = ""
    return {"records/joints.csv"}


def _tee_that_leads_nowhere(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    node = rng.choice([row for row in tables["nodes"] if row["kind"] in ("plant", "terminal")])
    node["kind"] = "tee"
    return {node["node_id"]}


BREAKS = {
    "joint-without-section": (_no_section, "cannot tell", {"ends-do-not-add-up", "fitting-end-missing"}),
    "section-without-system": (
        _no_system,
        "cannot tell",
        {
            "pressure-above-rating",
            "seal-not-for-medium",
            "test-pressure-not-reached",
            "test-pressure-above-rating",
            "test-procedure-not-declared",
            "gauge-unfit",
        },
    ),
    "section-without-joints": (_section_nobody_logged, "cannot tell", {"ends-do-not-add-up"}),
    "test-without-section": (
        _test_of_all_of_a_level,
        "cannot tell",
        {"unknown-reference", "snag-without-retest", "required-stage-not-passed"},
    ),
    "ends-do-not-add-up": (_one_end_more_expected, "fail", set()),
    "fitting-end-missing": (_end_not_logged, "fail", set()),
    "ends-not-recorded-one-by-one": (_row_counts_what, "cannot tell", set()),
    "open-end": (_tee_that_leads_nowhere, "fail", set()),
}
