"""A section stood too long after a test with water."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.testing.wet_tests import DAYS, POTABLE_DAYS, WAYS, WetTest, risk_words, wet_tests
from witnessmark.model.day_words import day_words
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="made-safe-late",
    question="Was every section drained, treated or put in service soon after its test with water?",
    severity=Severity.WEAKENS,
    closes="Flush the section, and disinfect it where people drink; have the tube looked at for corrosion, and record it.",
    whose="the contractor handing over",
    what="Days from the last stage under pressure of every attempt with water to the day on which its sections were drained, "
    "treated or put in service, against the days that the project allows; fewer for drinking water.",
    why="Water that stands in new pipe starts to corrode it, and lets germs grow where people drink.",
    example="Test PT-014, attempt 1, was on 9 May 2026; section S1 was drained and dried on 20 May 2026, after 11 days; at most "
    "7 days are allowed.",
    passes="Test PT-014 was on 9 May 2026; section S1 was drained and dried on 10 May 2026.",
    thresholds=(DAYS, POTABLE_DAYS),
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every attempt with water that was made fit on a known day; one finding an attempt."""
    findings = []
    examined = 0
    for test in wet_tests(project):
        day, done = test.last.date, test.left.made_safe_date
        if day is None or done is None or test.left.made_safe in (None, "left_full_untreated"):
            continue
        examined += 1
        if (done - day).days > test.days or done < day:
            findings.append(_finding(project, test, (done - day).days))
    return Answer(examined, tuple(findings))


def _finding(project: Project, test: WetTest, days: int) -> Finding:
    names = [section.section_id for section in test.sections]
    more = f" and {len(names) - 4} more" if len(names) > 4 else ""
    sections = f"section {names[0]} was" if len(names) == 1 else f"sections {', '.join(names[:4])}{more} were"
    tested = day_words(test.last.date) if test.last.date is not None else ""
    done = day_words(test.left.made_safe_date) if test.left.made_safe_date is not None else ""
    how = WAYS[test.left.made_safe or ""]
    if days < 0:
        after, remedy = "before the test.", "Correct the day that is wrong, from the certificate."
    else:
        after = f"after {days} days; at most {test.days:g} days are allowed.{risk_words(project, test)}"
        remedy = RULE.closes
    return Finding(
        RULE,
        Outcome.FAIL,
        f"{test.words}, was on {tested}; {sections} {how} on {done}, {after}",
        remedy,
        Subject("test", test.last.test_id),
        test.left.source.place("made_safe_date"),
        (test.last.source.place("date"),),
        RULE.whose,
        tuple(names),
    )


CHECK = Check(RULE, run)
