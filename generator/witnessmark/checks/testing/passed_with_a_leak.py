"""A certificate records a pass and a leak."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.testing.leaks import leaked, leaking_joints
from witnessmark.checks.testing.proving_tests import in_time_order, passed
from witnessmark.checks.testing.stage_answers import stage_words
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="passed-with-a-leak",
    question="Did no test pass in which a leak was found?",
    severity=Severity.BREAKS,
    closes="Correct the result to 'fail' and record the attempt that passed after the repair; or correct what is written of leaks.",
    whose="the tester",
    what="Stages recorded as passed whose cell 'Leaks found' says anything but none.",
    why="A test in which something leaked did not pass; the repair and the test after it are records of their own.",
    example="Test PT-014, attempt 1, leak stage, is recorded as passed, and its leaks as 'J014'.",
    passes="PT-014, attempt 1, failed with a leak at J014; attempt 2 passed, leaks 'none'.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every stage that is recorded as passed."""
    stages = [stage for stage in project.records.tests if passed(stage)]
    findings = [
        Finding(
            RULE,
            Outcome.FAIL,
            f"{stage_words(stage)}, is recorded as passed, and its leaks as '{(stage.leaks_found or '').strip()}'.",
            RULE.closes,
            Subject("test", stage.test_id),
            stage.source.place("leaks_found"),
            (stage.source.place("result"),),
            RULE.whose,
            stage.section_ids,
            tuple(joint.joint_id for joint in leaking_joints(project, stage)),
        )
        for stage in in_time_order(stage for stage in stages if leaked(stage))
    ]
    return Answer(len(stages), tuple(findings))


CHECK = Check(RULE, run)
