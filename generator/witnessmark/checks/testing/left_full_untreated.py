"""A section was left full of untreated water after a test."""

import datetime
from collections import defaultdict
from collections.abc import Iterable

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.testing.wet_tests import DAYS, POTABLE_DAYS, WetTest, risk_words, wet_tests
from witnessmark.checks.water.water_log import treatments_of_section
from witnessmark.model.day_words import day_words
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="left-full-untreated",
    question="Was no section left full of untreated water after a test?",
    severity=Severity.WEAKENS,
    closes="Drain and flush or treat the section, have the tube looked at for corrosion, and record it.",
    whose="the contractor handing over",
    what="How each attempt with water left its sections. 'Left full, untreated' is told unless every section was treated, or "
    "tested again and left in good order, within the days allowed. A flush fills it with untreated water again.",
    why="Water that stands in new pipe starts to corrode it, and lets germs grow where people drink.",
    example="Test PT-014, attempt 1, left section S1 full of untreated water on 9 May 2026; no treatment and no other test "
    "within 7 days is recorded. Carbon steel that stays wet with air in it rusts.",
    passes="Test PT-014 of 9 May 2026: drained and dried on the same day.",
    thresholds=(DAYS, POTABLE_DAYS),
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every attempt with water that says how it was left; one finding a test."""
    tests = [test for test in wet_tests(project) if test.left.made_safe is not None]
    left = [test for test in tests if test.left.made_safe == "left_full_untreated"]
    care = _days_of_care(project) if left else {}
    findings = []
    for test in left:
        standing = tuple(s.section_id for s in test.sections if not _cared_for(test, care.get(s.section_id, ())))
        if standing:
            findings.append(_finding(project, test, standing))
    return Answer(len(tests), tuple(findings))


def _days_of_care(project: Project) -> dict[str, list[datetime.date]]:
    """Days on which the water of sections was treated, or another attempt left them in good order."""
    days: dict[str, list[datetime.date]] = defaultdict(list)
    for section_id, doses in treatments_of_section(project, "dose").items():
        days[section_id] += [dose.date for dose in doses if dose.date is not None]
    for stage in project.records.tests:
        if stage.date is not None and stage.made_safe not in (None, "left_full_untreated"):
            for section_id in stage.section_ids:
                days[section_id].append(stage.date)
    return days


def _cared_for(test: WetTest, days: Iterable[datetime.date]) -> bool:
    day = test.last.date
    return day is not None and any(day <= each <= day + datetime.timedelta(days=test.days) for each in days)


def _finding(project: Project, test: WetTest, standing: tuple[str, ...]) -> Finding:
    more = f" and {len(standing) - 4} more" if len(standing) > 4 else ""
    sections = f"section {standing[0]}" if len(standing) == 1 else f"sections {', '.join(standing[:4])}{more}"
    on = f" on {day_words(test.last.date)}" if test.last.date is not None else ""
    return Finding(
        RULE,
        Outcome.FAIL,
        f"{test.words}, left {sections} full of untreated water{on}; no treatment and no other test within "
        f"{test.days:g} days is recorded.{risk_words(project, test)}",
        RULE.closes,
        Subject("test", test.last.test_id),
        test.left.source.place("made_safe"),
        (),
        RULE.whose,
        standing,
    )


CHECK = Check(RULE, run)
