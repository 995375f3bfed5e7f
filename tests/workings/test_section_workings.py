"""Content, wall and guarantee dates of whole records, against published tables and the calendar."""

import datetime
from collections.abc import Callable
from pathlib import Path

import pytest

from witnessmark.intake.project_reader import read_project
from witnessmark.workings.work import SectionWorkings, work

SETTINGS = """\
project: {{id: T-1, name: Test project, time_zone: Europe/London, completion_date: {completion}}}
issue: {{number: P01, date: 2026-05-15}}
tags: {{host: tags.example}}
guarantee:
  copper: {{years: 30, basis: completion, register_within_days: 30}}
  carbon_steel: {{years: 10, basis: installation}}
"""
Worker = Callable[..., SectionWorkings]


@pytest.fixture
def worked(tmp_path: Path) -> Worker:
    def run(tubes: str, completion: str = "2026-06-12", installed: str = "", batches: str = "") -> SectionWorkings:
        (tmp_path / "records").mkdir()
        (tmp_path / "project.yml").write_text(SETTINGS.format(completion=completion), encoding="utf-8")
        records = {
            "sections": f"section_id,name,installed_on\nS1,Riser,{installed}\n",
            "tubes": f"section_id,material,od_mm,wall_mm,tube_series,length_m,batch_id\n{tubes}",
            "batches": f"batch_id,item,wall_mm,tube_series\n{batches}B9,tube,,\n",
        }
        for name, text in records.items():
            (tmp_path / "records" / f"{name}.csv").write_text(text, encoding="utf-8")
        return work(read_project(tmp_path)).sections["S1"]

    return run


@pytest.mark.parametrize(
    ("material", "od", "wall", "litres_per_metre"),
    [
        # EN 1057 sizes (published table of sizes); litres from the nominal bore.
        ("copper", "15", "0.7", 0.1453), ("copper", "22", "0.9", 0.3205), ("copper", "54", "1.2", 2.0912),
        ("copper", "108", "1.5", 8.6590),
        # EN 10312 series 2 and series 1 (published table of sizes).
        ("stainless_steel", "15", "1.0", 0.1327), ("stainless_steel", "15", "0.6", 0.1496),
        ("stainless_steel", "54", "1.5", 2.0428), ("stainless_steel", "108", "2.0", 8.4949),
        # EN 10305-3 sizes (from memory).
        ("carbon_steel", "22", "1.5", 0.2835), ("carbon_steel", "76.1", "2.0", 4.0828),
    ],
)  # fmt: skip
def test_a_section_holds_what_the_tables_say(
    worked: Worker, material: str, od: str, wall: str, litres_per_metre: float
) -> None:
    content = worked(f"S1,{material},{od},{wall},,10,\n").content_l
    assert content.value == pytest.approx(10 * litres_per_metre, rel=5e-4)
    assert {i.name for i in content.inputs} == {"outside diameter D", "wall t", "length L"}
    assert all(i.location and i.location.file == "records/tubes.csv" and i.location.row == 2 for i in content.inputs)


@pytest.mark.parametrize(("series", "wall"), [("series_1", 0.6), ("series_2", 1.0)])
def test_a_declared_series_gives_the_wall(worked: Worker, series: str, wall: float) -> None:
    """EN 10312 (published): 15 mm stainless has 0.6 mm wall in series 1 and 1.0 mm in series 2."""
    tube = worked(f"S1,stainless_steel,15,,{series},10,\n").tubes[0]
    assert tube.wall_mm.value == wall
    assert "EN 10312" in tube.wall_mm.inputs[0].basis


def test_a_wall_is_never_assumed_from_the_diameter(worked: Worker) -> None:
    content = worked("S1,stainless_steel,15,,,10,\n").content_l
    assert content.value is None
    assert content.missing == ("the wall, or the series of the tube",)


def test_the_batch_gives_the_wall_where_the_row_does_not(worked: Worker) -> None:
    section = worked("S1,copper,22,,,10,B1\n", batches="B1,tube,0.9,\n")
    assert section.content_l.value == pytest.approx(3.205, rel=5e-4)
    assert section.tubes[0].wall_mm.inputs[0].location is not None
    assert section.tubes[0].wall_mm.inputs[0].location.file == "records/batches.csv"


def test_one_unknown_tube_makes_the_sum_unknown(worked: Worker) -> None:
    section = worked("S1,copper,22,0.9,,10,\nS1,copper,28,0.9,,,\n")
    assert section.content_l.value is None
    assert "the length" in section.content_l.missing
    assert section.length_m.value is None


def test_a_wall_thicker_than_the_radius_gives_no_number(worked: Worker) -> None:
    assert worked("S1,copper,22,11,,10,\n").content_l.value is None


@pytest.mark.parametrize(
    ("completion", "last_day"),
    [("2026-06-12", "2056-06-12"), ("2024-02-29", "2054-02-28"), ("2026-03-31", "2056-03-31")],
)
def test_guarantees_end_by_the_calendar(worked: Worker, completion: str, last_day: str) -> None:
    """Calendar arithmetic: a 29 February becomes the last day of February in a common year (stated convention)."""
    guarantee = worked("S1,copper,22,0.9,,10,\n", completion=completion).guarantees[0]
    assert guarantee.ends_on == datetime.date.fromisoformat(last_day)
    assert guarantee.register_by == datetime.date.fromisoformat(completion) + datetime.timedelta(days=30)


def test_each_material_has_its_own_guarantee_and_the_first_to_end_is_named(worked: Worker) -> None:
    section = worked("S1,copper,22,0.9,,10,\nS1,carbon_steel,22,1.5,,10,\n", installed="2026-03-02")
    assert {g.material: str(g.ends_on) for g in section.guarantees} == {
        "copper": "2056-06-12",
        "carbon_steel": "2036-03-02",
    }
    assert str(section.first_guarantee_end) == "2036-03-02"


def test_without_its_start_a_guarantee_has_no_end_and_there_is_no_first(worked: Worker) -> None:
    section = worked("S1,copper,22,0.9,,10,\nS1,carbon_steel,22,1.5,,10,\n")
    steel = section.guarantees[1]
    assert (steel.ends_on, steel.missing) == (None, ("the date of installation",))
    assert section.first_guarantee_end is None


def test_without_terms_there_is_no_guarantee_date(worked: Worker) -> None:
    (guarantee,) = worked("S1,stainless_steel,22,1.2,,10,\n").guarantees
    assert guarantee.ends_on is None
    assert "terms" in guarantee.missing[0]
