"""A synthetic project with all tables of the evidence chain filled: N sections with ten press ends each, two test stages to five sections.

python tests/benchmarks/synthetic_evidence.py DIR SECTIONS

Nearly all of it is as it should be; a small share of the rows has a fault, so that checks have something to find.
"""

import csv
import datetime
import json
import random
import sys
from collections.abc import Iterable
from pathlib import Path
from typing import Any

ENDS = 10
TOGETHER = 5
"""Sections tested together."""
FAULTS_IN = 500
"""One row in so many has a fault."""
FIRST_DAY = datetime.date(2025, 3, 3)
ISSUE = datetime.date(2026, 5, 15)
SIZES = {
    "copper": {15: 0.7, 28: 0.9, 54: 1.2},
    "stainless_steel": {15: 1.0, 22: 1.2, 54: 1.5},
    "carbon_steel": {35: 1.5, 76.1: 2.0, 108: 2.0},
}
FAMILY = {"copper": "FAM-C", "stainless_steel": "FAM-S", "carbon_steel": "FAM-K"}
PROFILE = {"FAM-C": "P1", "FAM-S": "P2", "FAM-K": "P3"}
# system, service, medium, mop bar, hottest °C, materials
SYSTEMS = (
    ("HF", "heating_flow", "treated_water", 3, 80, ("carbon_steel", "copper")),
    ("CF", "chilled_flow", "treated_water", 4, 12, ("carbon_steel",)),
    ("CW", "boosted_cold_water", "drinking_water", 6, 20, ("copper", "stainless_steel")),
    ("HW", "hot_water_flow", "drinking_water", 6, 60, ("copper", "stainless_steel")),
)
CREWS, OTHERS, GAUGES = 45, 15, 80
"""Operatives with a press tool each; checkers and testers; gauges, half of them for low pressure."""
DAYS = 250
STAGES = (("leak", 1.6, 30), ("strength", 9.0, 60))


class Tables:
    """Rows by table, with the dice of the project."""

    def __init__(self, seed: int) -> None:
        self.draw = random.Random(seed)
        self.rows: dict[str, list[dict[str, Any]]] = {}

    def add(self, table: str, **row: Any) -> None:
        """One row more."""
        self.rows.setdefault(table, []).append(row)

    def faulty(self) -> bool:
        """Whether this row gets its fault."""
        return self.draw.randrange(FAULTS_IN) == 0

    def write(self, folder: Path) -> None:
        """All tables as CSV."""
        for table, rows in self.rows.items():
            with (folder / f"{table}.csv").open("w", encoding="utf-8", newline="") as handle:
                writer = csv.writer(handle)
                writer.writerow(rows[0])
                writer.writerows([_text(value) for value in row.values()] for row in rows)


def _text(value: Any) -> Any:
    return ("yes" if value else "no") if isinstance(value, bool) else value


def day(number: int) -> datetime.date:
    """The working day of the site with that number."""
    return FIRST_DAY + datetime.timedelta(days=number // 5 * 7 + number % 5)


def write_project(folder: Path, sections: int, seed: int = 7) -> None:
    """Write project.yml and records for so many sections."""
    (folder / "records").mkdir(parents=True, exist_ok=True)
    tables = Tables(seed)
    _registers(tables)
    made = [_section(tables, number) for number in range(sections)]
    _tests(tables, made)
    _after(tables, made)
    tables.write(folder / "records")
    (folder / "project.yml").write_text(json.dumps(_settings(), indent=1), encoding="utf-8")


def _settings() -> dict[str, Any]:
    stages = [
        {
            "stage": "leak",
            "medium": "water",
            "basis": "fixed",
            "fixed_bar": 1.0,
            "settle_min": 10,
            "hold_min": 30,
            "allowed_drop_bar": 0,
        },
        {
            "stage": "strength",
            "medium": "water",
            "basis": "mop",
            "factor": 1.5,
            "settle_min": 30,
            "hold_min": 60,
            "allowed_drop_bar": 0,
        },
    ]
    terms = {
        "years": 10,
        "basis": "completion",
        "register_within_days": 40,
        "registered_on": "2026-05-10",
        "registration": "DOC-REG",
    }
    return {
        "project": {"id": "SYNTHETIC", "name": "Synthetic project", "time_zone": "Europe/London", "completion_date": "2026-05-05"},
        "issue": {"number": "P02", "date": ISSUE.isoformat()},
        "tags": {"host": "tags.synthetic.example"},
        "records": [{"table": name, "file": f"records/{name}.csv", "delimiter": ","} for name in ("flushings", "treatments")],
        "testing": {service: "wet" for _, service, *_ in SYSTEMS},
        "procedures": {"wet": {"title": "Water test", "source": "Invented specification", "stages": stages}},
        "guarantee": dict.fromkeys(FAMILY, terms),
        "concession_approvers": ["Designer"],
        "witness": {"stages": ["strength"], "organisations": ["Client"]},
    }  # fmt: skip


def _registers(t: Tables) -> None:
    for key, service, medium, bar, hot, _ in SYSTEMS:
        t.add(
            "systems", system_id=key, name=service, service=service, medium=medium, max_operating_pressure_bar=bar, max_design_pressure_bar=bar + 2,
            min_temperature_c=5, max_temperature_c=hot, upset_temperature_c=hot + 5, relief_set_bar=bar + 1, potable=medium == "drinking_water",
            closed_circuit=medium == "treated_water", oil_free=False if medium == "compressed_air" else "", schematic=f"{key}-SCH-01 C01",
        )  # fmt: skip
        t.add(
            "documents",
            document_id=f"DOC-{key}",
            file="",
            title=f"{key}-SCH-01",
            kind="drawing",
            revision="C01",
            date=FIRST_DAY,
            about=key,
            edition="audit",
            legible=True,
        )
    t.add(
        "documents",
        document_id="DOC-REG",
        file="",
        title="Registration",
        kind="registration",
        revision="",
        date="2026-05-10",
        about="",
        edition="audit",
        legible=True,
    )
    for n in range(1, CREWS + OTHERS + 1):
        code = f"OP-{n:02}"
        t.add(
            "operatives",
            operative_id=code,
            name=f"Person {n}",
            initials=f"P{n}",
            role="Pipefitter",
            employer="SUB-1",
            inducted_on="2025-03-01",
        )
        t.add(
            "trainings", operative_id=code, system_family="FAM-C; FAM-S; FAM-K", max_od_mm=108, certificate_no=f"TR-{n}", trained_on="2024-09-01",
            expires_on="2027-08-31" if n != 3 else "2025-06-30", sample_joint=True,
        )  # fmt: skip
    for n in range(1, CREWS + 1):
        _tool(t, f"PT-{n:02}", "press_tool", None, None, n)
        for family in PROFILE:
            for od in SIZES[next(m for m, f in FAMILY.items() if f == family)]:
                _tool(t, f"{family[-1]}{od:g}-{n:02}", "sling" if od >= 42 else "jaw", family, od, n)
                if od == 108:
                    _tool(t, f"AD-{n:02}", "adapter", family, od, n)
    for n in range(1, GAUGES + 1):
        t.add(
            "instruments",
            instrument_id=f"G-{n:02}",
            kind="gauge",
            serial=f"GA-{n}",
            range_min_bar=0,
            range_max_bar=3 if n % 2 else 16,
            class_percent=1.0,
            resolution_bar=0.1,
        )
        for year in (2025, 2026):
            t.add(
                "calibrations", instrument_id=f"G-{n:02}", certificate_no=f"CAL-{n}-{year}", serial_on_certificate=f"GA-{n}", calibrated_on=f"{year}-02-01",
                due_on=f"{year + 1}-02-01", laboratory="Laboratory 1", accreditation_no="LAB-1", error_found_bar=0.01, result="pass",
            )  # fmt: skip
    for material, family in FAMILY.items():
        for od, wall in SIZES[material].items():
            for item in ("tube", "fitting"):
                for n in range(20):
                    t.add(
                        "batches", batch_id=f"B-{family[-1]}{item[0]}{od:g}-{n:02}", item=item, material=material, od_mm=od, wall_mm=wall if item == "tube" else None,
                        system_family=family, press_profile=PROFILE[family] if item == "fitting" else None, seal="EPDM" if item == "fitting" else None,
                        certificate_type="3.1", certificate_no=f"MC-{n}", document_id="DOC-HF", received_on="2025-02-20", quantity=90000, quarantined=n == 7 and od == 15,
                        potable_approval="" if material == "carbon_steel" else "PA-1",
                    )  # fmt: skip
        t.add(
            "ratings",
            rating_id=f"R-{family}",
            component="fitting",
            applies_to=family,
            temperature_c=-20,
            pressure_bar=16,
        )
        t.add(
            "ratings",
            rating_id=f"R-{family}",
            component="fitting",
            applies_to=family,
            temperature_c=110,
            pressure_bar=12,
        )
    for name, component, applies_to in (("R-EPDM", "seal", "EPDM"), ("R-V", "valve", "")):
        for celsius in (-20, 110):
            t.add(
                "ratings",
                rating_id=name,
                component=component,
                applies_to=applies_to,
                temperature_c=celsius,
                pressure_bar=16,
            )


def _tool(t: Tables, code: str, kind: str, family: str | None, od: float | None, n: int) -> None:
    t.add(
        "tools", tool_id=code, kind=kind, serial=f"T-{code}", press_profile=PROFILE[family] if family else None, od_mm=od,
        system_family=family or "; ".join(PROFILE), owner="SUB-1", cycle_limit=40000,
    )  # fmt: skip
    for year in (2025, 2026):
        t.add(
            "tool_services",
            tool_id=code,
            serviced_on=f"{year}-02-10",
            due_on=f"{year + 1}-02-10" if n != 5 else f"{year}-06-10",
            cycle_count=(year - 2024) * 4000,
            certificate_no=f"SV-{code}-{year}",
            result="pass",
        )


def _section(t: Tables, n: int) -> dict[str, Any]:
    draw = t.draw
    key, _, _, _, _, materials = SYSTEMS[n // 40 % len(SYSTEMS)]
    material = draw.choice(materials)
    family = FAMILY[material]
    od, wall = draw.choice(list(SIZES[material].items()))
    name, start = f"S{n:06}", f"V{n:06}"
    last = n % 40 == 39
    end = f"V{n + 1:06}"
    number = n % DAYS
    pressed, low = day(number), n // TOGETHER % 7 * 3.0
    t.add(
        "sections", section_id=name, system_id=key, name=f"Section {n}", from_node=start, to_node=f"T{n:06}" if last else end, flow="up", level=n % 40, location=f"Corridor {n % 97}",
        system_family=family, seal="EPDM", elevation_high_m=low + 3, elevation_low_m=low, expected_ends=ENDS + t.faulty(), insulation="Foam 25 mm", concealed=n % 2 == 0,
        cover_up_date=day(number + 30) if n % 2 == 0 else "", subcontractor=f"SUB-{n % 4}", delivered_on="2025-02-20", installed_on=pressed,
        commissioned_on=day(number + 25), drawing=f"{key}-SCH-01", drawing_revision="C01", status="in_service",
    )  # fmt: skip
    t.add(
        "tubes",
        section_id=name,
        material=material,
        od_mm=od,
        wall_mm=wall,
        length_m=6,
        batch_id=f"B-{family[-1]}t{od:g}-{n % 20:02}",
    )
    for node, kind in ((start, "plant" if n % 40 == 0 else "valve"), *(((f"T{n:06}", "terminal"),) if last else ())):
        t.add("nodes", node_id=node, kind=kind, system_id=key, od_mm=od, level=n % 40, location="Riser")
        around = [name] if n % 40 == 0 or kind == "terminal" else [f"S{n - 1:06}", name]
        t.add(
            "valves", valve_id=node, node_id=node, kind="isolating", od_mm=od, pressure_rating_bar=16, max_temperature_c=110, normal_position="open", closes="clockwise", turns=1,
            level=n % 40, location="Riser", section_ids="; ".join(around), exercised_on=day(number + 26), holds_tight=not t.faulty(), photo_near="", photo_far="",
        )  # fmt: skip
    for kind in ("drain", "vent"):
        t.add(
            "valves", valve_id=f"{kind}-{n:06}", node_id="", kind=kind, od_mm=15, pressure_rating_bar=16, max_temperature_c=110, normal_position="closed", closes="clockwise",
            turns=1, level=n % 40, location="Riser", section_ids=name, exercised_on=day(number + 26), holds_tight=True, photo_near="", photo_far="",
        )  # fmt: skip
    crew = n // DAYS % CREWS + 1
    for end_number in range(ENDS):
        minute = 8 * 60 + end_number * 14 + n % 5
        t.add(
            "joints", joint_id=f"{name}-J{end_number // 2 + 1:03}-{'AB'[end_number % 2]}", unit_of_count="end", section_id=name, level=n % 40, location="Riser", drawing=f"{key}-SCH-01",
            drawing_revision="C01", joint_type="press", fitting_kind="elbow", od_mm=od, material_tube=material, material_fitting=material, system_family=family,
            press_profile=PROFILE[family], seal="EPDM", fitting_batch_id=f"B-{family[-1]}f{od:g}-{draw.randrange(20):02}", tube_batch_id=f"B-{family[-1]}t{od:g}-{n % 20:02}",
            operative_id=f"OP-{crew:02}", tool_id=f"PT-{crew:02}", jaw_id=f"{family[-1]}{od:g}-{crew:02}", adapter_id=f"AD-{crew:02}" if od == 108 else "",
            press_date=pressed if not t.faulty() else day(number + 24), press_time=f"{minute // 60:02}:{minute % 60:02}" if not t.faulty() else "", cut_square=True, deburred=True,
            coating_stripped=True if material == "carbon_steel" else "", seal_present=True, depth_marked=not t.faulty(), fully_inserted=True, lubricated=True if od >= 42 else "",
            tool_isolated=True, depth_mark_visible=True, fitting_closed=True, sling_left_on=True if od == 108 else "", excess_wiped=True if od >= 42 else "", marked_complete=True,
            pressed_check=True, checker_id=f"OP-{CREWS + 1 + n % OTHERS:02}" if not t.faulty() else f"OP-{crew:02}", check_date=day(number + 1), press_count=2 if od == 108 else 1, status="tested",
            boundary=end_number in (0, ENDS - 1), tube_to_next_mm=300, photo=f"photos/{name}-{end_number}.png",
        )  # fmt: skip
    return {"name": name, "key": key, "number": number, "od": od, "wall": wall, "low": low, "n": n}


def _tests(t: Tables, made: list[dict[str, Any]]) -> None:
    for n in range(0, len(made), TOGETHER):
        group = made[n : n + TOGETHER]
        on = day(max(section["number"] for section in group) + 3)
        low = min(section["low"] for section in group)
        turn = n // DAYS  # tests of one day: testers, gauges and witnesses are taken in turn, then the next hours
        minute = 7 * 60 + turn // OTHERS % 4 * 180 + n % 7
        for stage, bar, hold in STAGES:
            reading = (
                round(bar + 0.4 + t.draw.randrange(8) / 10, 1)
                if stage == "strength"
                else round(1.6 + t.draw.randrange(6) / 10, 1)
            )
            gauge = turn % (GAUGES // 2) * 2 + (2 if stage == "strength" else 1)
            t.add(
                "tests", test_id=f"T-{n:06}", attempt=1, stage=stage, section_ids="; ".join(s["name"] for s in group), boundary="Blanked", procedure="wet", medium="water",
                required_pressure_bar="", pressure_basis="", start_pressure_bar=reading, end_pressure_bar=reading, date=on, start_time=f"{minute // 60:02}:{minute % 60:02}",
                end_time=f"{(minute + hold) // 60:02}:{(minute + hold) % 60:02}", settle_min=30, hold_min=hold, ambient_start_c=14, ambient_end_c=14, pipe_start_c=12, pipe_end_c=12,
                instrument_id=f"G-{gauge:02}", gauge_elevation_m=low, topped_up=False, joints_inspected=True, result="pass" if not t.faulty() else "fail", leaks_found="",
                made_safe="drained_dried" if stage == "strength" else "", made_safe_date=on if stage == "strength" else "", tester=f"OP-{CREWS + 1 + turn % OTHERS:02}", witness=f"CW-{turn % OTHERS}",
                witness_organisation="Client", witness_date=on, certificate_no=f"TC-{n}", document_id="",
            )  # fmt: skip
            minute += hold + 45


def _after(t: Tables, made: list[dict[str, Any]]) -> None:
    for n in range(0, len(made), 20):
        group = made[n : n + 20]
        names, on = "; ".join(s["name"] for s in group), day(max(s["number"] for s in group) + 8)
        t.add(
            "flushings", flushing_id=f"FL-{n}", kind="flush", section_ids=names, procedure="Flushing", date=on, flow_l_s=18, velocity_m_s=2.1, duration_min=40, water_changes=22,
            strainers_cleaned=True, result="pass", chemical="", concentration_mg_l="", contact_min="", neutralised="",
        )  # fmt: skip
        if group[0]["key"] in ("CW", "HW"):
            t.add(
                "flushings", flushing_id=f"FD-{n}", kind="disinfection", section_ids=names, procedure="Disinfection", date=on, flow_l_s=18, velocity_m_s=2.1, duration_min=40,
                water_changes=22, strainers_cleaned=True, result="pass", chemical="Sodium hypochlorite", concentration_mg_l=50, contact_min=60, neutralised=True,
            )  # fmt: skip
        for kind, later in (("fill", 0), ("dose", 0), ("sample", 4), ("sample", 240)):
            t.add(
                "treatments", treatment_id=f"WT-{n}-{kind}-{later}", kind=kind, section_ids=names, date=min(day(max(s["number"] for s in group) + 8 + later), ISSUE), sample_point="Tap",
                water_source="Mains", ph=8.2, conductivity_us_cm=300, chloride_mg_l=30, iron_mg_l=0.1, oxygen_mg_l=0.05, inhibitor_mg_l=1200, colonies_cfu_ml=5, legionella_cfu_l=0,
                laboratory="LAB-1", accreditation_no="ACC-1", result="in_limits",
            )  # fmt: skip
    for section in made:
        n, number = section["n"], section["number"]
        t.add(
            "insulations", insulation_id=f"IN-{n}", section_ids=section["name"], material="Foam", thickness_mm=25, vapour_barrier=True, joints_sealed=True, chloride_free=True,
            applied_on=day(number + 10) if not t.faulty() else day(number + 2), inspected_on=day(number + 12), result="pass", tag_outside=True, bands_fixed=True,
        )  # fmt: skip
        t.add(
            "supports", support_id=f"SP-{n}", section_id=section["name"], kind="support", od_mm=section["od"], orientation="horizontal", spacing_m=1.1, from_fitting_mm=200, lined=True,
            inspected_on=day(number + 5), result="pass", takes_up_mm="",
        )  # fmt: skip
        if n % 50 == 0:
            t.add(
                "snags", snag_id=f"SN-{n}", description="Bracket loose", snag_class="B", kind="support", section_ids=section["name"], raised_on=day(number + 5), due_on=day(number + 15),
                closed_on=day(number + 9) if n % 100 else "", retest_required=False,
            )  # fmt: skip
        if n % 100 == 0:
            t.add(
                "alterations", alteration_id=f"AL-{n}", kind="insulation_opened", section_ids=section["name"], date=day(number + 15), reason="Looked at", done_by_role="Foreman", test_id="",
            )  # fmt: skip
            t.add(
                "concessions", concession_id=f"CN-{n}", check="ends-do-not-add-up", section_ids=section["name"], departure="Count", reason="Counted again", decision="accepted",
                approved_by_role="Designer", approved_on=day(number + 15), expires_on="2027-01-01", guarantee_effect="none",
            )  # fmt: skip


def rows_written(folder: Path) -> Iterable[tuple[str, int]]:
    """Rows of every table."""
    for path in sorted((folder / "records").glob("*.csv")):
        with path.open(encoding="utf-8") as handle:
            yield path.stem, sum(1 for _ in handle) - 1


if __name__ == "__main__":
    write_project(Path(sys.argv[1]), int(sys.argv[2]))
