"""The verdict on a test stage: what this system needed, and what the record shows."""

import datetime
from collections.abc import Callable

import pytest

from witnessmark.model.finding import Outcome
from witnessmark.model.project import Project
from witnessmark.workings.test_verdict import StageVerdict
from witnessmark.workings.work import work

MakeProject = Callable[..., Project]


def verdict(project: Project) -> StageVerdict:
    (found,) = work(project).verdicts.values()
    return found


def answer(project: Project, key: str) -> tuple[Outcome, str]:
    point = verdict(project).answer(key)
    assert point is not None
    return point.outcome, point.sentence


def test_a_sound_test_passes_every_question(make_riser: MakeProject) -> None:
    found = verdict(make_riser())
    assert [point for point in found.points if point.outcome is not Outcome.PASS] == []
    assert found.outcome is Outcome.PASS


def test_a_riser_of_40_m_tested_at_its_base_to_9_bar_saw_5_1_bar_at_the_top(make_riser: MakeProject) -> None:
    """40 m of water are 3.9 bar (common practice, no published source: 10.2 m a bar)."""
    project = make_riser(tests={"start_pressure_bar": 9.0, "end_pressure_bar": 9.0}, ratings={"valve": 10.0})
    found = verdict(project)
    assert found.highest_point_bar.value == pytest.approx(5.1, abs=0.05)
    assert answer(project, "pressure_reached")[0] is Outcome.FAIL
    assert answer(project, "within_rating")[0] is Outcome.PASS


def test_a_riser_tested_high_enough_for_its_top_is_above_pn_10_at_its_foot(make_riser: MakeProject) -> None:
    outcome, sentence = answer(make_riser(ratings={"valve": 10.0}), "within_rating")
    assert outcome is Outcome.FAIL
    assert "valve V-1" in sentence


def test_the_requirement_is_figured_from_this_system(make_riser: MakeProject) -> None:
    """Published example: 5 bar operating, 1.5 times, 7.5 bar (Water Fittings Regulations)."""
    project = make_riser(systems={"max_operating_pressure_bar": 5.0}, tests={"required_pressure_bar": 6.0})
    assert verdict(project).required_bar.value == 7.5
    assert answer(project, "required_pressure")[0] is Outcome.FAIL


@pytest.mark.parametrize(
    ("changes", "key", "outcome"),
    [
        ({"end_pressure_bar": None}, "readings", Outcome.FAIL),
        ({"end_time": None}, "readings", Outcome.CANNOT_TELL),
        ({"end_time": datetime.time(10, 20)}, "hold", Outcome.FAIL),
        ({"end_time": datetime.time(12)}, "hold", Outcome.CANNOT_TELL),
        ({"settle_min": 10.0}, "settle", Outcome.FAIL),
        ({"settle_min": None}, "settle", Outcome.CANNOT_TELL),
        ({"topped_up": True}, "topped_up", Outcome.FAIL),
        ({"topped_up": None}, "topped_up", Outcome.CANNOT_TELL),
        ({"end_pressure_bar": 12.5}, "drop", Outcome.FAIL),
        ({"end_pressure_bar": 12.9}, "drop", Outcome.CANNOT_TELL),
        ({"pipe_start_c": None}, "drop", Outcome.CANNOT_TELL),
        ({"pipe_end_c": 18.0}, "stuck", Outcome.FAIL),
        ({"start_pressure_bar": 190.0}, "unit", Outcome.FAIL),
        ({"gauge_elevation_m": None}, "pressure_reached", Outcome.CANNOT_TELL),
        ({"medium": None}, "medium", Outcome.CANNOT_TELL),
        ({"medium": "air"}, "medium", Outcome.FAIL),
        ({"procedure": "as usual"}, "procedure", Outcome.CANNOT_TELL),
        ({"procedure": "heating_1.3"}, "procedure", Outcome.FAIL),
        ({"instrument_id": "G-9"}, "calibration", Outcome.CANNOT_TELL),
        ({"date": datetime.date(2025, 12, 1)}, "calibration", Outcome.FAIL),
        ({"result": "fail"}, "result", Outcome.FAIL),
        ({"section_ids": ("R9",)}, "pressure_reached", Outcome.CANNOT_TELL),
        ({"start_pressure_bar": float("nan")}, "pressure_reached", Outcome.CANNOT_TELL),
        ({"start_pressure_bar": 1e308}, "pressure_reached", Outcome.CANNOT_TELL),
    ],
)
def test_each_question_has_its_fault(
    make_riser: MakeProject, changes: dict[str, object], key: str, outcome: Outcome
) -> None:
    project = make_riser(tests=changes)
    assert answer(project, key)[0] is outcome
    assert verdict(project).outcome is not Outcome.PASS


def test_a_hold_past_midnight_is_counted(make_riser: MakeProject) -> None:
    project = make_riser(tests={"start_time": datetime.time(23, 30), "end_time": datetime.time(0, 30)})
    assert answer(project, "hold")[0] is Outcome.PASS


def test_a_hold_over_the_night_of_the_clock_change_is_counted_in_true_minutes(make_riser: MakeProject) -> None:
    """29 March 2026, United Kingdom: the clock goes from 01:00 to 02:00 (public calendar)."""
    night = {"date": datetime.date(2026, 3, 28), "start_time": datetime.time(23), "end_time": datetime.time(2, 30)}
    found = verdict(make_riser(tests=night))
    assert found.hold_min.value == 150.0


def test_psi_typed_as_bar_is_asked_about(make_riser: MakeProject) -> None:
    _, sentence = answer(make_riser(tests={"start_pressure_bar": 190.0}), "unit")
    assert "psi" in sentence
    assert sentence.endswith("?")


def test_without_a_procedure_nothing_passes(make_riser: MakeProject) -> None:
    found = verdict(make_riser(settings={"testing": {}}, tests={"procedure": None}))
    assert found.outcome is Outcome.CANNOT_TELL
    assert not found.rated


@pytest.mark.parametrize(("end", "outcome"), [(0.146, Outcome.PASS), (0.140, Outcome.FAIL)])
def test_a_gas_is_judged_after_temperature_and_barometer(make_riser: MakeProject, end: float, outcome: Outcome) -> None:
    """Facts of the gas law: 150 mbar falls to 146.03 mbar from 20 to 19 °C at 1013.25 mbar (computed)."""
    air = {
        "stage": "leak", "procedure": "dry", "medium": "air", "required_pressure_bar": 0.15,
        "start_pressure_bar": 0.150, "end_pressure_bar": end, "pipe_start_c": 20.0, "pipe_end_c": 19.0,
        "barometer_start_mbar": 1013.25, "barometer_end_mbar": 1013.25, "settle_min": 0.0, "hold_min": 60.0,
    }  # fmt: skip
    gauge = {"range_max_bar": 0.3, "resolution_bar": 0.001}
    project = make_riser(settings={"testing": {"boosted_cold_water": "dry"}}, tests=air, instruments=gauge)
    assert answer(project, "drop")[0] is outcome
    found = verdict(project)
    assert found.cautions
    assert found.stored_energy_kj is not None
    unread = make_riser(
        settings={"testing": {"boosted_cold_water": "dry"}},
        tests=air | {"barometer_end_mbar": None},
        instruments=gauge,
    )
    assert answer(unread, "drop")[0] is Outcome.CANNOT_TELL


def test_the_energy_of_a_pneumatic_test_is_that_of_the_standard(make_riser: MakeProject) -> None:
    """ASME PCC-2, published formula: 3 bar in 100 L store 32.67 kJ; 54 x 1.5 mm holds 100 L in 48.95 m (EN 10312)."""
    project = make_riser(tubes={"length_m": 48.9529}, tests={"medium": "nitrogen", "start_pressure_bar": 3.0})
    energy = verdict(project).stored_energy_kj
    assert energy is not None
    assert energy.value == pytest.approx(32.67, rel=1e-3)


@pytest.mark.parametrize(
    ("gauge", "key", "outcome"),
    [
        ({"range_max_bar": 40.0, "resolution_bar": 0.5}, "gauge_fine", Outcome.FAIL),
        ({"range_max_bar": 60.0}, "gauge_range", Outcome.FAIL),
        ({"resolution_bar": None}, "gauge_fine", Outcome.CANNOT_TELL),
        ({"serial": "GA-2"}, "calibration", Outcome.FAIL),
    ],
)
def test_the_gauge_must_be_fit(make_riser: MakeProject, gauge: dict[str, object], key: str, outcome: Outcome) -> None:
    assert answer(make_riser(instruments=gauge), key)[0] is outcome
