"""One thing broken in sound records for every question about flushing, filling, treatment and samples."""

import datetime
import random
from typing import Any

Tables = dict[str, list[dict[str, str]]]
Settings = dict[str, Any]


def _day(text: str, later: int = 0) -> str:
    return (datetime.date.fromisoformat(text) + datetime.timedelta(days=later)).isoformat()


def _sections(tables: Tables, system_id: str) -> set[str]:
    return {row["section_id"] for row in tables["sections"] if row["system_id"] == system_id}


def _names(cell: str) -> set[str]:
    return {name.strip() for name in cell.split(";") if name.strip()}


def _systems(tables: Tables, rng: random.Random, *, potable: bool) -> str:
    column = "potable" if potable else "closed_circuit"
    return rng.choice([row["system_id"] for row in tables["systems"] if row[column] == "yes"])


def _flushes(tables: Tables, system_id: str, *kinds: str) -> list[dict[str, str]]:
    wanted = _sections(tables, system_id)
    return [row for row in tables["flushings"] if row["kind"] in kinds and _names(row["section_ids"]) <= wanted]


def _event(tables: Tables, system_id: str, kind: str) -> dict[str, str]:
    return next(row for row in tables["treatments"] if row["kind"] == kind and row["system_id"] == system_id)


def _tests(tables: Tables, system_id: str) -> list[dict[str, str]]:
    return [row for row in tables["tests"] if _names(row["section_ids"]) & _sections(tables, system_id)]


def _no_flush(tables: Tables, _settings: Settings, rng: random.Random) -> set[str]:
    system_id = _systems(tables, rng, potable=rng.random() < 0.5)
    for row in _flushes(tables, system_id, "flush", "chemical_clean"):
        tables["flushings"].remove(row)
    return {system_id}


def _flushed_first(tables: Tables, _settings: Settings, rng: random.Random) -> set[str]:
    """The flush, and the clean with it, stand a day before the first strength test."""
    system_id = _systems(tables, rng, potable=rng.random() < 0.5)
    first = min(row["date"] for row in _tests(tables, system_id) if row["stage"] == "strength")
    rows = _flushes(tables, system_id, "flush", "chemical_clean")
    for row in rows:
        row["date"] = _day(first, -1)
    return {max(row["flushing_id"] for row in rows)}


def _flushed_last(tables: Tables, _settings: Settings, rng: random.Random) -> set[str]:
    """The flush stands a day after the dose."""
    system_id = _systems(tables, rng, potable=False)
    dose = _event(tables, system_id, "dose")
    for row in _flushes(tables, system_id, "flush", "chemical_clean"):
        row["date"] = _day(dose["date"], 1)
    return {dose["treatment_id"]}


def _failed(tables: Tables, _settings: Settings, rng: random.Random) -> set[str]:
    row = rng.choice(tables["flushings"])
    row["result"] = "fail"
    return {row["flushing_id"]}


def _slow(tables: Tables, _settings: Settings, rng: random.Random) -> set[str]:
    """Half the flow, and the velocity that goes with it, and less than any system is asked for."""
    row = rng.choice([row for row in tables["flushings"] if row["kind"] == "flush"])
    for field in ("flow_l_s", "velocity_m_s"):
        row[field] = f"{float(row[field]) * 0.4:.3f}"
    return {row["flushing_id"]}


def _velocity_of_a_branch(tables: Tables, _settings: Settings, rng: random.Random) -> set[str]:
    row = rng.choice([row for row in tables["flushings"] if row["kind"] == "flush"])
    row["velocity_m_s"] = f"{float(row['velocity_m_s']) * 1.6:.2f}"
    return {row["flushing_id"]}


def _few_changes(tables: Tables, _settings: Settings, rng: random.Random) -> set[str]:
    row = rng.choice(_flushes(tables, _systems(tables, rng, potable=True), "flush"))
    row["water_changes"] = "8"
    return {row["flushing_id"]}


def _filled_early(tables: Tables, _settings: Settings, _rng: random.Random) -> set[str]:
    """The steel circuit was filled twenty days before anything was done to its water."""
    steel = {row["section_id"] for row in tables["tubes"] if row["material"] == "carbon_steel"}
    closed = [row["system_id"] for row in tables["systems"] if row["closed_circuit"] == "yes"]
    system_id = next(name for name in closed if _sections(tables, name) <= steel)
    first = min(row["date"] for row in _tests(tables, system_id))
    _event(tables, system_id, "fill")["date"] = _day(first, -20)
    return {system_id}


def _no_event(kind: str) -> Any:
    def take_out(tables: Tables, _settings: Settings, rng: random.Random) -> set[str]:
        system_id = _systems(tables, rng, potable=False)
        tables["treatments"].remove(_event(tables, system_id, kind))
        return {system_id}

    return take_out


def _hardly_moved(tables: Tables, _settings: Settings, rng: random.Random) -> set[str]:
    row = _event(tables, _systems(tables, rng, potable=False), "circulation")
    row["hours_per_day"] = "0.2"
    return {row["treatment_id"]}


def _sour(tables: Tables, _settings: Settings, rng: random.Random) -> set[str]:
    row = _event(tables, _systems(tables, rng, potable=False), "sample")
    row["ph"] = "5.9"
    return {row["treatment_id"]}


def _weak_glycol(tables: Tables, _settings: Settings, rng: random.Random) -> set[str]:
    system_id = _systems(tables, rng, potable=False)
    next(row for row in tables["systems"] if row["system_id"] == system_id)["glycol_percent"] = "30"
    row = _event(tables, system_id, "sample")
    row["glycol_percent"] = "22"
    return {row["treatment_id"]}


def _used_first(tables: Tables, _settings: Settings, rng: random.Random) -> set[str]:
    """Disinfected the day after the last section was commissioned."""
    system_id = _systems(tables, rng, potable=True)
    used = max(row["commissioned_on"] for row in tables["sections"] if row["system_id"] == system_id)
    rows = _flushes(tables, system_id, "disinfection")
    for row in rows:
        row["date"] = _day(used, 1)
    return {row["flushing_id"] for row in rows}


def _weak_chlorine(tables: Tables, _settings: Settings, rng: random.Random) -> set[str]:
    row = rng.choice([row for row in tables["flushings"] if row["kind"] == "disinfection"])
    row["concentration_mg_l"] = "20"
    return {row["flushing_id"]}


def _sampled_late(tables: Tables, _settings: Settings, rng: random.Random) -> set[str]:
    system_id = _systems(tables, rng, potable=True)
    used = max(row["commissioned_on"] for row in tables["sections"] if row["system_id"] == system_id)
    row = _event(tables, system_id, "sample")
    row["date"] = _day(used, 1)
    return {row["treatment_id"]}


def _legionella(tables: Tables, _settings: Settings, rng: random.Random) -> set[str]:
    row = _event(tables, _systems(tables, rng, potable=True), "sample")
    row["legionella_cfu_l"] = "300"
    return {row["treatment_id"]}


BREAKS = {
    "section-not-flushed": (_no_flush, "cannot tell", set()),
    "flushed-before-the-test": (_flushed_first, "fail", set()),
    "treated-before-flushing": (_flushed_last, "fail", set()),
    "flush-failed": (_failed, "fail", set()),
    "flush-too-slow": (_slow, "fail", set()),
    "flush-velocity-not-of-its-flow": (_velocity_of_a_branch, "fail", set()),
    "flushed-with-too-few-changes": (_few_changes, "fail", set()),
    "filled-long-before-treatment": (_filled_early, "fail", set()),
    "treatment-not-recorded": (_no_event("dose"), "cannot tell", set()),
    "circulation-not-kept-up": (_hardly_moved, "fail", set()),
    "water-not-sampled": (_no_event("sample"), "cannot tell", set()),
    "water-out-of-limits": (_sour, "fail", set()),
    "glycol-below-design": (_weak_glycol, "fail", set()),
    "potable-not-disinfected": (_used_first, "fail", {"disinfection-not-sampled"}),
    "disinfection-too-weak": (_weak_chlorine, "fail", set()),
    "disinfection-not-sampled": (_sampled_late, "fail", set()),
    "legionella-found": (_legionella, "fail", set()),
}
