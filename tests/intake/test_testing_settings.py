"""What project.yml says of pressure tests is read as written, and a broken part is named."""

from collections.abc import Callable
from pathlib import Path

import pytest

from witnessmark.intake.errors import UnusableProject
from witnessmark.intake.project_reader import read_project

MakeProject = Callable[..., Path]
OWN = """\
testing: {heating_flow: mine, natural_gas: gas_up1b}
procedures:
  mine:
    title: Mine
    source: Specification
    edition: C02
    stages:
      - {stage: strength, medium: water, basis: mop, factor: 1.5, hold_min: 60, allowed_drop_bar: 0}
tube_stress: {copper: {stress_mpa: 30, up_to_c: 110, source: Letter}}
loggers: [{file: PT-1.csv, date_order: dmy, no_reading: [-999.9]}]
"""


def test_procedures_stresses_and_loggers_are_read(make_project: MakeProject) -> None:
    settings = read_project(make_project({}, OWN)).settings
    stage = settings.procedures["mine"].stages[0]
    assert (stage.factor, stage.hold_min, stage.allowed_drop_bar, stage.settle_min) == (1.5, 60.0, 0.0, None)
    assert settings.testing == {"heating_flow": "mine", "natural_gas": "gas_up1b"}
    assert settings.tube_stress["copper"].stress_mpa == 30.0
    assert settings.loggers["PT-1.csv"].no_reading == (-999.9,)


@pytest.mark.parametrize(
    ("yml", "words"),
    [
        (OWN.replace("heating_flow: mine", "heating_flow: mien"), "did you mean 'mine'?"),
        (OWN.replace("factor: 1.5, ", ""), "has the basis 'mop' and no 'factor'"),
        (OWN.replace("basis: mop", "basis: moop"), "'moop'"),
        (OWN.replace("stress_mpa: 30", "stress_mpa: 0"), "tube_stress.copper.stress_mpa"),
    ],
)
def test_a_broken_part_is_named(make_project: MakeProject, yml: str, words: str) -> None:
    with pytest.raises(UnusableProject) as caught:
        read_project(make_project({}, yml))
    assert words in str(caught.value)


def test_the_points_of_a_rating_are_read(make_project: MakeProject) -> None:
    rows = "rating_id,component,applies_to,temperature_c,pressure_bar\nR,fitting,FAM-C,-20,16\nR,fitting,FAM-C,110,10\n"
    project = read_project(make_project({"ratings.csv": rows}))
    assert [(r.temperature_c, r.pressure_bar) for r in project.records.ratings] == [(-20.0, 16.0), (110.0, 10.0)]
