"""How a press joint is made, by size and material. Common practice, no published source, for every figure here."""

import csv

import pytest

from witnessmark.model.bundled import shared_path
from witnessmark.model.joint_method import joint_method, joint_methods

MATERIALS = ("copper", "stainless_steel", "carbon_steel")


@pytest.mark.parametrize("od_mm", [12.0, 15.0, 18.0, 22.0, 28.0, 35.0])
@pytest.mark.parametrize("material", MATERIALS)
def test_up_to_35_mm_a_two_piece_jaw_presses_once_without_lubricant(od_mm: float, material: str) -> None:
    method = joint_method(od_mm, material)
    assert method is not None
    assert "jaw" in method.equipment
    assert (method.presses, method.second_adapter, method.lubricated, method.sling_left_on) == (1, False, False, False)


@pytest.mark.parametrize("od_mm", [42.0, 54.0, 66.7, 67.0, 76.0, 76.1, 88.9, 89.0])
@pytest.mark.parametrize("material", MATERIALS)
def test_from_42_mm_a_lubricated_sling_presses_once_and_is_wiped(od_mm: float, material: str) -> None:
    method = joint_method(od_mm, material)
    assert method is not None
    assert method.equipment == {"sling"}
    assert (method.presses, method.lubricated, method.excess_wiped, method.second_adapter) == (1, True, True, False)


@pytest.mark.parametrize("material", [*MATERIALS, None])
def test_108_mm_is_pressed_twice_with_the_second_adapter_and_the_sling_left_on(material: str | None) -> None:
    method = joint_method(108.0, material)
    assert method is not None
    assert method.equipment == {"sling"}
    assert (method.presses, method.second_adapter, method.sling_left_on) == (2, True, True)
    assert (method.lubricated, method.excess_wiped) == (True, True)


def test_at_108_mm_copper_and_steel_need_slings_of_their_own() -> None:
    groups = {material: joint_method(108.0, material).jaw_group for material in MATERIALS}  # type: ignore[union-attr]
    assert groups["copper"] != groups["stainless_steel"] == groups["carbon_steel"]
    assert {joint_method(54.0, material).jaw_group for material in MATERIALS} == {""}  # type: ignore[union-attr]


@pytest.mark.parametrize("od_mm", [15.0, 35.0, 54.0, 108.0])
def test_only_carbon_steel_has_a_coating_to_be_stripped(od_mm: float) -> None:
    stripped = {material for material in MATERIALS if joint_method(od_mm, material).coating_stripped}  # type: ignore[union-attr]
    assert stripped == {"carbon_steel"}


@pytest.mark.parametrize("od_mm", [None, 0.0, 5.0, 38.0, 110.0, 133.0])
def test_a_size_of_which_the_table_says_nothing_has_no_method(od_mm: float | None) -> None:
    assert joint_method(od_mm, "copper") is None


def test_a_joint_of_unknown_material_is_held_to_what_all_materials_need() -> None:
    method = joint_method(54.0, None)
    assert method is not None
    assert (method.material, method.coating_stripped, method.jaw_group) == ("", False, "")


def test_no_two_rows_speak_of_one_size_of_one_material() -> None:
    rows = joint_methods()
    for at, row in enumerate(rows):
        assert row.od_from_mm <= row.od_to_mm
        assert row.equipment <= {"jaw", "sling"}
        for other in rows[at + 1 :]:
            apart = row.od_to_mm < other.od_from_mm or other.od_to_mm < row.od_from_mm
            assert apart or row.material != other.material


@pytest.mark.parametrize("table", ["joint_method", "tube_between_fittings", "pressed_again_words", "coating_words"])
def test_every_row_says_on_what_it_stands(table: str) -> None:
    with shared_path(f"reference/{table}.csv").open(encoding="utf-8", newline="") as handle:
        rows = list(csv.DictReader(handle))
    assert rows
    assert all(row["source"] and row["standing"] in {"common practice", "from memory"} for row in rows)


def test_yes_and_no_are_the_only_words_of_the_method_table() -> None:
    steps = ("second_adapter", "lubricated", "excess_wiped", "sling_left_on", "coating_stripped")
    with shared_path("reference/joint_method.csv").open(encoding="utf-8", newline="") as handle:
        assert {row[step] for row in csv.DictReader(handle) for step in steps} == {"yes", "no"}
