"""Everything is worked out once, for every section and test, and says the same every time."""

import dataclasses
import datetime
from collections.abc import Callable
from typing import Any

from witnessmark.model.project import Project, Records
from witnessmark.workings.formulas import BY_ID
from witnessmark.workings.work import work

MakeProject = Callable[..., Project]
SIZES = ((15.0, 1.0), (22.0, 1.2), (28.0, 1.2), (35.0, 1.5), (42.0, 1.5), (54.0, 1.5), (76.1, 2.0), (108.0, 2.0))


def large(project: Project, record: Any, sections: int, tests: int) -> Project:
    """A project of so many sections and test stages, of all sizes and lengths, made from one riser."""
    base = project.records
    rows = [
        dataclasses.replace(
            base.sections[0], section_id=f"S{n}", elevation_low_m=float(n % 30), elevation_high_m=n % 30 + 2.5,
            source=record("sections", section_id=f"S{n}").source,
        )
        for n in range(sections)
    ]  # fmt: skip
    tubes = [
        dataclasses.replace(
            base.tubes[0], section_id=f"S{n}", od_mm=od, wall_mm=wall, length_m=3.0 + n % 97,
            source=record("tubes", section_id=f"S{n}").source,
        )
        for n in range(sections)
        for od, wall in (SIZES[n % 8], SIZES[(n + 3) % 8])
    ]  # fmt: skip
    stages = [
        dataclasses.replace(
            base.tests[0],
            test_id=f"PT-{n}",
            section_ids=(f"S{2 * n % sections}", f"S{(2 * n + 1) % sections}"),
            start_pressure_bar=12.0 + n % 7 * 0.1,
            end_pressure_bar=12.0 + n % 7 * 0.1,
            date=datetime.date(2026, 1, 6) + datetime.timedelta(days=n % 100),
            pipe_start_c=8.0 + n % 40 / 2,
            pipe_end_c=8.1 + n % 40 / 2,
            source=record("tests", test_id=f"PT-{n}").source,
        )
        for n in range(tests)
    ]
    fields = {f.name: getattr(base, f.name) for f in dataclasses.fields(base)}
    fields |= {"sections": tuple(rows), "tubes": tuple(tubes), "tests": tuple(stages)}
    return dataclasses.replace(project, records=Records(**fields))


def test_every_section_and_every_test_of_a_large_project_is_worked_out(make_riser: MakeProject, record: Any) -> None:
    workings = work(large(make_riser(), record, 1_000, 400))
    assert len(workings.ratings) == len(workings.aids) == 1_000
    assert len(workings.verdicts) == len(workings.sensitivities) == 400
    assert all(rating.operating.rating_bar.value is not None for rating in workings.ratings.values())
    assert all(sensitivity.smallest_leak_with_air.value is not None for sensitivity in workings.sensitivities.values())


def test_the_same_records_give_the_same_workings(make_riser: MakeProject) -> None:
    project = make_riser()
    one, two = work(project), work(project)
    assert (one.ratings, dict(one.aids), one.verdicts, one.sensitivities) == (
        two.ratings,
        dict(two.aids),
        two.verdicts,
        two.sensitivities,
    )


def _worked(thing: Any) -> list[Any]:
    from witnessmark.model.quantity import Worked

    if isinstance(thing, Worked):
        return [thing]
    if dataclasses.is_dataclass(thing) and not isinstance(thing, type):
        return [found for f in dataclasses.fields(thing) for found in _worked(getattr(thing, f.name))]
    if isinstance(thing, (tuple, list)):
        return [found for each in thing for found in _worked(each)]
    if isinstance(thing, dict):
        return [found for each in thing.values() for found in _worked(each)]
    return []


def test_every_worked_figure_leads_to_its_formula_and_to_where_its_inputs_stand(make_riser: MakeProject) -> None:
    workings = work(make_riser())
    found = _worked([workings.ratings, workings.verdicts, workings.sensitivities, dict(workings.aids)])
    assert len(found) > 40
    for worked in found:
        if worked.formula not in ("as recorded", "as recorded, or by the declared series"):
            assert worked.formula_id in BY_ID, worked.name
        for given in worked.inputs:
            assert given.location is not None or given.basis, (worked.name, given.name)
