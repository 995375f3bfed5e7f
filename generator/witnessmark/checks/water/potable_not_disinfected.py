"""Drinking-water pipework was not disinfected, or not at the right time."""

from collections import defaultdict

from witnessmark.checks.by_system import GapsBySystem
from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.water.water_log import (
    WetSection,
    flushings_of_section,
    in_use_from,
    last_strength_test,
    listed,
    wet_sections,
)
from witnessmark.model.day_words import day_words
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Flushing
from witnessmark.model.source import SourceLocation
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="potable-not-disinfected",
    question="Was drinking-water pipework disinfected after its last strength test and before it was used?",
    severity=Severity.BREAKS,
    closes="Disinfect, rinse and sample by the local rules before anybody draws water, and record it.",
    whose="the contractor handing over",
    what="Sections of potable systems: dated disinfections of the flushing table, against the last strength test and against "
    "commissioning, or completion of the works where no commissioning is recorded. The same day is in order.",
    why="What people drink must not carry what the site left in the pipe.",
    example="Section BCW-R1 was disinfected on 2 March 2026 (FL-009); its last strength test, PT-020, was on 9 March 2026.",
    passes="Section BCW-R1 was disinfected on 20 April 2026 (FL-009), after test PT-020 and before 4 May 2026.",
)
_Group = tuple[str, str, SourceLocation, tuple[SourceLocation, ...]]


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every section of a potable system; one finding for a disinfection and what it missed."""
    treated = flushings_of_section(project, ("disinfection",))
    unknown = GapsBySystem(RULE, project, "section", RULE.closes)
    wrong: dict[_Group, list[WetSection]] = defaultdict(list)
    potable = [wet for wet in wet_sections(project) if wet.potable]
    for wet in potable:
        rows = treated.get(wet.id)
        if not rows:
            unknown.add(
                (wet.system.system_id,),
                wet.id,
                ("a disinfection with its day in the flushing table",),
                (wet.id,),
                wet.section.source.location,
            )
            continue
        fault = _fault(project, wet, rows)
        if fault is not None:
            wrong[fault].append(wet)
    findings = [_finding(fault, group) for fault, group in wrong.items()]
    return Answer(len(potable), (*findings, *unknown.findings()))


def _fault(project: Project, wet: WetSection, rows: list[Flushing]) -> _Group | None:
    last, first = rows[-1], rows[0]
    test = last_strength_test(project, wet.id)
    if test is not None and test.date and last.date and last.date < test.date:
        return (
            last.flushing_id,
            f"disinfected on {day_words(last.date)} ({last.flushing_id}); the last strength test, {test.test_id}, was on "
            f"{day_words(test.date)}",
            last.source.place("date"),
            (test.source.place("date"),),
        )
    used = in_use_from(project, wet.section)
    if used is not None and first.date and first.date > used:
        by = "commissioned" if wet.section.commissioned_on else "handed over"
        return (
            first.flushing_id,
            f"disinfected on {day_words(first.date)} ({first.flushing_id}), after it was {by} on {day_words(used)}",
            first.source.place("date"),
            (wet.section.source.place("commissioned_on"),) if wet.section.commissioned_on else (),
        )
    return None


def _finding(fault: _Group, group: list[WetSection]) -> Finding:
    names = [wet.id for wet in group]
    flushing_id, words, place, related = fault
    subject = "Section" if len(names) == 1 else "Sections"
    return Finding(
        RULE,
        Outcome.FAIL,
        f"{subject} {listed(names)} {'was' if len(names) == 1 else 'were'} {words}.",
        RULE.closes,
        Subject("flushing", flushing_id),
        place,
        related,
        RULE.whose,
        tuple(names),
    )


CHECK = Check(RULE, run)
