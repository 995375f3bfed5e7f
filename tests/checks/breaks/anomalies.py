"""One pattern that asks for an explanation, put into records that have none."""

import datetime as dt
import math
import random
from collections import defaultdict
from collections.abc import Callable
from typing import Any

Rows = list[dict[str, str]]
Tables = dict[str, Rows]
Break = Callable[[Tables, dict[str, Any], random.Random], set[str]]


def _in_place(tables: Tables) -> Rows:
    replaced = {row["replaces_joint"] for row in tables["joints"]}
    return [row for row in tables["joints"] if row["status"] != "cut_out" and row["joint_id"] not in replaced]


def _fitting(joint: dict[str, str]) -> str:
    return joint["joint_id"].rpartition("-")[0]


def _by_day(tables: Tables) -> dict[tuple[str, str], Rows]:
    days = defaultdict(list)
    for row in tables["joints"]:
        if row["status"] != "cut_out":
            days[row["operative_id"], row["press_date"]].append(row)
    return dict(days)


def _numbers_skip_one(tables: Tables, settings: dict[str, Any], rng: random.Random) -> set[str]:
    """The last fitting of a section takes the number after its own."""
    settings["thresholds"] = {"numbering-run-at-least": 3}
    named = "; ".join(
        [row.get("joint_ids", "") for name in ("alterations", "snags") for row in tables[name]]
        + [row["replaces_joint"] for row in tables["joints"]]
        + [row.get("leaks_found", "") for row in tables["tests"]]
    )
    lasts = {}
    for row in tables["joints"]:
        lasts[row["section_id"]] = max(lasts.get(row["section_id"], ""), _fitting(row))
    free = [
        (section, last)
        for section, last in sorted(lasts.items())
        if last not in named and int(last[-3:]) >= 4 and f"{section}-J" not in named
    ]
    section, last = rng.choice(free)
    after = f"{last[:-3]}{int(last[-3:]) + 1:03d}"
    for row in tables["joints"]:
        row["joint_id"] = row["joint_id"].replace(f"{last}-", f"{after}-")
    return {section}


def _most_in_an_hour(rows: Rows) -> int:
    minutes = [dt.time.fromisoformat(row["press_time"]) for row in rows]
    at = [minute.hour * 60 + minute.minute for minute in minutes]
    return max(sum(begin <= minute < begin + 60 for minute in at) for begin in at)


def _pressed_every_minute(tables: Tables, settings: dict[str, Any], _rng: random.Random) -> set[str]:
    rows = max(_by_day(tables).values(), key=lambda rows: (len(rows), rows[0]["joint_id"]))
    start = dt.time.fromisoformat(min(row["press_time"] for row in rows))
    for place, row in enumerate(sorted(rows, key=lambda row: row["joint_id"])):
        minute = start.hour * 60 + start.minute + place
        row["press_time"] = f"{minute // 60:02d}:{minute % 60:02d}"
    settings["thresholds"] = {"presses-per-hour": len(rows) - 1}
    return {who for (who, _), others in _by_day(tables).items() if _most_in_an_hour(others) > len(rows) - 1}


def _a_week_in_a_day(tables: Tables, settings: dict[str, Any], _rng: random.Random) -> set[str]:
    days = _by_day(tables)
    most = max(len(rows) for rows in days.values())
    settings["thresholds"] = {"presses-per-day": most - 1}
    return {who for (who, _), rows in days.items() if len(rows) == most}


def _same_minute_next_level(whom: str) -> Break:
    def break_it(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
        groups = [
            rows
            for rows in _by_day({"joints": _in_place(tables)}).values()
            if len(rows) > 1 and any(int(row["press_time"][-2:]) % 30 for row in rows)
        ]
        rows = rng.choice(groups)
        one = rng.choice([row for row in rows if int(row["press_time"][-2:]) % 30])
        other = rng.choice([row for row in rows if row is not one])
        other["press_time"] = one["press_time"]
        other["level"] = str(int(one["level"]) + 3)
        return {one[whom]}

    return break_it


def _in_two_hands(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    """Of two joints of one day one is written to somebody else, in the minute and with the tool of the other."""
    pressers = {row["operative_id"] for row in tables["joints"]}
    days = _by_day({"joints": _in_place(tables)})
    free = [
        (rows, sorted(who for who in pressers if (who, day) not in days))
        for (_, day), rows in days.items()
        if len(rows) > 1
    ]
    minutes = [(rows, others) for rows, others in free if others and any(int(r["press_time"][-2:]) % 30 for r in rows)]
    rows, others = rng.choice(minutes)
    one = rng.choice([row for row in rows if int(row["press_time"][-2:]) % 30])
    other = rng.choice([row for row in rows if row is not one])
    other["press_time"] = one["press_time"]
    other["operative_id"] = rng.choice(others)
    return {one["tool_id"]}


def _one_photo(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    one = rng.choice([row for row in _in_place(tables) if row["photo"]])
    other = rng.choice([row for row in _in_place(tables) if _fitting(row) != _fitting(one)])
    other["photo"] = one["photo"]
    return {one["photo"]}


_READINGS = ("start_pressure_bar", "end_pressure_bar", "start_time", "end_time")
_HEAT = ("ambient_start_c", "ambient_end_c", "pipe_start_c", "pipe_end_c")


def _one_certificate_three_times(tables: Tables, _settings: dict[str, Any], _rng: random.Random) -> set[str]:
    """The leak test with the highest reading is copied onto two others of other sections."""
    by_sections = {
        row["section_ids"]: row for row in tables["tests"] if row["stage"] == "leak" and row["medium"] == "water"
    }
    distinct: Rows = []
    for row in sorted(by_sections.values(), key=lambda row: -float(row["start_pressure_bar"])):
        if row["test_id"] not in {other["test_id"] for other in distinct}:
            distinct.append(row)
    first, *others = distinct[:3]
    for row in others:
        row.update({name: first[name] for name in (*_READINGS, *_HEAT)})
    return {min(row["test_id"] for row in distinct[:3])}


def _another_test_at_once(keep: str) -> Break:
    """A further test of a section on another level while one holds; ``keep`` is what both have in common."""

    def break_it(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
        levels = {row["section_id"]: row["level"] for row in tables["sections"]}
        pairs = [
            (row, section)
            for row in tables["tests"]
            if row["stage"] == "strength" and row["result"] == "pass"
            for section, level in levels.items()
            if level not in {levels[name] for name in row["section_ids"].split("; ")}
        ]
        row, section = rng.choice(pairs)
        other = {
            **row,
            "test_id": "T-977",
            "attempt": "1",
            "stage": "service",
            "section_ids": section,
            "remarks": "Looked at in passing",
        }
        for name in {"instrument_id", "tester", "witness"} - {keep}:
            other[name] = ""
        tables["tests"].append(other)
        return {row["test_id"]} if keep == "witness" else {row[keep]}

    return break_it


def _whole_bar(tables: Tables, _settings: dict[str, Any], _rng: random.Random) -> set[str]:
    """One tester ran all tests, and every start of a test with water was written as the next whole bar."""
    steps = {row["instrument_id"]: float(row["resolution_bar"]) for row in tables["instruments"]}
    tester = tables["tests"][0]["tester"]
    for row in tables["tests"]:
        row["tester"] = tester
        if row["medium"] == "water" and row["start_pressure_bar"] and steps[row["instrument_id"]] < 1:
            whole = math.ceil(float(row["start_pressure_bar"]))
            if row["end_pressure_bar"] == row["start_pressure_bar"]:
                row["end_pressure_bar"] = str(whole)
            row["start_pressure_bar"] = str(whole)
    return {tester}


_EXTRA = {"test-procedure-not-declared"}
_EXTRA_WITHOUT_GAUGE = {
    *_EXTRA,
    "gauge-not-in-calibration",
    "test-could-not-see-one-joint",
    "zero-drop-with-temperature-change",
}

BREAKS = {
    "number-missing-in-run": (_numbers_skip_one, "fail", set()),
    "more-presses-in-an-hour-than-plausible": (_pressed_every_minute, "fail", set()),
    "more-presses-in-a-day-than-plausible": (_a_week_in_a_day, "fail", set()),
    "one-operative-in-two-places": (_same_minute_next_level("operative_id"), "fail", {"one-tool-in-two-places"}),
    "one-tool-in-two-places": (_same_minute_next_level("tool_id"), "fail", {"one-operative-in-two-places"}),
    "one-tool-in-two-hands": (_in_two_hands, "fail", set()),
    "one-photo-for-two-joints": (_one_photo, "fail", set()),
    "same-readings-on-several-certificates": (_one_certificate_three_times, "fail", set()),
    "one-gauge-in-two-places": (_another_test_at_once("instrument_id"), "fail", _EXTRA),
    "one-tester-in-two-tests-at-once": (_another_test_at_once("tester"), "fail", _EXTRA_WITHOUT_GAUGE),
    "one-witness-in-two-tests-at-once": (_another_test_at_once("witness"), "fail", _EXTRA_WITHOUT_GAUGE),
    "readings-rounder-than-chance": (_whole_bar, "fail", {"certificate-differs-from-trace", "gauge-unfit"}),
}
