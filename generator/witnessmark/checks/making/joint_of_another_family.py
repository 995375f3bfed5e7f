"""A joint is of another system family than its section."""

from collections import defaultdict

from witnessmark.checks.joint_groups import finding_of, named
from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.making.pressed_joints import in_id_order, pressed_joints
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Joint
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="joint-of-another-family",
    question="Is every joint of the system family that its section is recorded with?",
    severity=Severity.BREAKS,
    closes="Correct the family of the joint or of the section; where two families were mixed, record the written consent of the maker as a concession, or cut the joints out and make them anew under new ids.",
    whose="the subcontractor who made the joints",
    what="The system family in the joint's row against that of its section. A joint whose family stands in no row is asked for by another question.",
    why="Tube, fitting, seal and jaw are approved together; a guarantee covers parts of one family.",
    example="Joint J014 is of family FAM-K; section S1 is recorded with FAM-C.",
    passes="Joint J014 and section S1 are both recorded with FAM-C.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every pressed joint of which row and section give a family."""
    pressed = pressed_joints(project)
    examined = 0
    wrong: dict[tuple[str, str], list[Joint]] = defaultdict(list)
    for lot in pressed.lots("system_family", "section_family"):
        if lot.system_family is None or lot.section_family is None:
            continue
        examined += len(lot.joints)
        if lot.system_family != lot.section_family:
            for joint in lot.joints:
                wrong[joint.section_id or "", lot.system_family].append(joint)
    findings = [_finding(project, section_id, family, joints) for (section_id, family), joints in wrong.items()]
    return Answer(examined, tuple(findings))


def _finding(project: Project, section_id: str, family: str, joints: list[Joint]) -> Finding:
    section = project.sections[section_id]
    joints = in_id_order([joints])
    be = "is" if len(joints) == 1 else "are"
    message = f"{named(joints)} {be} of family {family}; section {section_id} is recorded with {section.system_family}."
    related = (section.source.place("system_family"),)
    return finding_of(
        RULE, Outcome.FAIL, joints, Subject("section", section_id), message, "system_family", related=related
    )


CHECK = Check(RULE, run)
