"""Working aids of a section, against handbook figures and figures of the trade."""

from collections.abc import Callable

import pytest

from witnessmark.model.project import Project
from witnessmark.workings.aids import SectionAids
from witnessmark.workings.work import work

MakeProject = Callable[..., Project]


def aids(project: Project) -> SectionAids:
    return work(project).aids["R1"]


def test_a_riser_of_30_m_drains_in_a_minute_at_least(make_riser: MakeProject) -> None:
    """30 m of 54 x 1.5 mm: 61 L, about 63 s through 13 mm, Cd 0.6 (common practice, computed)."""
    found = aids(make_riser(tubes={"length_m": 30.0}, sections={"elevation_high_m": 30.0}))
    assert found.drain_volume_l.value == pytest.approx(61.3, abs=0.1)
    assert found.drain_time_s.value == pytest.approx(63, abs=1)


def test_flow_flush_and_leak(make_riser: MakeProject) -> None:
    """54 x 1.5 at 1 m/s 2.04 L/s; holes at 3 bar of 1, 3 and 5 mm: 0.7, 6.4 and 18 L/min (common practice, computed);
    flushing at 2 m/s and 20 changes: commentary beside EN 806-4, published."""
    found = aids(make_riser(systems={"max_operating_pressure_bar": 3.0}))
    assert found.sizes[0].flow_at_one_m_s.value == pytest.approx(2.04, abs=0.005)
    assert found.flush_flow_l_s.value == pytest.approx(4.09, abs=0.01)
    assert found.flush_time_min.value == pytest.approx(20 * 81.7 / 4.086 / 60, rel=0.01)
    leaks = {hole: leak.value for hole, leak in found.hole_leaks}
    assert leaks == {
        1.0: pytest.approx(0.7, abs=0.05),
        3.0: pytest.approx(6.4, abs=0.1),
        5.0: pytest.approx(18, abs=0.5),
    }


def test_expansion_takes_the_careful_coefficient(make_riser: MakeProject) -> None:
    """Copper 16.6, 10 to 80 °C, 30 m: 35 mm (common practice, computed)."""
    copper = {"material": "copper", "wall_mm": 1.2, "length_m": 30.0}
    found = aids(make_riser(tubes=copper, systems={"min_temperature_c": 10.0, "max_temperature_c": 80.0}))
    assert found.sizes[0].expansion_mm.value == pytest.approx(34.86, abs=0.01)


def test_supports_come_from_the_table_or_not_at_all(make_riser: MakeProject) -> None:
    """UK practice: 54 mm, 2.7 m and 3.0 m (published); 64 mm has no row."""
    (row,) = aids(make_riser()).supports
    assert (row.horizontal_m.value, row.vertical_m.value) == (2.7, 3.0)
    (none,) = aids(make_riser(tubes={"od_mm": 64.0, "wall_mm": 2.0})).supports
    assert none.horizontal_m.value is None


def test_a_filled_metre_of_54_mm_weighs_four_kilograms(make_riser: MakeProject) -> None:
    """EN 10312 tube, 8000 kg/m³ of EN 10088-1: 1.979 kg/m, and 2.043 L of water (published and computed)."""
    assert aids(make_riser()).sizes[0].filled_mass_kg_m.value == pytest.approx(1.979 + 2.043, abs=0.005)


def test_what_a_gas_cannot_do_is_said(make_riser: MakeProject) -> None:
    found = aids(make_riser(systems={"medium": "compressed_air"}))
    assert found.drain_time_s.value is None
    assert "compressed air" in found.drain_time_s.missing[0]
    assert found.glycol_l.value is None


def test_glycol_needs_its_share(make_riser: MakeProject) -> None:
    glycol = {"medium": "glycol_water"}
    assert "share of glycol" in aids(make_riser(systems=glycol)).glycol_l.missing[0]
    found = aids(make_riser(systems=glycol | {"glycol_percent": 30.0}))
    assert found.glycol_l.value == pytest.approx(0.3 * 81.71, abs=0.01)
