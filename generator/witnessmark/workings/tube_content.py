"""Wall, bore and water content of the tubes of a section, with the cells they came from."""

from dataclasses import dataclass

from witnessmark.engineering import tube as geometry
from witnessmark.engineering.errors import EngineeringError
from witnessmark.model.project import Project
from witnessmark.model.quantity import Input, Worked
from witnessmark.model.records import Section, TubeLength
from witnessmark.model.source import SourceLocation
from witnessmark.workings.reference import series_wall

BORE_FORMULA = "d = D − 2·t"
CONTENT_FORMULA = "V = π/4 · (D − 2·t)² · L / 1000"
CONTENT_LIMITS = "Nominal sizes; tube alone: fittings, valves and plant are not in it."


@dataclass(frozen=True, slots=True)
class TubeWorking:
    """One tube length with its wall, bore and content."""

    tube: TubeLength
    wall_mm: Worked
    bore_mm: Worked
    content_l: Worked


def _cell_input(tube: TubeLength, field: str, name: str, value: float, unit: str) -> Input:
    return Input(name, f"{value:g} {unit}", tube.source.place(field))


def _wall(project: Project, tube: TubeLength) -> tuple[float | None, Input | None, str]:
    """Wall in mm, the input that gives it, or what is missing."""
    if tube.wall_mm is not None:
        return tube.wall_mm, _cell_input(tube, "wall_mm", "wall t", tube.wall_mm, "mm"), ""
    batch = project.batches.get(tube.batch_id) if tube.batch_id else None
    if batch is not None and batch.wall_mm is not None:
        return batch.wall_mm, Input("wall t", f"{batch.wall_mm:g} mm", batch.source.place("wall_mm")), ""
    series, place = tube.tube_series, tube.source.place("tube_series")
    if series is None and batch is not None and batch.tube_series is not None:
        series, place = batch.tube_series, batch.source.place("tube_series")
    if series is None:
        return None, None, "the wall, or the series of the tube"
    if tube.material is None or tube.od_mm is None:
        return None, None, "the material and size that the series needs to give a wall"
    row = series_wall(tube.material, series, tube.od_mm)
    if row is None:
        return None, None, f"a wall: series {series.replace('_', ' ')} lists none for {tube.od_mm:g} mm"
    return row.wall_mm, Input("wall t", f"{row.wall_mm:g} mm", place, row.citation), ""


def tube_working(project: Project, tube: TubeLength) -> TubeWorking:
    """Work one tube length out; what is not recorded stays unknown and is named."""
    wall, wall_input, wall_missing = _wall(project, tube)
    inputs: list[Input] = []
    missing: list[str] = []
    if tube.od_mm is None:
        missing.append("the outside diameter")
    else:
        inputs.append(_cell_input(tube, "od_mm", "outside diameter D", tube.od_mm, "mm"))
    if wall_input is None:
        missing.append(wall_missing)
    else:
        inputs.append(wall_input)
    bore: float | None = None
    if tube.od_mm is not None and wall is not None:
        try:
            bore = geometry.bore(tube.od_mm, wall)
        except EngineeringError as error:
            missing.append(f"a possible size: {error}")
    length_input = (_cell_input(tube, "length_m", "length L", tube.length_m, "m"),) if tube.length_m is not None else ()
    content: float | None = None
    content_missing = list(missing)
    if tube.length_m is None:
        content_missing.append("the length")
    elif bore is not None and tube.od_mm is not None and wall is not None:
        content = geometry.volume(tube.od_mm, wall, tube.length_m)
    return TubeWorking(
        tube=tube,
        wall_mm=Worked(
            "Wall",
            wall,
            "mm",
            1,
            "as recorded, or by the declared series",
            tuple(inputs[-1:]) if wall else (),
            missing=() if wall is not None else (wall_missing,),
        ),
        bore_mm=Worked(
            "Bore",
            bore,
            "mm",
            1,
            BORE_FORMULA,
            tuple(inputs),
            missing=() if bore is not None else tuple(missing),
            formula_id="bore",
        ),
        content_l=Worked(
            "Water content",
            content,
            "L",
            1,
            CONTENT_FORMULA,
            (*inputs, *length_input),
            limits=CONTENT_LIMITS,
            missing=() if content is not None else tuple(content_missing),
            formula_id="tube-content",
        ),
    )


def summed(name: str, unit: str, places: int, parts: list[Worked], formula: str, what: str) -> Worked:
    """Sum of workings; unknown as soon as one part is, naming how many are missing and what."""
    inputs = tuple(part_input for part in parts for part_input in part.inputs)
    if not parts:
        return Worked(name, None, unit, places, formula, (), missing=(what,))
    unknown = [part for part in parts if part.value is None]
    if unknown:
        reasons = tuple(dict.fromkeys(reason for part in unknown for reason in part.missing))
        return Worked(name, None, unit, places, formula, inputs, missing=reasons, formula_id=parts[0].formula_id)
    return Worked(
        name,
        sum(part.value for part in parts if part.value is not None),
        unit,
        places,
        formula,
        inputs,
        limits=parts[0].limits,
        formula_id=parts[0].formula_id,
    )


def section_length(section: Section, tubes: list[TubeLength]) -> Worked:
    """Length of all tube of a section, m."""
    parts = [
        Worked(
            "Length",
            t.length_m,
            "m",
            1,
            "as recorded",
            (_cell_input(t, "length_m", "length L", t.length_m, "m"),) if t.length_m is not None else (),
            missing=() if t.length_m is not None else (f"the length in {_words(t.source.location)}",),
        )
        for t in tubes
    ]
    return summed(
        "Length of tube",
        "m",
        1,
        parts,
        "sum of the recorded lengths",
        f"a tube length for section {section.section_id}",
    )


def _words(location: SourceLocation) -> str:
    return location.words
