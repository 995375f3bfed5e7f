"""A joint was pressed after the last test of its section."""

import datetime
from collections.abc import Sequence
from operator import attrgetter

from witnessmark.checks.by_system import GapsBySystem
from witnessmark.checks.joint_groups import NOT_THERE, PRESSED, finding_of
from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.rework.openings import Openings
from witnessmark.checks.testing.proving_tests import ProvingTests, any_after, proving_tests
from witnessmark.model.day_words import day_words
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Joint, TestStage
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="pressed-after-the-last-test",
    question="Was every section tested after its last joint was pressed?",
    severity=Severity.BREAKS,
    closes="Test the section again; or correct the date that is wrong, from day sheets and certificate.",
    whose="the contractor handing over",
    what="The day on which each joint was pressed against every strength test of its section that is recorded as passed and "
    "does not leave the joint out; where the procedure has no strength stage, against its strictest stage under pressure. "
    "On one day the times decide, where both are recorded. A joint that an alteration names, and a section without a "
    "passed test, are asked about by other questions.",
    why="A joint that was pressed after the test has never been under pressure.",
    example="Joint J014 was pressed on 12 May 2026; the only strength test of section S1 was on 9 May 2026.",
    passes="Joint J014 was pressed on 8 May 2026; the strength test of section S1 was on 9 May 2026.",
)
_FIRST = datetime.date.min
_STATUS, _PRESS_DATE = attrgetter("status"), attrgetter("press_date")


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every joint of a section that a passed test covers."""
    proving = proving_tests(project)
    openings = Openings(project, proving)
    told_elsewhere, closures = openings.open_joints(), openings.closure_joints()
    gaps = GapsBySystem(RULE, project, "section")
    findings: list[Finding] = []
    examined = 0
    for section_id in sorted(project.joints_of_section):
        all_tests = proving.of(section_id)
        if not all_tests:
            continue
        left_out = {name for test in all_tests for name in test.joints_left_out}
        certain = max((t.date for t in all_tests if t.date is not None), default=_FIRST)
        joints = project.joints_of_section[section_id]
        if not left_out and NOT_THERE.isdisjoint(map(_STATUS, joints)):
            days = set(map(_PRESS_DATE, joints))
            if None not in days and max(days) < certain:
                examined += len(joints)
                continue
        told = told_elsewhere.get(section_id, ())
        late: list[Joint] = []
        unknown: list[tuple[Joint, str]] = []
        for joint in joints:
            if joint.status in NOT_THERE:
                continue
            day = joint.press_date
            if day is not None and day < certain and joint.joint_id not in left_out:
                examined += 1
                continue
            tests = proving.covering(section_id, (joint.joint_id,)) if joint.joint_id in left_out else all_tests
            if not tests or joint.joint_id in told or joint.joint_id in closures:
                continue
            if day is None and joint.joint_type not in PRESSED:
                continue
            examined += 1
            later = any_after(tests, day, joint.press_time)
            if later is False:
                late.append(joint)
            elif later is None:
                unknown.append((joint, _missing(joint, tests)))
        if late:
            findings.append(_finding(proving, section_id, late))
        if unknown:
            section = project.sections.get(section_id)
            systems = [section.system_id] if section is not None and section.system_id is not None else []
            first = min(unknown, key=lambda pair: pair[0].joint_id)[0]
            place = first.source.place("press_time" if first.press_date is not None else "press_date")
            gaps.add(systems, section_id, [words for _, words in unknown], [section_id], place)
    return Answer(examined, (*findings, *gaps.findings()))


def _missing(joint: Joint, tests: Sequence[TestStage]) -> str:
    if joint.press_date is None:
        return "the day on which a joint was pressed, in the joint log"
    if any(test.date is None for test in tests):
        return "the day of a strength test"
    if joint.press_time is None:
        return "the time at which a joint was pressed, on the day of the test"
    return "the time at which a test began, on the day a joint was pressed"


def _finding(proving: ProvingTests, section_id: str, late: list[Joint]) -> Finding:
    joints = sorted(late, key=lambda j: (j.press_date or _FIRST, j.press_time or datetime.time.min, j.joint_id))
    first, others = joints[0], len(joints) - 1
    tests = proving.covering(section_id, (first.joint_id,))
    test = tests[-1]
    made = "pressed" if first.joint_type in PRESSED else "made"
    days = [joint.press_date for joint in joints if joint.press_date is not None]
    also = f"{others:,} other{'s' if others > 1 else ''}"
    if not others:
        who = f"Joint {first.joint_id} was {made} on {day_words(days[0])}"
    elif days[0] == days[-1]:
        who = f"Joint {first.joint_id} and {also} were {made} on {day_words(days[0])}"
    else:
        who = f"Joint {first.joint_id} was {made} on {day_words(days[0])}, and {also} up to {day_words(days[-1])}"
    which = "only" if len(tests) == 1 else "last"
    tested = day_words(test.date) if test.date is not None else "a day that is not recorded"
    same_day = test.date == days[0] and first.press_time is not None and test.start_time is not None
    if same_day and first.press_time is not None and test.start_time is not None:
        who = who.replace(day_words(days[0]), f"{day_words(days[0])} at {first.press_time:%H:%M}", 1)
        tested = f"the same day at {test.start_time:%H:%M}" if not others or days[0] == days[-1] else tested
    message = f"{who}; the {which} {test.stage} test of section {section_id} was on {tested}."
    remedy = (
        f"Test section {section_id} again and record the test; or, if a date is wrong, correct it from the day sheets or "
        f"the certificate of test {test.test_id}."
    )
    return finding_of(
        RULE, Outcome.FAIL, joints, Subject("section", section_id), message, "press_date", remedy=remedy,
        related=(test.source.place("date"),),
    )  # fmt: skip


CHECK = Check(RULE, run)
