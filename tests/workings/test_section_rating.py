"""What a section may carry: the weakest component at each temperature, never one that nobody declared."""

from collections.abc import Callable

import pytest
from CoolProp.CoolProp import PropsSI

from witnessmark.model.finding import Outcome
from witnessmark.model.project import Project
from witnessmark.model.settings import TubeStress
from witnessmark.workings.section_rating import SectionRating
from witnessmark.workings.work import work

MakeProject = Callable[..., Project]


def rating(project: Project) -> SectionRating:
    return work(project).ratings["R1"]


def test_the_weakest_component_governs(make_riser: MakeProject) -> None:
    found = rating(make_riser(ratings={"valve": 10.0}))
    assert found.operating.rating_bar.value == 10.0
    assert found.operating.governs == "valve V-1, 54 mm"
    assert found.operating.margin_percent.value == pytest.approx(40.0)
    assert found.outcome is Outcome.PASS


def test_a_component_without_a_declared_rating_leaves_the_section_unknown(make_riser: MakeProject) -> None:
    found = rating(make_riser(ratings={"valve": None}))
    assert found.operating.rating_bar.value is None
    assert found.outcome is Outcome.CANNOT_TELL
    assert "a declared rating of valve V-1, 54 mm" in found.missing
    assert not found.complete


def test_a_component_that_is_too_weak_fails_even_where_another_is_unknown(make_riser: MakeProject) -> None:
    found = rating(make_riser(ratings={"valve": None, "fitting": 4.0}))
    assert found.operating.outcome is Outcome.FAIL


def test_outside_its_table_a_component_is_not_rated(make_riser: MakeProject) -> None:
    found = rating(make_riser(systems={"upset_temperature_c": 120.0}))
    assert found.upset.outcome is Outcome.FAIL
    assert "not rated" in found.upset.sentence


def test_tube_is_rated_by_hoop_stress_with_the_stress_that_the_project_declares(make_riser: MakeProject) -> None:
    """Public table of working pressures, EN 1057 Table X, half hard, 65 °C: 22 x 0.9 mm carries 51 bar (published)."""
    changes = {"tubes": {"material": "copper", "od_mm": 22.0, "wall_mm": 0.9}, "nodes": {"od_mm": 22.0}}
    by_table = rating(make_riser(**changes)).components[0]
    assert round(by_table.at(65.0) or 0) == 51
    declared = make_riser(settings={"tube_stress": {"copper": TubeStress(30.0, 90.0, "Letter")}}, **changes)
    own = rating(declared).components[0]
    assert own.at(65.0) == pytest.approx((by_table.at(65.0) or 0) / 2)
    assert own.at(95.0) is None
    assert "Letter" in own.basis


def test_the_top_of_a_riser_has_less_pressure_than_its_foot(make_riser: MakeProject) -> None:
    """10.2 m of water weigh one bar (common practice, no published source); density by CoolProp."""
    found = rating(make_riser())
    head = PropsSI("D", "T", 278.15, "P", 7e5, "Water") * 9.80665 * 40 / 1e5
    assert found.static_head_bar.value == pytest.approx(head, rel=1e-3)
    assert found.high_point_bar.value == pytest.approx(6.0 - head, abs=0.01)


def test_without_heights_the_head_is_unknown_and_named(make_riser: MakeProject) -> None:
    found = rating(make_riser(sections={"elevation_high_m": None}))
    assert found.static_head_bar.value is None
    assert "elevation of the highest point" in found.static_head_bar.missing[0]


def test_hot_water_needs_pressure_to_stay_liquid(make_riser: MakeProject) -> None:
    """110 °C needs 0.42 bar gauge (CoolProp, IAPWS-95)."""
    found = rating(make_riser(systems={"upset_temperature_c": 110.0}))
    assert found.boiling_bar.value == pytest.approx(
        PropsSI("P", "T", 383.15, "Q", 0, "Water") / 1e5 - 1.01325, abs=2e-3
    )


@pytest.mark.parametrize(
    ("seal", "medium", "outcome"),
    [
        ("EPDM", "drinking_water", Outcome.PASS),
        ("EPDM", "natural_gas", Outcome.FAIL),
        ("EPDM", "compressed_air", Outcome.CANNOT_TELL),
        ("FKM", "water", Outcome.CANNOT_TELL),
        ("XYZ", "water", Outcome.CANNOT_TELL),
    ],
)
def test_a_seal_must_suit_its_medium(make_riser: MakeProject, seal: str, medium: str, outcome: Outcome) -> None:
    found = rating(make_riser(systems={"medium": medium}, sections={"seal": seal}))
    assert [answer.outcome for answer in found.seals] == [outcome]


def test_a_seal_must_suit_its_temperature(make_riser: MakeProject) -> None:
    found = rating(make_riser(systems={"upset_temperature_c": 130.0}))
    assert found.seals[0].outcome is Outcome.FAIL
    assert "130 °C" in found.seals[0].sentence


@pytest.mark.parametrize("value", [float("nan"), 1e308, -300.0])
def test_an_impossible_figure_gives_a_sentence_and_no_number(make_riser: MakeProject, value: float) -> None:
    found = rating(make_riser(tubes={"wall_mm": value}))
    assert found.components[0].missing
    assert found.outcome is Outcome.CANNOT_TELL
