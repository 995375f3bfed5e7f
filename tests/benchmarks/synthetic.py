"""A synthetic project of any size: N sections with ten press ends each, seeded, with every register filled.

python tests/benchmarks/synthetic.py DIR SECTIONS
"""

import csv
import datetime
import random
import sys
from collections.abc import Iterable
from pathlib import Path

ENDS = 10
SIZES = {
    "copper": ((15, 0.7), (22, 0.9), (28, 0.9)),
    "stainless_steel": ((15, 1.0), (22, 1.2), (54, 1.5)),
    "carbon_steel": ((35, 1.5), (76.1, 2.0)),
}
SERVICES = (
    ("HF", "heating_flow", "treated_water", 3, 80), ("HR", "heating_return", "treated_water", 3, 60),
    ("CF", "chilled_flow", "glycol_water", 4, 12), ("CW", "boosted_cold_water", "drinking_water", 6, 20),
    ("HW", "hot_water_flow", "drinking_water", 6, 60), ("CA", "compressed_air", "compressed_air", 7, 30),
)  # fmt: skip
FIRST_DAY = datetime.date(2025, 10, 6)


def _write(path: Path, header: list[str], rows: Iterable[list[object]]) -> None:
    with path.open("w", encoding="utf-8", newline="") as handle:
        writer = csv.writer(handle)
        writer.writerow(header)
        writer.writerows(rows)


def write_project(folder: Path, sections: int, seed: int = 7) -> None:
    """Write project.yml and records for so many sections."""
    draw = random.Random(seed)
    records = folder / "records"
    records.mkdir(parents=True, exist_ok=True)
    (folder / "project.yml").write_text(
        "project: {id: SYNTHETIC, name: Synthetic project, time_zone: Europe/London, completion_date: 2026-06-12}\n"
        "issue: {number: P01, date: 2026-05-15}\n"
        "duty: {role: Duty engineer, phone: 020 7946 0000}\n"
        "tags: {host: tags.synthetic.example}\n"
        "guarantee:\n"
        "  copper: {years: 30, basis: completion}\n"
        "  stainless_steel: {years: 30, basis: completion}\n"
        "  carbon_steel: {years: 10, basis: completion}\n",
        encoding="utf-8",
    )
    _write(
        records / "systems.csv",
        ["system_id", "name", "service", "medium", "max_operating_pressure_bar", "max_temperature_c"],
        [[key, service.replace("_", " "), service, medium, bar, hot] for key, service, medium, bar, hot in SERVICES],
    )
    _write(
        records / "operatives.csv", ["operative_id", "name", "initials"],
        [[f"OP-{n:02}", f"Person {n}", f"P{n}"] for n in range(1, 41)],
    )  # fmt: skip
    _write(
        records / "tools.csv",
        ["tool_id", "kind", "serial"],
        [[f"PT-{n:02}", "press_tool", f"T{n:05}"] for n in range(1, 31)],
    )
    _write(
        records / "instruments.csv", ["instrument_id", "kind", "range_min_bar", "range_max_bar", "class_percent"],
        [[f"G-{n:02}", "gauge", 0, 16, 1.0] for n in range(1, 21)],
    )  # fmt: skip
    chosen = [(draw.choice(SERVICES)[0], draw.choice(list(SIZES))) for _ in range(sections)]
    sized = [(system, material, draw.choice(SIZES[material])) for system, material in chosen]
    _write(
        records / "sections.csv",
        ["section_id", "system_id", "name", "flow", "level", "location", "expected_ends", "installed_on", "concealed"],
        [
            [f"S{n:06}", system, f"{system} section {n}, level {n % 40}", draw.choice(["up", "down", "left", "right"]),
             n % 40, f"Corridor {n % 97}, grid {n % 13}", ENDS, FIRST_DAY + datetime.timedelta(days=n % 180), "yes"]
            for n, (system, _, _) in enumerate(sized)
        ],
    )  # fmt: skip
    _write(
        records / "tubes.csv", ["section_id", "material", "od_mm", "wall_mm", "length_m"],
        [[f"S{n:06}", material, size[0], size[1], round(draw.uniform(2, 40), 1)] for n, (_, material, size) in enumerate(sized)],
    )  # fmt: skip
    _write(
        records / "joints.csv",
        ["joint_id", "section_id", "unit_of_count", "fitting_kind", "od_mm", "material_tube", "operative_id", "tool_id",
         "press_date", "depth_marked", "pressed_check", "checker_id", "check_date", "status"],
        [
            [f"S{n:06}-J{pair:02}-{end}", f"S{n:06}", "end", "elbow", size[0], material, f"OP-{draw.randint(1, 30):02}",
             f"PT-{draw.randint(1, 30):02}", FIRST_DAY + datetime.timedelta(days=n % 180), "yes", "yes",
             f"OP-{draw.randint(31, 40):02}", FIRST_DAY + datetime.timedelta(days=n % 180 + 1), "checked"]
            for n, (_, material, size) in enumerate(sized)
            for pair in range(ENDS // 2)
            for end in "AB"
        ],
    )  # fmt: skip
    _write(
        records / "tests.csv",
        ["test_id", "attempt", "stage", "section_ids", "medium", "start_pressure_bar", "end_pressure_bar", "date",
         "start_time", "end_time", "instrument_id", "result"],
        [
            [f"PT-{n:05}", 1, stage, "; ".join(f"S{s:06}" for s in range(n * 5, min(n * 5 + 5, sections))), "water", bar, bar,
             FIRST_DAY + datetime.timedelta(days=200), "09:00", "10:00", f"G-{n % 20 + 1:02}", "pass"]
            for n in range((sections + 4) // 5)
            for stage, bar in (("leak", 1.5), ("strength", 9.0))
        ],
    )  # fmt: skip


if __name__ == "__main__":
    write_project(Path(sys.argv[1]), int(sys.argv[2]))
