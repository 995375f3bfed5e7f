"""A leak was found by a test, and no record shows what became of it."""

from collections import defaultdict

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.testing.leaks import leaked, leaking_joints
from witnessmark.checks.testing.proving_tests import ProvingTests, any_after, in_time_order, proving_tests
from witnessmark.checks.testing.stage_answers import stage_words
from witnessmark.model.day_words import day_words
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Alteration, Joint, TestStage
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="leak-without-rework",
    question="Is it shown for every leak that a test found at which joint it was, what was done, and that it was tested again?",
    severity=Severity.BREAKS,
    closes="Name the joint on the certificate; record what was done, as a joint that replaces it or as an alteration; record "
    "the test after it.",
    whose="the contractor handing over",
    what="Every failed stage: its cell 'Leaks found' must name a joint of its sections; that joint must be cut out, replaced "
    "by another or named by an alteration that is not earlier than the test; and a later strength test of the section must "
    "have passed. Sections without any passed test are another question.",
    why="A leak whose joint nobody wrote down may still be there, sealed for a while by the mark of the tool or by dirt.",
    example="Test PT-014, attempt 1, leak stage, found a leak at joint J014 on 2 March 2026; no joint replaces it and no "
    "alteration names it.",
    passes="PT-014, attempt 1, found a leak at J014; J014R replaces it, and attempt 2 passed on 4 March 2026.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every stage that failed or was broken off, and told of a leak or failed without telling why."""
    stages = in_time_order(
        stage
        for stage in project.records.tests
        if stage.section_ids and (stage.result == "fail" or (stage.result != "pass" and leaked(stage)))
    )
    if not stages:
        return Answer(0, ())
    replaced = {joint.replaces_joint for joint in project.records.joints if joint.replaces_joint != joint.joint_id}
    changes: dict[str, list[Alteration]] = defaultdict(list)
    for row in project.records.alterations:
        for joint_id in row.joint_ids:
            changes[joint_id].append(row)
    proving = proving_tests(project)
    findings = []
    for stage in stages:
        found = _look(project, proving, stage, replaced, changes)
        if found is not None:
            findings.append(found)
    return Answer(len(stages), tuple(findings))


def _look(
    project: Project,
    proving: ProvingTests,
    stage: TestStage,
    replaced: set[str | None],
    changes: dict[str, list[Alteration]],
) -> Finding | None:
    words = stage_words(stage)
    if not leaked(stage):
        if stage.remarks or stage.leaks_found is not None:
            return None
        return _finding(
            stage,
            Outcome.CANNOT_TELL,
            f"{words}, failed, and neither 'Leaks found' nor 'Remarks' says what was found.",
            [],
        )
    on = f" on {day_words(stage.date)}" if stage.date is not None else ""
    joints = leaking_joints(project, stage)
    if not joints:
        text = (stage.leaks_found or "").strip()
        return _finding(
            stage,
            Outcome.CANNOT_TELL,
            f"{words}, found a leak{on}; its cell says '{text}', which is the id of no joint of its sections.",
            [],
        )
    undone = [joint for joint in joints if joint.joint_id not in replaced and not _dealt_with(stage, joint, changes)]
    if undone:
        names = ", ".join(joint.joint_id for joint in undone)
        noun, them = ("joint", "it") if len(undone) == 1 else ("joints", "them")
        message = (
            f"{words}, found a leak at {noun} {names}{on}; no joint replaces {them} and no alteration names {them}."
        )
        return _finding(stage, Outcome.FAIL, message, undone)
    untested = [
        joint
        for joint in joints
        if joint.section_id is not None
        and (tests := proving.of(joint.section_id))
        and any_after(tests, stage.date, stage.start_time) is False
    ]
    if untested:
        names = ", ".join(joint.joint_id for joint in untested)
        sections = ", ".join(dict.fromkeys(joint.section_id or "" for joint in untested))
        message = (
            f"{words}, found a leak at {names}{on}; what leaked was put right, and no later passed "
            f"{proving.stage_name(untested[0].section_id or '')} test of section {sections} is recorded."
        )
        return _finding(stage, Outcome.FAIL, message, untested)
    return None


def _dealt_with(stage: TestStage, joint: Joint, changes: dict[str, list[Alteration]]) -> bool:
    if joint.status == "cut_out":
        return True
    return any(
        row.date is None or stage.date is None or row.date >= stage.date for row in changes.get(joint.joint_id, ())
    )


def _finding(stage: TestStage, outcome: Outcome, message: str, joints: list[Joint]) -> Finding:
    return Finding(
        RULE,
        outcome,
        message,
        RULE.closes,
        Subject("test", stage.test_id),
        stage.source.place("leaks_found"),
        tuple(joint.source.place("status") for joint in joints[:20]),
        RULE.whose,
        stage.section_ids,
        tuple(joint.joint_id for joint in joints),
    )


CHECK = Check(RULE, run)
