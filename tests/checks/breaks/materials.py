"""One thing broken in sound records for every question about materials, insulation and supports."""

import datetime as dt
import random
from typing import Any

Tables = dict[str, list[dict[str, str]]]


def _pick(rng: random.Random, rows: list[dict[str, str]]) -> dict[str, str]:
    return rows[rng.randrange(len(rows))]


def _system_of(tables: Tables, section_id: str) -> dict[str, str]:
    section = next(row for row in tables["sections"] if row["section_id"] == section_id)
    return next(row for row in tables["systems"] if row["system_id"] == section["system_id"])


def _sections_of(tables: Tables, system_id: str) -> list[str]:
    return [row["section_id"] for row in tables["sections"] if row["system_id"] == system_id]


def _pressed(tables: Tables) -> list[dict[str, str]]:
    return [row for row in tables["joints"] if row["status"] not in ("void", "cut_out", "planned")]


def _batch_in_joints(tables: Tables, rng: random.Random, field: str = "fitting_batch_id") -> dict[str, str]:
    used = {row[field] for row in _pressed(tables)}
    return _pick(rng, [row for row in tables["batches"] if row["batch_id"] in used])


def _holding(tables: Tables, material: str, services: tuple[str, ...] = ()) -> list[str]:
    """Sections with tube of a material, of any system or of those services."""
    sections = {row["section_id"] for row in tables["tubes"] if row["material"] == material}
    return [
        section_id
        for section_id in sorted(sections)
        if not services or _system_of(tables, section_id)["service"] in services
    ]


def _wet_stainless_section(tables: Tables, rng: random.Random) -> str:
    """A section of stainless steel that carries water; where the project has none, one gets a length of it."""
    found = _holding(tables, "stainless_steel", ("mains_cold_water",))
    if found:
        return rng.choice(found)
    section_id = rng.choice(_holding(tables, "copper", ("mains_cold_water",)))
    tables["tubes"].append(
        {
            "section_id": section_id, "material": "stainless_steel", "od_mm": "22", "wall_mm": "1.2", "length_m": "0.1",
            "tube_series": "series_2", "batch_id": "",
        }
    )  # fmt: skip
    return section_id


def _batch_blank(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    joint = _pick(rng, _pressed(tables))
    joint["fitting_batch_id"] = ""
    return {_system_of(tables, joint["section_id"])["system_id"]}


def _batch_late(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    batch = _batch_in_joints(tables, rng)
    days = [row["press_date"] for row in _pressed(tables) if row["fitting_batch_id"] == batch["batch_id"]]
    batch["received_on"] = (dt.date.fromisoformat(min(days)) + dt.timedelta(days=1)).isoformat()
    return {batch["batch_id"]}


def _batch_withdrawn(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    batch = _batch_in_joints(tables, rng)
    batch["quarantined"] = "yes"
    return {batch["batch_id"]}


def _batch_of_another_material(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    batch = _batch_in_joints(tables, rng)
    batch["material"] = "copper" if batch["material"] == "stainless_steel" else "stainless_steel"
    return {batch["batch_id"]}


def _batch_of_another_wall(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    used = {row["batch_id"] for row in tables["tubes"]}
    batch = _pick(rng, [row for row in tables["batches"] if row["batch_id"] in used])
    batch["wall_mm"] = f"{float(batch['wall_mm']) + 0.3:g}"
    return {batch["batch_id"]}


def _lesser_certificate(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    batch = _batch_in_joints(tables, rng)
    batch["certificate_type"] = "2.1"
    return {batch["batch_id"]}


def _certificate_not_there(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    batch = _batch_in_joints(tables, rng, "tube_batch_id")
    batch["document_id"] = ""
    return {batch["batch_id"]}


def _approval_not_there(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    potable = {
        s for row in tables["systems"] if row["potable"] == "yes" for s in _sections_of(tables, row["system_id"])
    }
    used = {row["fitting_batch_id"] for row in _pressed(tables) if row["section_id"] in potable}
    batch = _pick(rng, [row for row in tables["batches"] if row["batch_id"] in used])
    batch["potable_approval"] = ""
    return {batch["batch_id"]}


def _steel_in_open_system(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    system = _system_of(tables, rng.choice(_holding(tables, "carbon_steel")))
    system["closed_circuit"] = "no"
    return {system["system_id"]}


def _copper_before_steel(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    """A length of copper before the last section of a system of carbon steel that is not closed."""
    system = _system_of(tables, rng.choice(_holding(tables, "carbon_steel")))
    system["closed_circuit"] = "no"
    rows = [row for row in tables["sections"] if row["system_id"] == system["system_id"]]
    starts = {row["from_node"] for row in rows}
    last = next(row for row in rows if row["to_node"] not in starts)
    tables["tubes"].append(
        {
            "section_id": last["section_id"], "material": "copper", "od_mm": "22", "wall_mm": "0.9", "length_m": "0.1",
            "tube_series": "table_x", "batch_id": "",
        }
    )  # fmt: skip
    return {last["section_id"]}


def _salty(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    system = _system_of(tables, _wet_stainless_section(tables, rng))["system_id"]
    sample = _pick(rng, [r for r in tables["treatments"] if r["kind"] == "sample" and r["system_id"] == system])
    sample["chloride_mg_l"] = "251"
    return {system}


def _chloride_in_insulation(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    section_id = _wet_stainless_section(tables, rng)
    insulation = next(row for row in tables["insulations"] if section_id in row["section_ids"].split("; "))
    insulation["chloride_free"] = "no"
    return {insulation["insulation_id"]}


def _no_vapour_barrier(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    section_id = rng.choice(_holding(tables, "carbon_steel", ("chilled_flow",)))
    insulation = next(row for row in tables["insulations"] if section_id in row["section_ids"].split("; "))
    insulation["vapour_barrier"] = "no"
    return {insulation["insulation_id"]}


def _insulation_not_seen(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    insulation = _pick(rng, tables["insulations"])
    insulation["inspected_on"] = ""
    return {_system_of(tables, insulation["section_ids"].split("; ")[0])["system_id"]}


def _too_short_a_loop(tables: Tables, settings: dict[str, Any], rng: random.Random) -> set[str]:
    """Every movement over a millimetre counts, and one loop of a heating section takes up half of that."""
    settings["thresholds"] = {"expansion-movement-mm": 1}
    heating = [
        s for r in tables["systems"] if r["service"] == "heating_flow" for s in _sections_of(tables, r["system_id"])
    ]
    loops = [r for r in tables["supports"] if r["kind"] == "expansion_loop" and r["section_id"] in heating]
    loop = _pick(rng, loops)
    loop["takes_up_mm"] = "0.5"
    return {loop["section_id"]}


def _supports_not_there(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    section_id = _pick(rng, tables["supports"])["section_id"]
    tables["supports"][:] = [
        row for row in tables["supports"] if row["section_id"] != section_id or row["kind"] not in ("support", "guide")
    ]
    return {_system_of(tables, section_id)["system_id"]}


def _supports_far_apart(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    support = _pick(rng, [row for row in tables["supports"] if row["kind"] == "support"])
    support["spacing_m"] = "3.7"
    return {support["support_id"]}


def _support_failed(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    support = _pick(rng, [row for row in tables["supports"] if row["kind"] == "support"])
    support["result"] = "fail"
    return {support["support_id"]}


def _tag_inside(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    insulation = _pick(rng, tables["insulations"])
    insulation["tag_outside"] = "no"
    return {insulation["insulation_id"]}


def _bands_inside(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    insulation = _pick(rng, tables["insulations"])
    insulation["bands_fixed"] = "no"
    return {insulation["insulation_id"]}


BREAKS = {
    "batch-not-recorded": (_batch_blank, "cannot tell", set()),
    "batch-received-after-press": (_batch_late, "fail", set()),
    "quarantined-batch-used": (_batch_withdrawn, "fail", set()),
    "material-not-of-its-batch": (_batch_of_another_material, "fail", set()),
    "tube-not-of-its-batch": (_batch_of_another_wall, "fail", set()),
    "certificate-below-type-asked": (_lesser_certificate, "fail", set()),
    "batch-without-certificate": (_certificate_not_there, "cannot tell", set()),
    "potable-part-without-approval": (_approval_not_there, "cannot tell", set()),
    "carbon-steel-in-fresh-water": (_steel_in_open_system, "fail", set()),
    "copper-upstream-of-steel": (
        _copper_before_steel,
        "fail",
        {"carbon-steel-in-fresh-water", "guarantee-dates-unknown"},
    ),
    "chloride-above-limit": (_salty, "fail", {"guarantee-dates-unknown"}),
    "insulation-not-chloride-free": (_chloride_in_insulation, "fail", {"guarantee-dates-unknown"}),
    "steel-can-sweat": (_no_vapour_barrier, "fail", set()),
    "insulation-not-inspected": (_insulation_not_seen, "cannot tell", set()),
    "expansion-not-taken-up": (_too_short_a_loop, "fail", set()),
    "section-without-supports": (_supports_not_there, "cannot tell", set()),
    "support-spacing-too-wide": (_supports_far_apart, "fail", set()),
    "support-not-inspected": (_support_failed, "fail", set()),
    "tag-under-insulation": (_tag_inside, "fail", set()),
    "bands-not-fixed": (_bands_inside, "fail", set()),
}
