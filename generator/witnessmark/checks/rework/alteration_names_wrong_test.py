"""An alteration names a test that cannot have closed it."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.rework.openings import Openings
from witnessmark.checks.testing.proving_tests import any_after, passed, proving_tests
from witnessmark.model.day_words import day_words
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Alteration, TestStage
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="alteration-names-wrong-test",
    question="Can the test that each alteration names have closed it?",
    severity=Severity.WEAKENS,
    closes="Name the test that was made after the work and covers the sections that it touched.",
    whose="whoever keeps the records",
    what="The test that an alteration names: it must be in the tests table, have passed, cover every section that the work "
    "touched, and be later than the work. Alterations that no later test closed at all are another question.",
    why="A change that points to the wrong test is not shown to be closed, even where the right test was made.",
    example="Alteration AL-03 of 14 May 2026 names test PT-014, which was on 9 May 2026.",
    passes="Alteration AL-03 of 14 May 2026 names test PT-021 of 15 May 2026, passed, of the same section.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every alteration that names a test and was closed by some test."""
    openings = Openings(project, proving_tests(project))
    wanted = {change.test_id for change in openings.changes}
    tests: dict[str, list[TestStage]] = {}
    for stage in project.records.tests:
        if stage.test_id in wanted:
            tests.setdefault(stage.test_id, []).append(stage)
    findings = []
    examined = 0
    for change in openings.changes:
        touched = openings.by_alteration[change.alteration_id]
        if change.test_id is None or any(opening.outcome is not Outcome.PASS for opening in touched):
            continue
        examined += 1
        stages = tests.get(change.test_id, [])
        fault = _fault(change, stages, [opening.section_id for opening in touched])
        if fault:
            findings.append(_finding(change, stages, fault, tuple(opening.section_id for opening in touched)))
    return Answer(examined, tuple(findings))


def _fault(change: Alteration, stages: list[TestStage], sections: list[str]) -> str:
    """The rest of a sentence that names the test; '' where all is in order."""
    if not stages:
        return "which is not in the tests table"
    proved = [stage for stage in stages if passed(stage) and stage.stage != "visual"]
    if not proved:
        return "which is not recorded as passed"
    covered = {name for stage in proved for name in stage.section_ids}
    missed = sorted(name for name in sections if name not in covered)
    if missed:
        return f"which does not cover section {missed[0]}" + (f" and {len(missed) - 1} more" if missed[1:] else "")
    if any_after(proved, change.date, change.time) is False:
        last = max(stage.date for stage in proved if stage.date is not None)
        same = " too, before the work was done" if last == change.date else ""
        return f"which was on {day_words(last)}{same}"
    return ""


def _finding(change: Alteration, stages: list[TestStage], fault: str, sections: tuple[str, ...]) -> Finding:
    of = f" of {day_words(change.date)}" if change.date is not None else ""
    return Finding(
        RULE,
        Outcome.FAIL,
        f"Alteration {change.alteration_id}{of} names test {change.test_id}, {fault}.",
        RULE.closes,
        Subject("alteration", change.alteration_id),
        change.source.place("test_id"),
        tuple(stage.source.place("date") for stage in stages[:20]),
        RULE.whose,
        sections,
    )


CHECK = Check(RULE, run)
