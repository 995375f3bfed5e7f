"""One thing broken in sound records for every question about changes to finished work."""

import datetime
import random
from typing import Any

Tables = dict[str, list[dict[str, str]]]


def _ids(text: str | None) -> list[str]:
    return [name.strip() for name in (text or "").split(";") if name.strip()]


def _valve(tables: Tables) -> dict[str, str]:
    return next(row for row in tables["alterations"] if row["kind"] == "valve_changed")


def _changed_after_the_test(tables: Tables, _settings: dict[str, Any], _rng: random.Random) -> set[str]:
    row = _valve(tables)
    days = [test["date"] for test in tables["tests"] if set(_ids(test["section_ids"])) & set(_ids(row["section_ids"]))]
    row["date"] = (datetime.date.fromisoformat(max(days)) + datetime.timedelta(days=1)).isoformat()
    return {row["alteration_id"]}


def _names_another_test(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    row = _valve(tables)
    touched = set(_ids(row["section_ids"]))
    others = {test["test_id"] for test in tables["tests"] if not touched & set(_ids(test["section_ids"]))}
    row["test_id"] = rng.choice(sorted(others))
    return {row["alteration_id"]}


def _cut_out_without_a_word(tables: Tables, _settings: dict[str, Any], _rng: random.Random) -> set[str]:
    gone = {row["joint_id"]: row for row in tables["joints"] if row["status"] == "cut_out"}
    for row in tables["alterations"]:
        row["joint_ids"] = "; ".join(name for name in _ids(row.get("joint_ids")) if name not in gone)
    for row in tables["joints"]:
        if row["replaces_joint"] in gone:
            row["replaces_joint"] = ""
    return {row["section_id"] for row in gone.values()}


def _void_for_no_reason(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    section = rng.choice(tables["sections"])["section_id"]
    day = max(row["date"] for row in tables["tests"])
    tables["alterations"].append({"alteration_id": "AL-900", "kind": "void", "section_ids": section, "date": day})
    return {"AL-900"}


BREAKS = {
    "altered-after-the-last-test": (_changed_after_the_test, "fail", set()),
    "alteration-names-wrong-test": (_names_another_test, "fail", set()),
    "cut-out-not-recorded": (_cut_out_without_a_word, "cannot tell", set()),
    "void-without-reason": (_void_for_no_reason, "cannot tell", set()),
}
