"""Tube is recorded with another wall, or another size, than the batch it names."""

from collections import defaultdict

from witnessmark.checks.joint_groups import named
from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.materials.batch_use import BatchUse, batch_finding, batch_gaps, batches_in_use, unread
from witnessmark.checks.materials.section_service import words_of
from witnessmark.model.finding import Outcome, Rule, Severity
from witnessmark.model.project import Project
from witnessmark.model.records import Batch, TubeLength
from witnessmark.workings.reference import series_wall
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="tube-not-of-its-batch",
    question="Has all tube the wall and the size of the batch that it names?",
    severity=Severity.WEAKENS,
    closes="Measure the tube or read its marking, and correct the tubes table, the joint log or the batch register.",
    whose="whoever keeps the records",
    what="Wall and outside diameter of every tube length, as recorded or by its declared series, against those of its "
    "batch; and the size of every joint against that of its tube batch. A tube length that gives no wall takes that of its batch and cannot differ.",
    why="Content, rating and insertion all hang on the wall; two records that differ leave all three open.",
    example="The tube of section S1 is recorded with a wall of 0.9 mm; its batch B-03 has 1.2 mm.",
    passes="The tube of section S1 is recorded with a wall of 0.9 mm, as its batch B-03 has.",
)

SAME_MM = 0.005
"""Walls are written to hundredths at the most."""


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every batch of tube in use."""
    examined = 0
    findings = []
    no_wall = []
    for use in batches_in_use(project):
        batch = use.batch
        if batch.item not in ("tube", None) and not use.tubes:
            continue
        examined += 1
        if _wall_of(batch) is None and any(_wall_of(tube) is not None for tube in use.tubes):
            no_wall.append(use)
        differing: dict[str, list[TubeLength]] = defaultdict(list)
        for tube in use.tubes:
            if words := _differs(tube, batch):
                differing[words].append(tube)
        other = [
            joint
            for joint in use.joints
            if joint.od_mm != batch.od_mm and joint.tube_batch_id == batch.batch_id and _apart(joint.od_mm, batch.od_mm)
        ]
        if differing or other:
            tubes = tuple(tube for rows in differing.values() for tube in rows)
            said = [f"{_of(rows)} is recorded with {words}." for words, rows in sorted(differing.items())]
            if other:
                sizes = ", ".join(f"{size:g}" for size in sorted({joint.od_mm or 0.0 for joint in other}))
                who = named(other)
                said.append(
                    f"{who} {'is' if len(other) == 1 else 'are'} recorded on {sizes} mm tube; "
                    f"tube batch {batch.batch_id} is of {batch.od_mm:g} mm."
                )
            found = BatchUse(batch, other, tubes)
            findings.append(batch_finding(RULE, Outcome.FAIL, found, " ".join(said), "wall_mm" if tubes else "od_mm"))
    gaps = batch_gaps(RULE, project, no_wall, "wall_mm", "the wall of its tube")
    return Answer(examined - unread(no_wall, "wall_mm"), (*findings, *gaps))


def _of(tubes: list[TubeLength]) -> str:
    return f"The tube of {words_of(tube.section_id for tube in tubes if tube.section_id is not None)}"


def _apart(one: float | None, other: float | None) -> bool:
    return one is not None and other is not None and abs(one - other) > SAME_MM


def _differs(tube: TubeLength, batch: Batch) -> str:
    if _apart(tube.od_mm, batch.od_mm):
        return f"an outside diameter of {tube.od_mm:g} mm; its batch {batch.batch_id} has {batch.od_mm:g} mm"
    wall, of_batch = _wall_of(tube), _wall_of(batch)
    if _apart(wall, of_batch):
        return f"a wall of {wall:g} mm; its batch {batch.batch_id} has {of_batch:g} mm"
    return ""


def _wall_of(record: TubeLength | Batch) -> float | None:
    if record.wall_mm is not None or None in (record.tube_series, record.material, record.od_mm):
        return record.wall_mm
    row = series_wall(record.material or "", record.tube_series or "", record.od_mm or 0.0)
    return row.wall_mm if row is not None else None


CHECK = Check(RULE, run)
