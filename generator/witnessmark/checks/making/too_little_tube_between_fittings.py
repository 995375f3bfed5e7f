"""Two fittings stand too close to each other."""

import csv
from collections import defaultdict
from functools import cache

from witnessmark.checks.joint_groups import finding_of
from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.making.marks import section_subject
from witnessmark.checks.making.pressed_joints import in_id_order, pressed_joints
from witnessmark.model.bundled import shared_path
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Joint
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="too-little-tube-between-fittings",
    question="Is there enough clear tube between neighbouring fittings?",
    severity=Severity.TIDY,
    closes="Have the maker of the fittings agree in writing, and file the letter; or rebuild with a longer piece of tube.",
    whose="the subcontractor who made the joints",
    what="The column 'Tube to the next fitting' against the least clear tube for the size (an editable table, from memory; what the maker declares comes first). Asked only where the log gives a length.",
    why="A press close by pulls at the joint next to it, and the jaw has no room to sit square.",
    example="Joint J014 of section S1 has 6 mm of tube to the next fitting; tube of 22 mm needs at least 10 mm.",
    passes="Joint J014, 22 mm, has 40 mm of clear tube to the next fitting.",
)

_ROUNDING_MM = 0.5
"""Logs write 76 for 76.1."""


@cache
def least_tube_mm(od_mm: float) -> float | None:
    """Least clear tube between two fittings, mm, for an outside diameter, mm; ``None`` where the table has no row."""
    with shared_path("reference/tube_between_fittings.csv").open(encoding="utf-8", newline="") as handle:
        for row in csv.DictReader(handle):
            if float(row["od_from_mm"]) - _ROUNDING_MM <= od_mm <= float(row["od_to_mm"]) + _ROUNDING_MM:
                return float(row["least_mm"])
    return None


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every pressed joint that gives the length of tube."""
    examined = 0
    short: dict[tuple[Subject, float, float], list[Joint]] = defaultdict(list)
    for lot in pressed_joints(project).lots("od_mm"):
        least = least_tube_mm(lot.od_mm) if lot.od_mm is not None else None
        if least is None or lot.od_mm is None:
            continue
        for joint in lot.joints:
            if joint.tube_to_next_mm is None:
                continue
            examined += 1
            if joint.tube_to_next_mm < least:
                short[section_subject(joint), lot.od_mm, least].append(joint)
    return Answer(examined, tuple(_finding(*key, in_id_order([joints])) for key, joints in short.items()))


def _finding(subject: Subject, od_mm: float, least: float, joints: list[Joint]) -> Finding:
    lengths = [joint.tube_to_next_mm for joint in joints if joint.tube_to_next_mm is not None]
    shortest, longest = min(lengths), max(lengths)
    length = f"{shortest:g}" if shortest == longest else f"{shortest:g} to {longest:g}"
    who = f"Joint {joints[0].joint_id}" if len(joints) == 1 else f"{len(joints):,} joints"
    of = f" of section {subject.id}" if subject.kind == "section" else ""
    first = "" if len(joints) == 1 else f", the first of them {joints[0].joint_id},"
    message = (
        f"{who}{of}{first} {'has' if len(joints) == 1 else 'have'} {length} mm of tube to the next fitting; "
        f"tube of {od_mm:g} mm needs at least {least:g} mm."
    )
    return finding_of(RULE, Outcome.FAIL, joints, subject, message, "tube_to_next_mm")


CHECK = Check(RULE, run)
