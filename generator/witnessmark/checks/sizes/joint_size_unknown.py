"""The size, material or system family of a joint is not known."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="joint-size-unknown",
    question="Are size and tube material of every joint known?",
    severity=Severity.BREAKS,
    closes="Write the outside diameter and the tube material in the joint's row, from the drawing or the batch.",
    whose="the subcontractor who made the joint",
    what="Joints that are made and whose outside diameter or tube material is not recorded or could not be read.",
    why="Jaw, number of presses, tool and guarantee all depend on them.",
    example="Joint J088, size 'DN20', material empty: 22 mm in press tube, 26.9 mm in threaded steel.",
)

_NEEDED = (("od_mm", "outside diameter"), ("material_tube", "tube material"))


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every joint that is not void or planned."""
    examined, findings = 0, []
    for joint in project.records.joints:
        if joint.status in ("void", "planned"):
            continue
        examined += 1
        missing = [(name, words) for name, words in _NEEDED if getattr(joint, name) is None]
        if not missing:
            continue
        cell = joint.source.cell(missing[0][0])
        written = f", which the log gives as '{cell.raw}'" if cell and cell.raw.strip() else ""
        if written and not joint.recorded_as_end:
            written = f": its row counts a whole {(joint.fitting_kind or 'fitting').replace('_', ' ')} and gives one size, '{cell.raw if cell else ''}'"
        findings.append(
            Finding(
                RULE,
                Outcome.CANNOT_TELL,
                f"Joint {joint.joint_id} has no readable {' and no '.join(words for _, words in missing)}{written}.",
                RULE.closes,
                Subject("joint", joint.joint_id),
                joint.source.place(missing[0][0]),
                tuple(joint.source.place(name) for name, _ in missing[1:]),
                RULE.whose,
                (joint.section_id,) if joint.section_id else (),
            )
        )
    return Answer(examined, tuple(findings))


CHECK = Check(RULE, run)
