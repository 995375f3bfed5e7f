"""The tubes table gives another wall, or another size, than the batch it names."""

from collections import defaultdict

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.materials.batch_use import BatchUse, batch_finding, batches_in_use
from witnessmark.model.finding import Outcome, Rule, Severity
from witnessmark.model.project import Project
from witnessmark.model.records import Batch, TubeLength
from witnessmark.workings.reference import series_wall
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="wall-not-of-its-batch",
    question="Has every tube length the wall and the size of the batch that it names?",
    severity=Severity.WEAKENS,
    closes="Measure the tube or read its marking, and correct the tubes table or the batch register.",
    whose="whoever keeps the records",
    what="Wall and outside diameter of every tube length, as recorded or by its declared series, against those of its "
    "batch. A tube length that gives no wall takes that of its batch and cannot differ.",
    why="Content, rating and insertion all hang on the wall; two records that differ leave all three open.",
    example="The tube of section S1 is recorded with a wall of 0.9 mm; its batch B-03 has 1.2 mm.",
    passes="The tube of section S1 is recorded with a wall of 0.9 mm, as its batch B-03 has.",
)

SAME_MM = 0.005
"""Walls are written to hundredths at the most."""


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every tube length that names a batch."""
    examined = 0
    findings = []
    for use in batches_in_use(project):
        examined += len(use.tubes)
        differing: dict[str, list[TubeLength]] = defaultdict(list)
        for tube in use.tubes:
            if words := _differs(tube, use.batch):
                differing[words].append(tube)
        if differing:
            tubes = tuple(tube for rows in differing.values() for tube in rows)
            said = " ".join(f"{_of(rows)} is recorded with {words}." for words, rows in differing.items())
            found = batch_finding(RULE, Outcome.FAIL, BatchUse(use.batch, (), tubes), said, "wall_mm")
            findings.append(found)
    return Answer(examined, tuple(findings))


def _of(tubes: list[TubeLength]) -> str:
    sections = list(dict.fromkeys(tube.section_id for tube in tubes))
    return f"The tube of section {sections[0]}" + (f" and {len(sections) - 1} more" if len(sections) > 1 else "")


def _differs(tube: TubeLength, batch: Batch) -> str:
    if tube.od_mm is not None and batch.od_mm is not None and abs(tube.od_mm - batch.od_mm) > SAME_MM:
        return f"an outside diameter of {tube.od_mm:g} mm; its batch {batch.batch_id} has {batch.od_mm:g} mm"
    wall = _wall(tube.wall_mm, tube.tube_series, tube.material, tube.od_mm)
    of_batch = _wall(batch.wall_mm, batch.tube_series, batch.material, batch.od_mm)
    if wall is not None and of_batch is not None and abs(wall - of_batch) > SAME_MM:
        return f"a wall of {wall:g} mm; its batch {batch.batch_id} has {of_batch:g} mm"
    return ""


def _wall(wall: float | None, series: str | None, material: str | None, od_mm: float | None) -> float | None:
    if wall is not None or series is None or material is None or od_mm is None:
        return wall
    row = series_wall(material, series, od_mm)
    return row.wall_mm if row is not None else None


CHECK = Check(RULE, run)
