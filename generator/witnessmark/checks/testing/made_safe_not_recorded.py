"""Nothing says how a section was left after a test with water."""

from witnessmark.checks.by_system import GapsBySystem
from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.testing.wet_tests import wet_tests
from witnessmark.model.finding import Rule, Severity
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="made-safe-not-recorded",
    question="Is it recorded how every section was left after a test with water, and when?",
    severity=Severity.WEAKENS,
    closes="Write in the row of the test how the section was left, drained or treated, and on which day.",
    whose="the tester",
    what="The cells 'made safe' and its day, of the last stage under pressure of every attempt with water; another stage of the "
    "same attempt will do.",
    why="Water that stands in new pipe starts to corrode it, and lets germs grow where people drink.",
    example="System LTHW-F, test PT-014: the records do not answer 'Is it recorded how every section was left after a test with water, and when?' "
    "Missing: how its sections were left.",
    passes="PT-014, strength stage: drained and dried, 9 May 2026.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every attempt with water; one finding a system."""
    gaps = GapsBySystem(RULE, project, "test", RULE.closes)
    tests = wet_tests(project)
    for test in tests:
        sections = [section.section_id for section in test.sections]
        if test.left.made_safe is None:
            place = test.left.source.place("made_safe")
            gaps.add(test.systems, test.last.test_id, ["how its sections were left"], sections, place)
        elif test.left.made_safe_date is None and test.left.made_safe != "left_full_untreated":
            place = test.left.source.place("made_safe_date")
            gaps.add(test.systems, test.last.test_id, ["the day on which it was drained or treated"], sections, place)
    return Answer(len(tests), tuple(gaps.findings()))


CHECK = Check(RULE, run)
