"""What must hold inside the reference tables, whoever edits them."""

import csv
from pathlib import Path

import pytest

from witnessmark.engineering.hoop_stress import rating
from witnessmark.engineering.tube import bore

REFERENCE = Path(__file__).parents[2] / "shared" / "reference"
TABLES = sorted(path.name for path in REFERENCE.glob("*.csv"))
STANDINGS = {"published", "common practice", "from memory"}


def rows(name: str) -> list[dict[str, str]]:
    with (REFERENCE / name).open(encoding="utf-8", newline="") as stream:
        return list(csv.DictReader(stream))


def test_the_tables_the_engineering_needs_are_there() -> None:
    assert {"tubes.csv", "dn.csv", "materials.csv", "supports.csv", "procedures.csv", "gauge_rules.csv"} <= set(TABLES)


@pytest.mark.parametrize("name", ["tubes.csv", "dn.csv", "materials.csv", "supports.csv", "procedures.csv",
                                  "gauge_rules.csv", "seal_media.csv", "service_limits.csv", "guarantee_terms.csv",
                                  "flushing.csv", "leaks.csv", "gas_permissible_drops.csv"])  # fmt: skip
def test_every_row_states_its_source_and_standing(name: str) -> None:
    table = rows(name)
    assert table
    for row in table:
        assert row["source"], row
        assert row["standing"] in STANDINGS, row
        assert None not in row, f"a row of {name} has more cells than the header"
        assert None not in row.values(), f"a row of {name} has fewer cells than the header"
        assert {"edition", "note"} <= row.keys()


def test_bore_and_two_walls_make_the_outside_diameter() -> None:
    for row in rows("tubes.csv"):
        assert bore(float(row["od_mm"]), float(row["wall_mm"])) == pytest.approx(float(row["bore_mm"]), abs=1e-9), row


def test_sizes_rise_within_each_series_and_walls_never_fall() -> None:
    for key in {(row["material"], row["series"]) for row in rows("tubes.csv")}:
        series = [row for row in rows("tubes.csv") if (row["material"], row["series"]) == key]
        sizes = [float(row["od_mm"]) for row in series]
        bores = [float(row["bore_mm"]) for row in series]
        assert sizes == sorted(set(sizes)), key
        assert bores == sorted(set(bores)), key


def test_one_series_gives_one_wall_for_one_outside_diameter() -> None:
    keys = [(row["material"], row["series"], row["od_mm"]) for row in rows("tubes.csv")]
    assert len(keys) == len(set(keys))


def test_15_mm_stainless_has_two_walls() -> None:
    """EN 10312, published: the outside diameter alone is not enough."""
    walls = {
        row["wall_mm"] for row in rows("tubes.csv") if row["material"] == "stainless_steel" and row["od_mm"] == "15"
    }
    assert walls == {"0.6", "1"}


def test_dn_names_one_size_within_a_family_and_two_between_families() -> None:
    table = rows("dn.csv")
    assert len({(row["material_family"], row["dn"]) for row in table}) == len(table)
    assert {row["od_mm"] for row in table if row["dn"] == "20"} == {"22", "26.9"}
    for family in {row["material_family"] for row in table}:
        sizes = [float(row["od_mm"]) for row in table if row["material_family"] == family]
        assert sizes == sorted(set(sizes))


# Public table of working pressures of EN 1057 Table X tube, half hard, 65 °C, [bar]; published. 66.7 mm reads 20.
TABLE_X = [(6, 0.6, 133), (8, 0.6, 97), (10, 0.6, 77), (12, 0.6, 63), (15, 0.7, 58), (18, 0.8, 56), (22, 0.9, 51),
           (28, 0.9, 40), (35, 1.2, 42), (42, 1.2, 35), (54, 1.2, 27), (76.1, 1.5, 24), (108, 1.5, 17),
           (133, 1.5, 14), (159, 2.0, 15)]  # fmt: skip


@pytest.mark.parametrize(("outside", "wall", "published"), TABLE_X)
def test_copper_design_stress_gives_the_published_working_pressure(
    outside: float, wall: float, published: float
) -> None:
    stress = next(
        float(row["value"])
        for row in rows("materials.csv")
        if row["material"] == "copper" and row["property"] == "allowable_stress" and row["at_c"] == "65"
    )
    assert rating(outside, wall, stress) == pytest.approx(published, abs=1.0)


def test_procedures_name_a_basis_for_every_pressed_stage() -> None:
    for row in rows("procedures.csv"):
        if row["stage"] == "visual":
            continue
        assert row["basis"] in {"mop", "mdp", "fixed"}, row
        assert float(row["fixed_bar"] if row["basis"] == "fixed" else row["factor"]) > 0
        assert float(row["hold_min"]) > 0
        assert float(row["allowed_drop_bar"]) >= 0
        if row["basis"] == "fixed" and row["cap_bar"]:
            assert float(row["fixed_bar"]) <= float(row["cap_bar"])


def test_visual_comes_first_and_strength_last_in_each_procedure() -> None:
    order = ["visual", "leak", "strength", "tightness"]
    for name in {row["procedure"] for row in rows("procedures.csv")}:
        stages = [row for row in rows("procedures.csv") if row["procedure"] == name]
        assert [int(row["order"]) for row in stages] == list(range(1, len(stages) + 1))
        ranks = [order.index(row["stage"]) for row in stages]
        assert ranks == sorted(set(ranks)), name


def test_vertical_spacing_is_never_under_horizontal() -> None:
    for row in rows("supports.csv"):
        assert 0 < float(row["horizontal_m"]) <= float(row["vertical_m"]), row


def test_oily_air_and_gas_are_refused_for_epdm() -> None:
    verdicts = {(row["seal"], row["medium"]): row["verdict"] for row in rows("seal_media.csv")}
    assert verdicts["EPDM", "natural_gas"] == "no"
    assert verdicts["EPDM", "compressed_air"] == "oil_free_only"
    assert set(verdicts.values()) <= {"yes", "no", "oil_free_only", "declared_only"}
