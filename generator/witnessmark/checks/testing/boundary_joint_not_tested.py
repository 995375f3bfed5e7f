"""A joint at the edge of a test is in no test at all."""

from collections import defaultdict

from witnessmark.checks.joint_groups import NOT_THERE, finding_of, named
from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.rework.openings import Openings
from witnessmark.checks.testing.proving_tests import ProvingTests, proving_tests
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Joint
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="boundary-joint-not-tested",
    question="Is every joint at a blank, valve or tie-in covered by a test or by a record of a closure joint?",
    severity=Severity.BREAKS,
    closes="Test a section that takes the joint in; or watch it under service pressure, see it dry, and record it as a "
    "closure joint in the alterations table.",
    whose="the contractor handing over",
    what="Boundary joints, and joints that a test names as left out: a passed strength test of their section must not leave "
    "them out, or an alteration of the kind 'closure joint' must name them. A section without a passed test is another "
    "question.",
    why="Where one test ends and the next begins, a joint can fall between both: nobody has seen it hold.",
    example="Joint J014 of section S1 was left out of PT-014, the only strength test of its section that is recorded as "
    "passed; no record of a closure joint names it.",
    passes="Joint J014 was left out of PT-014, and PT-015 of section S1 takes it in.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every boundary joint and every joint left out of a test; one finding a section."""
    proving = proving_tests(project)
    closures = Openings(project, proving).closure_joints()
    left_out = {name for test in project.records.tests for name in test.joints_left_out}
    examined = 0
    bare: dict[str, list[Joint]] = defaultdict(list)
    for joint in project.records.joints:
        if (
            not (joint.boundary or (left_out and joint.joint_id in left_out))
            or joint.status in NOT_THERE
            or joint.section_id is None
        ):
            continue
        if not proving.of(joint.section_id):
            continue
        examined += 1
        may_be_bare = joint.joint_id in left_out and joint.joint_id not in closures
        if may_be_bare and not proving.covering(joint.section_id, (joint.joint_id,)):
            bare[joint.section_id].append(joint)
    return Answer(examined, tuple(_finding(proving, name, joints) for name, joints in sorted(bare.items())))


def _finding(proving: ProvingTests, section_id: str, joints: list[Joint]) -> Finding:
    joints.sort(key=lambda joint: joint.joint_id)
    one = len(joints) == 1
    tests = list(dict.fromkeys(test.test_id for test in proving.of(section_id)))
    more = f" and {len(tests) - 3} more" if len(tests) > 3 else ""
    which = "the only" if len(tests) == 1 else "all"
    noun = "test" if len(tests) == 1 else "tests"
    message = (
        f"{named(joints)} of section {section_id} {'was' if one else 'were'} left out of {', '.join(tests[:3])}{more}, {which} "
        f"{proving.stage_name(section_id)} {noun} of {'its' if one else 'their'} section that {'is' if len(tests) == 1 else 'are'} "
        f"recorded as passed; no record of a closure joint names {'it' if one else 'them'}."
    )
    places = tuple(test.source.place("joints_left_out") for test in proving.of(section_id))
    return finding_of(
        RULE, Outcome.FAIL, joints, Subject("section", section_id), message, "joint_id", location=places[0],
        related=places[1:20],
    )  # fmt: skip


CHECK = Check(RULE, run)
