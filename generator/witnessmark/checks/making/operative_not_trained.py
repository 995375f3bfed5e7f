"""An operative was not trained for the family and size that he pressed, on the day he pressed it."""

import datetime
from collections import defaultdict
from collections.abc import Sequence

from witnessmark.checks.joint_groups import finding_of
from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.making.press_days import pressed_on
from witnessmark.checks.making.pressed_joints import pressed_joints
from witnessmark.checks.making.service_book import DATE_WANTED
from witnessmark.checks.making.training_book import Standing, TrainingBook
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Joint
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="operative-not-trained",
    question="Was every operative trained for the family and size of each joint on the day it was pressed?",
    severity=Severity.BREAKS,
    closes="Add the training certificate that covers family, size and day to the training table; else have the joints inspected again and get a letter from the maker of the fittings.",
    whose="the subcontractor who made the joints",
    what="Trainings of the operative against the system family, the size and the press date of the joints; a training counts on its own day and on its last day of validity. One finding tells all joints of one operative in one family. Joints of which operative or family is not known are asked for by other questions.",
    why="Marking, insertion and method differ from family to family, and a guarantee asks for hands trained on this one.",
    example="Operative OP-04 was trained for FAM-K only on 23 October 2025; joint J014 was pressed on 22 October 2025.",
    passes="Operative OP-04 was trained for FAM-K up to 54 mm on 22 October 2025, until 21 October 2028; joint J014, 22 mm, was pressed on 22 October 2025.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every operative in every family that he pressed."""
    pressed = pressed_joints(project)
    book = TrainingBook(project.records.trainings)
    groups: dict[tuple[str, str, float | None, datetime.date | None], list[Joint]] = defaultdict(list)
    examined: set[tuple[str, str]] = set()
    for lot in pressed.lots("operative_id", "family", "od_mm"):
        operative, family = lot.operative_id, lot.family
        if operative is None or family is None:
            continue
        examined.add((operative, family))
        if not book.covers(operative, family, lot.od_mm, lot.told("press_date")):
            for joint in lot.joints:
                groups[operative, family, lot.od_mm, joint.press_date].append(joint)
    told: dict[tuple[str, str, Outcome], dict[Standing, list[Joint]]] = defaultdict(lambda: defaultdict(list))
    for (operative, family, od_mm, day), joints in groups.items():
        standing = book.standing(operative, family, od_mm, day)
        if standing is not None:
            told[operative, family, standing.outcome][standing].extend(joints)
    findings = [_finding(operative, family, outcome, by) for (operative, family, outcome), by in told.items()]
    return Answer(len(examined), tuple(findings))


def _finding(operative: str, family: str, outcome: Outcome, by: dict[Standing, list[Joint]]) -> Finding:
    standings = sorted(by, key=lambda standing: standing.sentence)
    joints = sorted((joint for group in by.values() for joint in group), key=lambda joint: joint.joint_id)
    sentences = [f"{standing.sentence}; {_joints(by[standing], standing)}." for standing in standings]
    places = [standing.place for standing in standings if standing.place is not None]
    undated = not places and all(joint.press_date is None for joint in joints)
    remedy = (
        f"Add the training certificate of operative {operative} for {family}, with size and day, to the training table; else "
        "have the joints inspected again and get a letter from the maker of the fittings."
    )
    if outcome is Outcome.CANNOT_TELL:
        remedy = (
            DATE_WANTED
            if undated
            else f"Write the training of operative {operative} for {family} into the training table, with its day and its "
            "largest size, from the certificate."
        )
    return finding_of(
        RULE,
        outcome,
        joints,
        Subject("operative", operative),
        " ".join(sentences),
        "press_date" if undated else "operative_id",
        remedy=remedy,
        location=places[0] if places else None,
        related=places[1:],
    )


def _joints(joints: Sequence[Joint], standing: Standing) -> str:
    ordered = sorted(joints, key=lambda joint: joint.joint_id)
    if not standing.about_size:
        return pressed_on(ordered)
    sizes = sorted({joint.od_mm for joint in ordered if joint.od_mm is not None})
    return f"{pressed_on(ordered)}, in {' and '.join(f'{size:g}' for size in sizes)} mm"


CHECK = Check(RULE, run)
