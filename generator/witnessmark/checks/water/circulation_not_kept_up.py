"""Treated water was left standing between treatment and use."""

import datetime
from collections import defaultdict

from witnessmark.checks.by_system import GapsBySystem
from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.water.water_log import WetSection, in_use_from, listed, treatments_of_section, wet_sections
from witnessmark.model.day_words import day_words
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Treatment
from witnessmark.model.threshold import limit
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="circulation-not-kept-up",
    question="Was the water of every closed circuit kept moving from its treatment until it was used?",
    severity=Severity.WEAKENS,
    closes="Take a sample and look for corrosion and biofilm; keep the water moving and record the days and hours.",
    whose="the contractor handing over",
    what="Closed circuits: the days covered by circulation records, from the last dose to commissioning, completion or the "
    "issue, whichever came first; the longest gap between them; and the hours a day.",
    why="Treatment works on moving water. Where it stands, dirt settles and steel corrodes below it.",
    example="No circulation is recorded for section CHW-F-R1 from 12 March 2026 to 20 April 2026, 39 days.",
    passes="Circulation record WT-010 runs from 11 March 2026 to 4 May 2026, the day of commissioning, at 1 h a day.",
    thresholds=("circulation-gap-days", "circulation-hours-a-day"),
)
_Gap = tuple[int, datetime.date, datetime.date]


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every dosed section of a closed circuit; one finding a system and gap, one a record with too few hours."""
    most, least = (limit(project.settings, name) for name in RULE.thresholds)
    dosed = treatments_of_section(project, "dose")
    moved = treatments_of_section(project, "circulation")
    unknown = GapsBySystem(RULE, project, "section")
    still: dict[tuple[str, _Gap], list[WetSection]] = defaultdict(list)
    slow: dict[str, tuple[Treatment, list[str]]] = {}
    examined = 0
    for wet in wet_sections(project):
        doses = dosed.get(wet.id)
        if not wet.closed or not doses or doses[-1].date is None:
            continue
        examined += 1
        records = moved.get(wet.id, [])
        for row in records:
            if row.hours_per_day is None or row.hours_per_day < least:
                slow.setdefault(row.treatment_id, (row, []))[1].append(wet.id)
        until = min(in_use_from(project, wet.section) or project.settings.issue.date, project.settings.issue.date)
        start = doses[-1].date
        if (until - start).days <= most:
            continue
        if not records:
            reason = f"a circulation record between the dose of {day_words(start)} and {day_words(until)}"
            place = doses[-1].source.place("date")
            unknown.add((wet.system.system_id,), wet.id, (reason,), (wet.id,), place)
            continue
        gap = _longest_gap(records, start, until)
        if gap[0] > most:
            still[wet.system.system_id, gap].append(wet)
    findings = [_standing(system_id, gap, group, dosed, moved) for (system_id, gap), group in still.items()]
    findings += [_slow(row, names, least) for row, names in slow.values()]
    return Answer(examined, (*findings, *unknown.findings()))


def _longest_gap(records: list[Treatment], start: datetime.date, until: datetime.date) -> _Gap:
    moving = start
    longest: _Gap = (0, start, start)
    spans = sorted((row.from_date or row.date, row.date) for row in records if row.date is not None)
    for first, last in [*spans, (until, until)]:
        if first is not None and last is not None and last >= start:
            longest = max(
                longest, ((min(first, until) - moving).days, moving, min(first, until)), key=lambda gap: gap[0]
            )
            moving = max(moving, last)
    return longest


def _standing(
    system_id: str,
    gap: _Gap,
    group: list[WetSection],
    dosed: dict[str, list[Treatment]],
    moved: dict[str, list[Treatment]],
) -> Finding:
    names = [wet.id for wet in group]
    days, since, until = gap
    return Finding(
        RULE,
        Outcome.FAIL,
        f"No circulation is recorded for {'section' if len(names) == 1 else 'sections'} {listed(names)} from "
        f"{day_words(since)} to {day_words(until)}, {days} days.",
        RULE.closes,
        Subject("system", system_id),
        moved[names[0]][-1].source.place("date"),
        (dosed[names[0]][-1].source.place("date"),),
        RULE.whose,
        tuple(names),
    )


def _slow(row: Treatment, names: list[str], least: float) -> Finding:
    blank = row.hours_per_day is None
    said = "does not say how many hours a day" if blank else f"says {row.hours_per_day:g} h a day"
    return Finding(
        RULE,
        Outcome.CANNOT_TELL if blank else Outcome.FAIL,
        f"Circulation record {row.treatment_id} of {'section' if len(names) == 1 else 'sections'} {listed(names)} {said}; at "
        f"least {least:g} h is asked.",
        RULE.closes,
        Subject("treatment", row.treatment_id),
        row.source.place("hours_per_day"),
        (),
        RULE.whose,
        tuple(names),
    )


CHECK = Check(RULE, run)
