"""A joint was first checked after the last strength test of its section."""

import datetime

from witnessmark.checks.joint_groups import finding_of
from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.making.check_days import checked_on
from witnessmark.checks.making.pressed_joints import in_id_order, pressed_joints
from witnessmark.model.day_words import day_words
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Joint, TestStage
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="checked-after-strength-test",
    question="Was every joint checked before the strength test of its section?",
    severity=Severity.BREAKS,
    closes="Correct the date that is wrong, from the day sheets; else test the section again, now that every joint was looked at.",
    whose="the contractor handing over",
    what="The day of the check against the last passed strength test that covers the joint; the same day counts. A section without a passed strength test, and a joint that was pressed after the test, are asked about by other questions.",
    why="A strength test is made on joints that were seen to be pressed: an unpressed end can hold at test, and can part under it.",
    example="Joint J014 was checked on 12 May 2026; the last strength test of section S1, PT-031, was on 9 May 2026.",
    passes="Joint J014 was checked on 9 May 2026, and the strength test PT-031 of section S1 was made on the same day.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every checked joint of a section with a passed strength test."""
    examined = 0
    late: dict[tuple[str, str], tuple[TestStage, list[Joint]]] = {}
    passed: dict[str, list[TestStage]] = {}
    for look in pressed_joints(project).looks:
        if look.check_date is None or look.section_id is None:
            continue
        if look.section_id not in passed:
            passed[look.section_id] = _passed(project.tests_of_section.get(look.section_id, []))
        tests = passed[look.section_id]
        if not tests:
            continue
        examined += len(look.joints)
        if tests[0].date is not None and look.check_date <= tests[0].date and not tests[0].joints_left_out:
            continue
        for joint in look.joints:
            last = next((test for test in tests if joint.joint_id not in test.joints_left_out), None)
            if last is None or last.date is None or look.check_date <= last.date:
                continue
            # What was pressed after the test is told once, by the question on the press.
            if joint.press_date is None or joint.press_date <= last.date:
                late.setdefault((look.section_id, last.test_id), (last, []))[1].append(joint)
    return Answer(examined, tuple(_finding(section, test, joints) for (section, _), (test, joints) in late.items()))


def _passed(stages: list[TestStage]) -> list[TestStage]:
    """Passed strength tests with a date, the last of them first."""
    passed = [stage for stage in stages if stage.stage == "strength" and stage.result == "pass" and stage.date]
    return sorted(passed, key=lambda stage: (stage.date or datetime.date.min, stage.test_id), reverse=True)


def _finding(section_id: str, test: TestStage, joints: list[Joint]) -> Finding:
    day = day_words(test.date) if test.date is not None else ""
    joints = in_id_order([joints])
    message = f"{checked_on(joints)}; the last strength test of section {section_id}, {test.test_id}, was on {day}."
    subject = Subject("section", section_id)
    related = (test.source.place("date"),)
    return finding_of(RULE, Outcome.FAIL, joints, subject, message, "check_date", related=related)


CHECK = Check(RULE, run)
