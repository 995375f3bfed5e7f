"""The size, material or system family of a joint is not known."""

from collections import defaultdict

from witnessmark.checks.joint_groups import finding_of, named
from witnessmark.checks.judgement import Answer, Check
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Joint
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="joint-size-unknown",
    question="Are size and tube material of every joint known?",
    severity=Severity.BREAKS,
    closes="Write the outside diameter and the tube material in the joint's row, from the drawing or the batch.",
    whose="the subcontractor who made the joints",
    what="Joints that are made and whose outside diameter or tube material is not recorded or could not be read.",
    why="Jaw, number of presses, tool and guarantee all depend on them.",
    example="Joint J088 of section LTHW-F-R2 has no readable outside diameter (the log says 'DN20') and no tube material.",
    passes="Joint J088: outside diameter 22 mm, copper tube.",
)

_FIELDS = (("od_mm", "outside diameter"), ("material_tube", "tube material"))


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every joint that is not void or planned, and answer once for the joints of a section that lack the same."""
    examined = 0
    groups: dict[tuple[str, tuple[tuple[str, str], ...], str, bool], list[Joint]] = defaultdict(list)
    for joint in project.records.joints:
        if joint.status in ("void", "planned"):
            continue
        examined += 1
        if joint.od_mm is not None and joint.material_tube is not None:
            continue
        missing = tuple(pair for pair in _FIELDS if getattr(joint, pair[0]) is None)
        cell = joint.source.cell(missing[0][0])
        written = cell.raw.strip() if cell else ""
        groups[joint.section_id or "", missing, written, joint.recorded_as_end].append(joint)
    return Answer(examined, tuple(_finding(*group, joints) for group, joints in groups.items()))


def _finding(
    section_id: str, missing: tuple[tuple[str, str], ...], written: str, as_end: bool, joints: list[Joint]
) -> Finding:
    joints = sorted(joints, key=lambda joint: joint.joint_id)
    first = joints[0]
    said = ""
    if written and as_end:
        said = f" (the log says '{written}')"
    elif written:
        kind = (first.fitting_kind or "fitting").replace("_", " ")
        said = f" (the row counts a whole {kind} and gives one size, '{written}')"
    of = f" of section {section_id}" if section_id else ""
    rest = "".join(f" and no {words}" for _, words in missing[1:])
    has = "has" if len(joints) == 1 else "have"
    return finding_of(
        RULE,
        Outcome.CANNOT_TELL,
        joints,
        Subject("section", section_id) if section_id else Subject("joint", first.joint_id),
        f"{named(joints)}{of} {has} no readable {missing[0][1]}{said}{rest}.",
        missing[0][0],
        related=[first.source.place(name) for name, _ in missing[1:]],
    )


CHECK = Check(RULE, run)
