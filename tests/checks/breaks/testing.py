"""One thing broken in sound records for every question about tests."""

import datetime
import random
from collections.abc import Callable
from typing import Any

Row = dict[str, str]
Tables = dict[str, list[dict[str, str]]]


def _ids(row: Row) -> list[str]:
    return [name.strip() for name in row["section_ids"].split(";")]


def _later(day: str, days: int) -> str:
    return (datetime.date.fromisoformat(day) + datetime.timedelta(days=days)).isoformat()


def _passed(tables: Tables, stage: str, fits: Callable[[Row], bool] = lambda _: True) -> list[Row]:
    """Passed rows of a stage that are the only ones of it for each of their sections, not read from a logger."""
    logged = {row["document_id"] for row in tables["documents"] if row["kind"] == "logger_file"}
    rows = [row for row in tables["tests"] if row["stage"] == stage and row["result"] == "pass"]
    count: dict[str, int] = {}
    for row in rows:
        for name in _ids(row):
            count[name] = count.get(name, 0) + 1
    return [r for r in rows if all(count[n] == 1 for n in _ids(r)) and r["document_id"] not in logged and fits(r)]


def _wet(row: Row) -> bool:
    return row["medium"] == "water"


def _systems(tables: Tables, row: Row) -> set[str]:
    return {section["system_id"] for section in tables["sections"] if section["section_id"] in _ids(row)}


def _changed(tables: Tables) -> set[str]:
    return {name.strip() for row in tables["alterations"] for name in (row.get("joint_ids") or "").split(";")}


def _strength_broken_off(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    row = rng.choice(_passed(tables, "strength"))
    row["result"] = "abandoned"
    return {row["test_id"]}


def _leak_test_after_strength(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    row = rng.choice(_passed(tables, "leak"))
    row["start_time"], row["end_time"] = "15:00", "15:30"
    return {row["test_id"]}


def _pressed_late(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    row = rng.choice(_passed(tables, "strength"))
    joint = rng.choice(
        [
            joint
            for joint in tables["joints"]
            if joint["section_id"] in _ids(row)
            and joint["status"] == "tested"
            and joint["joint_id"] not in _changed(tables)
        ]
    )
    joint["press_date"] = _later(row["date"], 3)
    return {joint["section_id"]}


def _left_out(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    row = rng.choice(_passed(tables, "strength"))
    joint = rng.choice(
        [
            j
            for j in tables["joints"]
            if j["section_id"] in _ids(row) and j["boundary"] == "yes" and j["status"] == "tested"
        ]
    )
    row["joints_left_out"] = joint["joint_id"]
    return {joint["section_id"]}


def _another_procedure(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    row = rng.choice(_passed(tables, "strength", _wet))
    row["procedure"] = "gas-1.1"
    return {row["test_id"]}


def _asked_for_too_little(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    row = rng.choice(_passed(tables, "strength"))
    row["required_pressure_bar"] = "1"
    return {row["test_id"]}


def _far_too_high(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    row = rng.choice(_passed(tables, "strength", _wet))
    row["start_pressure_bar"] = row["end_pressure_bar"] = "45"
    return {row["test_id"]}


def _no_reading_at_the_end(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    row = rng.choice(_passed(tables, "strength", _wet))
    row["end_pressure_bar"] = ""
    return {row["test_id"]}


def _held_for_five_minutes(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    row = rng.choice(_passed(tables, "strength"))
    start = datetime.datetime.fromisoformat(f"{row['date']} {row['start_time']}")
    row["end_time"] = f"{start + datetime.timedelta(minutes=5):%H:%M}"
    return {row["test_id"]}


def _dropped(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    row = rng.choice(_passed(tables, "strength", _wet))
    row["end_pressure_bar"] = f"{float(row['start_pressure_bar']) - 0.7:g}"
    return {row["test_id"]}


def _cooled_and_stood_still(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    row = rng.choice(_passed(tables, "strength", _wet))
    row["pipe_end_c"] = f"{float(row['pipe_start_c']) + 9:g}"
    return {row["test_id"]}


def _far_too_large(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    """A section so long that its content hides one joint."""
    row = rng.choice(_passed(tables, "strength", _wet))
    tube = rng.choice([tube for tube in tables["tubes"] if tube["section_id"] in _ids(row)])
    tube["length_m"] = "900000"
    return {test["test_id"] for test in tables["tests"] if tube["section_id"] in _ids(test)}


def _calibration_ran_out(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    gauge = rng.choice(_passed(tables, "strength"))["instrument_id"]
    for row in tables["calibrations"]:
        if row["instrument_id"] == gauge:
            row["calibrated_on"], row["due_on"] = "2023-02-01", "2024-02-01"
    return {gauge}


def _dial_too_wide(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    gauge = rng.choice(_passed(tables, "strength"))["instrument_id"]
    next(row for row in tables["instruments"] if row["instrument_id"] == gauge)["range_max_bar"] = "100"
    used = [row for row in tables["tests"] if row.get("instrument_id") == gauge and row["result"] == "pass"]
    return {row["test_id"] for row in used}


def _certificate_made_up(tables: Tables, _settings: dict[str, Any], _rng: random.Random) -> set[str]:
    logged = {row["document_id"] for row in tables["documents"] if row["kind"] == "logger_file"}
    row = next(row for row in tables["tests"] if row["document_id"] in logged)
    for field in ("start_pressure_bar", "end_pressure_bar"):
        row[field] = f"{float(row[field]) + 0.5:g}"
    return {row["test_id"]}


def _not_looked_at(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    row = rng.choice([row for row in tables["tests"] if row["result"] == "pass"])
    row["joints_inspected"] = "no"
    return {row["test_id"]}


def _passed_and_leaked(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    row = rng.choice(_passed(tables, "strength"))
    row["leaks_found"] = next(j["joint_id"] for j in tables["joints"] if j["section_id"] in _ids(row))
    return {row["test_id"]}


def _another_joint_leaked(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    row = next(row for row in tables["tests"] if row["result"] == "fail")
    joints = [j for j in tables["joints"] if j["section_id"] in _ids(row) and j["joint_id"] not in _changed(tables)]
    row["leaks_found"] = rng.choice(joints)["joint_id"]
    return {row["test_id"]}


def _failure_thrown_away(tables: Tables, _settings: dict[str, Any], _rng: random.Random) -> set[str]:
    failed = next(row for row in tables["tests"] if row["result"] == "fail")
    tables["tests"] = [
        row for row in tables["tests"] if (row["test_id"], row["attempt"]) != (failed["test_id"], failed["attempt"])
    ]
    return {failed["test_id"]}


def _energy_not_assessed(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    row = rng.choice([row for row in tables["tests"] if row["medium"] in ("air", "nitrogen")])
    row["energy_assessed"] = "no"
    return {row["test_id"]}


def _insulated_first(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    row = rng.choice(tables["insulations"])
    name = rng.choice(_ids(row))
    tests = [test for test in tables["tests"] if name in _ids(test) and test["stage"] == "strength"]
    row["applied_on"] = _later(min(test["date"] for test in tests), -3)
    return set(_ids(row))


def _nobody_watched(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    row = rng.choice(_passed(tables, "strength"))
    row["witness"] = ""
    return _systems(tables, row)


def _signed_later(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    row = rng.choice(_passed(tables, "strength"))
    row["witness_date"] = _later(row["date"], 2)
    return {row["test_id"]}


def _witness_of_the_firm(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    rng.choice(_passed(tables, "strength"))["witness_organisation"] = "MECH-1, foreman"
    return {"MECH-1, foreman"}


def _left_full(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    potable = {row["system_id"] for row in tables["systems"] if row["potable"] == "yes"}
    tests = [row for row in tables["tests"] if row["stage"] == "strength" and _systems(tables, row) & potable]
    last = max(row["date"] for row in tests)
    row = rng.choice([row for row in tests if row["date"] == last])
    row["made_safe"] = "left_full_untreated"
    return {row["test_id"]}


def _drained_late(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    row = rng.choice(_passed(tables, "strength", _wet))
    row["made_safe_date"] = _later(row["date"], 9)
    return {row["test_id"]}


def _left_somehow(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    row = rng.choice(_passed(tables, "strength", _wet))
    row["made_safe"] = row["made_safe_date"] = ""
    return _systems(tables, row)


BREAKS = {
    "required-stage-not-passed": (_strength_broken_off, "fail", set()),
    "test-stages-out-of-order": (_leak_test_after_strength, "fail", set()),
    "pressed-after-the-last-test": (_pressed_late, "fail", {"checked-before-the-press"}),
    "boundary-joint-not-tested": (_left_out, "fail", set()),
    "test-procedure-not-declared": (_another_procedure, "fail", set()),
    "test-pressure-not-reached": (_asked_for_too_little, "fail", set()),
    "test-pressure-above-rating": (_far_too_high, "fail", {"gauge-unfit", "test-pressure-not-reached"}),
    "test-readings-missing": (_no_reading_at_the_end, "fail", set()),
    "hold-too-short": (_held_for_five_minutes, "fail", {"test-could-not-see-one-joint"}),
    "drop-beyond-tolerance": (_dropped, "fail", set()),
    "zero-drop-with-temperature-change": (_cooled_and_stood_still, "fail", set()),
    "test-could-not-see-one-joint": (_far_too_large, "fail", {"expansion-not-taken-up"}),
    "gauge-not-in-calibration": (_calibration_ran_out, "fail", set()),
    "gauge-unfit": (_dial_too_wide, "fail", {"test-could-not-see-one-joint"}),
    "certificate-differs-from-trace": (_certificate_made_up, "fail", set()),
    "joints-not-looked-at": (_not_looked_at, "fail", set()),
    "passed-with-a-leak": (_passed_and_leaked, "fail", set()),
    "leak-without-rework": (_another_joint_leaked, "fail", set()),
    "failed-attempt-not-kept": (_failure_thrown_away, "fail", set()),
    "gas-test-without-precautions": (_energy_not_assessed, "fail", set()),
    "tested-after-closing-in": (_insulated_first, "fail", set()),
    "test-not-witnessed": (_nobody_watched, "cannot tell", set()),
    "witness-signed-another-day": (_signed_later, "fail", set()),
    "witness-of-another-organisation": (_witness_of_the_firm, "fail", set()),
    "left-full-untreated": (_left_full, "fail", set()),
    "made-safe-late": (_drained_late, "fail", set()),
    "made-safe-not-recorded": (_left_somehow, "cannot tell", set()),
}
