"""A section was flushed, and then tested again."""

from collections import defaultdict

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.water.water_log import flushings_of_section, last_strength_test, listed, wet_sections
from witnessmark.model.day_words import day_words
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Flushing, TestStage
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="flushed-before-the-test",
    question="Was every section flushed after its last strength test?",
    severity=Severity.WEAKENS,
    closes="Flush the section again and record it.",
    whose="the contractor handing over",
    what="The day of the last flush or chemical clean of a section against the day of its last strength test recorded as "
    "passed. The same day is in order. Sections without a flush or without such a test are other questions.",
    why="Work and water after a flush bring dirt back; what was flushed before the test is not what is handed over.",
    example="Flush FL-003 was on 2 March 2026; section LTHW-F-R2 had its last strength test, PT-014, on 9 March 2026.",
    passes="Flush FL-003 was on 10 March 2026, the day after strength test PT-014.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every section that was both flushed and tested; one finding for a flush and a test."""
    flushed = flushings_of_section(project)
    examined = 0
    early: dict[tuple[str, str], list[tuple[str, Flushing, TestStage]]] = defaultdict(list)
    for wet in wet_sections(project):
        test = last_strength_test(project, wet.id)
        if test is None or test.date is None or wet.id not in flushed:
            continue
        examined += 1
        last = flushed[wet.id][-1]
        if last.date is not None and last.date < test.date:
            early[last.flushing_id, test.test_id].append((wet.id, last, test))
    return Answer(examined, tuple(_finding(group) for group in early.values()))


def _finding(group: list[tuple[str, Flushing, TestStage]]) -> Finding:
    sections = [section_id for section_id, _, _ in group]
    _, last, test = group[0]
    noun = "section" if len(sections) == 1 else "sections"
    flushed_on = day_words(last.date) if last.date else ""
    tested_on = day_words(test.date) if test.date else ""
    return Finding(
        RULE,
        Outcome.FAIL,
        f"Flush {last.flushing_id} was on {flushed_on}; {noun} {listed(sections)} had the last strength test, "
        f"{test.test_id}, on {tested_on}, and no flush after it is recorded.",
        RULE.closes,
        Subject("flushing", last.flushing_id),
        last.source.place("date"),
        (test.source.place("date"),),
        RULE.whose,
        tuple(sections),
    )


CHECK = Check(RULE, run)
