"""A section was first tested after it was insulated or closed in."""

import datetime

from witnessmark.checks.by_system import GapsBySystem
from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.testing.proving_tests import NOT_IN_PLACE, ProvingTests, proving_tests
from witnessmark.model.day_words import day_words
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Insulation, Section, TestStage
from witnessmark.model.source import SourceLocation
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="tested-after-closing-in",
    question="Was every section tested before it was insulated and closed in?",
    severity=Severity.BREAKS,
    closes="Open the joints up, look at them and test again; or have the departure accepted as a concession, with reasons.",
    whose="the contractor handing over",
    what="The first passed strength test of every section against the first day of its insulation and its cover-up date; the "
    "same day counts as in order. A test after a later change is another question.",
    why="Insulation soaks up a drip and hides it; behind a wall nobody sees the joint that weeps.",
    example="Section S1 was insulated on 5 May 2026 and first passed a strength test, PT-014, on 9 May 2026.",
    passes="Section S1 passed strength test PT-014 on 9 May 2026 and was insulated on 12 May 2026.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every section that was insulated or closed in and passed a test."""
    proving = proving_tests(project)
    gaps = GapsBySystem(RULE, project, "section")
    findings: list[Finding] = []
    examined = 0
    for section in sorted(project.records.sections, key=lambda row: row.section_id):
        insulations = project.insulations_of_section.get(section.section_id, [])
        if section.status in NOT_IN_PLACE or not (insulations or section.cover_up_date):
            continue
        test = next((each for each in proving.of(section.section_id) if each.date is not None), None)
        if test is None or test.date is None:
            continue
        examined += 1
        days = [section.cover_up_date, *(row.applied_on for row in insulations)]
        early = []
        if any(day is not None and day < test.date for day in days):
            early = [event for event in _events(section, insulations) if event[0] < test.date]
        undated = [row for row in insulations if row.applied_on is None]
        if early:
            findings.append(_finding(proving, section, test, early))
        elif undated:
            first = min(undated, key=lambda row: row.insulation_id)
            system = [section.system_id] if section.system_id is not None else []
            reason = "the first day of its insulation"
            gaps.add(system, section.section_id, [reason], [section.section_id], first.source.place("applied_on"))
    return Answer(examined, (*findings, *gaps.findings()))


def _events(section: Section, insulations: list[Insulation]) -> list[tuple[datetime.date, str, SourceLocation]]:
    rows = sorted(insulations, key=lambda row: (row.applied_on or datetime.date.max, row.insulation_id))
    found = [
        (row.applied_on, "insulated", row.source.place("applied_on")) for row in rows if row.applied_on is not None
    ][:1]
    if section.cover_up_date is not None:
        found.append((section.cover_up_date, "closed in", section.source.place("cover_up_date")))
    return found


def _finding(
    proving: ProvingTests,
    section: Section,
    test: TestStage,
    early: list[tuple[datetime.date, str, SourceLocation]],
) -> Finding:
    done = " and ".join(f"{word} on {day_words(day)}" for day, word, _ in early)
    tested = day_words(test.date) if test.date is not None else ""
    stage = proving.stage_name(section.section_id)
    return Finding(
        RULE,
        Outcome.FAIL,
        f"Section {section.section_id} was {done} and first passed a {stage} test, {test.test_id}, on {tested}.",
        RULE.closes,
        Subject("section", section.section_id),
        early[0][2],
        (*(place for _, _, place in early[1:]), test.source.place("date")),
        RULE.whose,
        (section.section_id,),
    )


CHECK = Check(RULE, run)
