"""Mass of tube, and the allowance for fittings and plant, on whole records."""

from collections.abc import Callable
from pathlib import Path

import pytest

from witnessmark.intake.project_reader import read_project
from witnessmark.workings.aids import system_masses
from witnessmark.workings.work import Workings, work

SETTINGS = """\
project: {id: T-1, name: Test project, time_zone: Europe/London}
issue: {number: P01, date: 2026-05-15}
tags: {host: tags.example}
"""
Worker = Callable[..., Workings]


@pytest.fixture
def worked(tmp_path: Path) -> Worker:
    def run(tubes: str, system: str = "H,treated_water,10,5,350") -> Workings:
        (tmp_path / "records").mkdir()
        (tmp_path / "project.yml").write_text(SETTINGS, encoding="utf-8")
        head = "system_id,medium,min_temperature_c,fittings_allowance_percent,plant_content_l\n"
        records = {
            "systems": head + system + "\n",
            "sections": "section_id,system_id\nS1,H\nS2,H\n",
            "tubes": f"section_id,material,od_mm,wall_mm,length_m\n{tubes}",
        }
        for name, text in records.items():
            (tmp_path / "records" / f"{name}.csv").write_text(text, encoding="utf-8")
        return work(read_project(tmp_path))

    return run


@pytest.mark.parametrize(
    ("material", "od", "wall", "kg_per_metre", "litres_per_metre"),
    [
        # Masses at the nominal size with copper 8940, stainless 8000, carbon steel 7850 kg/m3 (densities from memory).
        ("copper", 22, 0.9, 0.533, 0.3205), ("copper", 54, 1.2, 1.780, 2.0912),
        ("stainless_steel", 28, 1.2, 0.808, 0.5147), ("stainless_steel", 108, 2.0, 5.328, 8.4949),
        ("carbon_steel", 76.1, 2.0, 3.655, 4.0828),
    ],
)  # fmt: skip
def test_ten_metres_weigh_what_the_tables_say_empty_and_filled(
    worked: Worker, material: str, od: float, wall: float, kg_per_metre: float, litres_per_metre: float
) -> None:
    aids = worked(f"S1,{material},{od},{wall},10\n").aids["S1"]
    assert aids.empty_mass_kg.value == pytest.approx(10 * kg_per_metre, rel=3e-3)
    # Water at 10 °C weighs 999.70 kg/m3: IAPWS-95 (computed).
    assert aids.filled_mass_kg.value == pytest.approx(10 * (kg_per_metre + 0.9997 * litres_per_metre), rel=3e-3)


def test_a_section_without_a_length_has_no_mass_and_says_why(worked: Worker) -> None:
    mass = worked("S1,copper,22,0.9,\n").aids["S1"].empty_mass_kg
    assert mass.value is None
    assert any("length" in reason for reason in mass.missing)


def test_a_system_weighs_what_its_sections_weigh(worked: Worker) -> None:
    workings = worked("S1,copper,22,0.9,10\nS2,copper,22,0.9,5\n")
    empty, filled = system_masses(workings.aids.values())
    assert empty.value == pytest.approx(15 * 0.533, rel=3e-3)
    assert filled.value is not None
    assert filled.value > empty.value


def test_fittings_and_plant_stand_beside_the_content_and_are_never_in_it(worked: Worker) -> None:
    system = worked("S1,copper,22,0.9,10\nS2,copper,22,0.9,10\n").systems["H"]
    assert system.content_l.value == pytest.approx(20 * 0.3205, rel=1e-3)
    assert system.fittings_allowance_l.value == pytest.approx(0.05 * 20 * 0.3205, rel=1e-3)
    assert system.plant_content_l.value == 350


def test_nothing_is_allowed_for_where_nothing_is_declared(worked: Worker) -> None:
    system = worked("S1,copper,22,0.9,10\nS2,copper,22,0.9,10\n", "H,treated_water,10,,").systems["H"]
    assert system.fittings_allowance_l.value is None
    assert "the allowance for fittings" in system.fittings_allowance_l.missing[0]
    assert system.plant_content_l.value is None
    assert "the plant content" in system.plant_content_l.missing[0]
