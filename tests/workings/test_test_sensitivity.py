"""Could a test have seen one unpressed joint? Clear and right, over the trapped air that nobody knows."""

from collections.abc import Callable

import pytest

from witnessmark.model.finding import Outcome
from witnessmark.model.project import Project
from witnessmark.workings.test_sensitivity import TestSensitivity
from witnessmark.workings.work import work

MakeProject = Callable[..., Project]
METRES_OF_500_L = 500 / 2.0428  # 54 x 1.5 mm holds 2.0428 L/m: EN 10312, published


def sensitivity(project: Project) -> TestSensitivity:
    (found,) = work(project).sensitivities.values()
    return found


def test_500_litres_at_9_bar(make_riser: MakeProject) -> None:
    """Trade figures, computed: 32 mL a bar without air, about 530 with 1 %; 0.1 bar, 60 min: 0.05 and 0.9 mL/min."""
    project = make_riser(
        tubes={"length_m": METRES_OF_500_L},
        tests={"start_pressure_bar": 9.0, "end_pressure_bar": 9.0, "pipe_start_c": 20.0},
    )
    found = sensitivity(project)
    assert found.smallest_leak_vented.value == pytest.approx(0.05, abs=0.005)
    assert found.smallest_leak_with_air.value == pytest.approx(0.9, abs=0.05)
    assert found.outcome is Outcome.PASS


def test_15_minutes_on_a_coarse_gauge_would_miss_one_dripping_joint(make_riser: MakeProject) -> None:
    """Trade figure, computed: 15 min at 0.2 bar with 1 % air: 7 mL/min, more than one drop a second, 3 mL/min."""
    import datetime

    project = make_riser(
        tubes={"length_m": METRES_OF_500_L},
        tests={
            "start_pressure_bar": 9.0,
            "pipe_start_c": 20.0,
            "end_time": datetime.time(10, 15),
            "hold_min": 15.0,
        },
        instruments={"resolution_bar": 0.2},
    )
    found = sensitivity(project)
    assert found.smallest_leak_with_air.value == pytest.approx(7.0, abs=0.2)
    assert found.outcome is Outcome.CANNOT_TELL
    able = {remedy.what: remedy.value for remedy in found.remedies}
    assert able["hold"] == pytest.approx(15 * 7 / 3, rel=0.03)
    assert able["section"] == pytest.approx(500 * 3 / 7, rel=0.03)
    assert able["gauge"] == pytest.approx(0.2 * 3 / 7, rel=0.03)
    assert 0 < able["vent"] < 1


def test_what_is_missing_is_named(make_riser: MakeProject) -> None:
    found = sensitivity(make_riser(instruments={"resolution_bar": None}))
    assert found.outcome is Outcome.CANNOT_TELL
    assert "resolution" in found.sentence
    assert found.remedies == ()
