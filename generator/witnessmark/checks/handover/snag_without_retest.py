"""A leak or a rework was closed without a test of its sections after it."""

from collections import defaultdict

from witnessmark.checks.handover.snag_state import claims_closed, sections_of_joints, snag_sections
from witnessmark.checks.judgement import Answer, Check
from witnessmark.model.day_words import day_words
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Snag, TestStage
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="snag-without-retest",
    question="Was every section tested again after each leak and each rework?",
    severity=Severity.BREAKS,
    closes="Test the sections again and name the test in the row of the snag.",
    whose="the contractor handing over",
    what="Closed snags of kind leak or rework, and others that ask for a retest: the named test must be in the tests table, "
    "cover every section of the snag, be recorded as passed, and not be earlier than the snag. A snag whose row says that "
    "no retest is needed is not asked, unless it is a leak or a rework.",
    why="What was opened to be put right has not been under pressure since.",
    example="Snag SN-012 names test PT-014 of 2 March 2026, two days before the snag was raised on 4 March 2026.",
    passes="Snag SN-012 was raised on 4 March 2026 and names test PT-021, passed on 5 March 2026, which covers its section.",
)
_OPENED_UP = frozenset({"leak", "rework"})


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every closed snag that needs a retest; one finding a snag."""
    snags = [
        snag
        for snag in sorted(project.records.snags, key=lambda row: row.snag_id)
        if claims_closed(snag) and (snag.kind in _OPENED_UP or snag.retest_required)
    ]
    tests: dict[str, list[TestStage]] = defaultdict(list)
    for test in project.records.tests:
        tests[test.test_id].append(test)
    section_of_joint = sections_of_joints(project, snags)
    findings = []
    for snag in snags:
        sections = snag_sections(project, snag, section_of_joint)
        fault = _fault(project, snag, sections, tests)
        if fault is not None:
            findings.append(_finding(snag, sections, *fault))
    return Answer(len(snags), tuple(findings))


def _fault(
    project: Project, snag: Snag, sections: tuple[str, ...], tests: dict[str, list[TestStage]]
) -> tuple[Outcome, str] | None:
    """Outcome and the rest of a sentence that begins with the snag; ``None`` where all is in order."""
    name = snag.retest_test_id
    if not name:
        later = [
            test for section in sections for test in project.tests_of_section.get(section, ()) if _after(test, snag)
        ]
        if sections and snag.raised_on is not None and not later:
            return Outcome.FAIL, f"no passed test of {_named(sections)} since {day_words(snag.raised_on)} is recorded"
        return Outcome.CANNOT_TELL, f"its row does not name the test that closed it{_hint(later)}"
    stages = tests.get(name)
    if not stages:
        return Outcome.FAIL, f"it names test {name}, which is not in the tests table"
    passed = [test for test in stages if test.result == "pass"]
    if not passed:
        return Outcome.FAIL, f"it names test {name}, which is not recorded as passed"
    covered = {section for test in passed for section in test.section_ids}
    missed = tuple(section for section in sections if section not in covered)
    if missed:
        return Outcome.FAIL, f"it names test {name}, which does not cover {_named(missed)}"
    if snag.raised_on is None or all(test.date is None for test in passed):
        missing = "the day on which it was raised" if snag.raised_on is None else f"the day of test {name}"
        return Outcome.CANNOT_TELL, f"the records do not give {missing}"
    last = max(test.date for test in passed if test.date is not None)
    if last < snag.raised_on:
        return (
            Outcome.FAIL,
            f"it names test {name} of {day_words(last)}, before the snag was raised on {day_words(snag.raised_on)}",
        )
    return None if sections else (Outcome.CANNOT_TELL, "its row names no section or joint that the test could cover")


def _hint(later: list[TestStage]) -> str:
    """'; PT-021 of 5 March 2026 may be it', where such a test is recorded."""
    first = min(later, key=lambda test: (str(test.date), test.test_id), default=None)
    return f"; {first.test_id} of {day_words(first.date)} may be it" if first and first.date else ""


def _after(test: TestStage, snag: Snag) -> bool:
    return (
        test.result == "pass" and test.date is not None and snag.raised_on is not None and test.date >= snag.raised_on
    )


def _named(sections: tuple[str, ...]) -> str:
    return f"section {sections[0]}" if len(sections) == 1 else f"sections {', '.join(sections[:4])}"


def _finding(snag: Snag, sections: tuple[str, ...], outcome: Outcome, words: str) -> Finding:
    kind = snag.kind if snag.kind in _OPENED_UP else "snag that asks for a retest"
    return Finding(
        RULE,
        outcome,
        f"Snag {snag.snag_id} ({kind}) is closed, and {words}.",
        RULE.closes,
        Subject("snag", snag.snag_id),
        snag.source.place("retest_test_id"),
        (snag.source.place("raised_on"),),
        RULE.whose,
        sections,
        snag.joint_ids,
    )


CHECK = Check(RULE, run)
