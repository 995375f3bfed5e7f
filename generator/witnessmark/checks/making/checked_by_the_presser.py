"""A joint was checked by whoever pressed it."""

from collections import defaultdict

from witnessmark.checks.joint_groups import finding_of, named
from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.making.pressed_joints import in_id_order, pressed_joints
from witnessmark.model.finding import Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Joint
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="checked-by-the-presser",
    question="Was every joint checked by somebody else than who pressed it?",
    severity=Severity.BREAKS,
    closes="Have a second person look at the joints while they can be seen, and write who and when; of joints that are closed in, a photo or an endoscope picture.",
    whose="the contractor handing over",
    what="Operative and checker of every pressed joint whose row gives both. One finding tells all joints that one person both pressed and checked.",
    why="A second person finds the joint that the first forgot.",
    example="Operative OP-03 checked what OP-03 pressed: 12 joints, the first of them J014.",
    passes="OP-03 pressed joint J014 and OP-09 checked it.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every pressed joint whose operative and checker are known."""
    examined = 0
    own: dict[str, list[Joint]] = defaultdict(list)
    checkers: dict[str, set[str]] = defaultdict(set)
    for lot in pressed_joints(project).lots("operative_id", "checker_id"):
        if lot.operative_id is None or lot.checker_id is None:
            continue
        examined += len(lot.joints)
        checkers[lot.operative_id].add(lot.checker_id)
        if lot.operative_id == lot.checker_id:
            own[lot.operative_id] += lot.joints
    findings = []
    for operative, group in own.items():
        joints = in_id_order([group])
        who = named(joints).rstrip(",")
        everywhere = (
            " Nobody else checked any joint of this operative."
            if len(checkers[operative]) == 1 and len(joints) > 1
            else ""
        )
        message = f"Operative {operative} checked what {operative} pressed: {who[0].lower()}{who[1:]}.{everywhere}"
        place = joints[0].source.place("operative_id")
        subject = Subject("operative", operative)
        findings.append(finding_of(RULE, Outcome.FAIL, joints, subject, message, "checker_id", related=(place,)))
    return Answer(examined, tuple(findings))


CHECK = Check(RULE, run)
