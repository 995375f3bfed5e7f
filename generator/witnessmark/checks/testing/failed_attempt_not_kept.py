"""An attempt at a test is missing, or was written over."""

from collections import defaultdict

from witnessmark.checks.judgement import Answer, Check
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import TestStage
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="failed-attempt-not-kept",
    question="Is every attempt at every test on record, the failed ones too?",
    severity=Severity.WEAKENS,
    closes="Add the row of the attempt that is missing, from its certificate or the day sheets; give each attempt a number of "
    "its own.",
    whose="the tester",
    what="Attempts of a test are numbered from 1 without a gap, and one stage of one attempt has one result.",
    why="A failed attempt shows where it leaked and that it was looked for. A history with holes makes the rest doubtful.",
    example="Test PT-014 has a record of attempt 2 and none of attempt 1.",
    passes="Test PT-014 has attempt 1, failed, and attempt 2, passed.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every test with numbered attempts; one finding a test."""
    tests: dict[str, list[TestStage]] = defaultdict(list)
    for stage in project.records.tests:
        if stage.attempt is not None:
            tests[stage.test_id].append(stage)
    findings = []
    for test_id, stages in sorted(tests.items()):
        sentences, place = _gaps(stages)
        double = _double(stages)
        if double:
            sentences.append(double[0])
        if sentences:
            where = place or (double[1] if double else stages[0])
            findings.append(
                Finding(
                    RULE,
                    Outcome.FAIL,
                    f"Test {test_id} {'; it '.join(sentences)}.",
                    RULE.closes,
                    Subject("test", test_id),
                    where.source.place("attempt"),
                    (),
                    RULE.whose,
                    tuple(sorted({name for stage in stages for name in stage.section_ids})),
                )
            )
    return Answer(len(tests), tuple(findings))


def _gaps(stages: list[TestStage]) -> tuple[list[str], TestStage | None]:
    there = {stage.attempt for stage in stages if stage.attempt is not None}
    missing = [number for number in range(1, max(there)) if number not in there]
    if not missing:
        return [], None
    numbers = ", ".join(str(number) for number in missing)
    last = min((s for s in stages if s.attempt == max(there)), key=lambda s: s.stage or "")
    noun = "attempt" if len(missing) == 1 else "attempts"
    return [f"has a record of attempt {max(there)} and none of {noun} {numbers}"], last


def _double(stages: list[TestStage]) -> tuple[str, TestStage] | None:
    results: dict[tuple[int, str], dict[str, TestStage]] = defaultdict(dict)
    for stage in stages:
        if stage.attempt is not None and stage.stage is not None and stage.result is not None:
            results[stage.attempt, stage.stage].setdefault(stage.result, stage)
    for (attempt, name), found in sorted(results.items()):
        if len(found) > 1:
            said = " and as ".join(f"'{result}'" for result in sorted(found))
            return f"records the {name} stage of attempt {attempt} as {said}", found[min(found)]
    return None


CHECK = Check(RULE, run)
