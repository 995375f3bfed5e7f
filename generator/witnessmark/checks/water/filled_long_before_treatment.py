"""Untreated water stood in steel pipework for too long."""

import datetime
from collections import defaultdict
from dataclasses import dataclass

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.water.water_log import WetSection, listed, treatments_of_section, wet_sections
from witnessmark.model.day_words import day_words
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.source import SourceLocation
from witnessmark.model.threshold import limit
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="filled-long-before-treatment",
    question="Was the water in closed circuits of steel treated soon after they were filled?",
    severity=Severity.WEAKENS,
    closes="Have the water analysed and the pipe looked at for corrosion, clean and dose the circuit, and record what was found.",
    whose="the contractor handing over",
    what="Closed circuits with tube of carbon or stainless steel: days from each filling to the next dose. Draining and "
    "drying after a test ends the count; so does leaving the section full of treated water. A filling with no dose at all, "
    "and a test that left the section full, are asked about by other questions.",
    why="Oxygen in fresh water eats carbon steel from the first day, and what stands still goes foul.",
    example="Section LTHW-F-R2 was filled on 9 March 2026; the next dose was on 27 April 2026, 49 days "
    "later. At most 14 days are allowed.",
    passes="Section LTHW-F-R2 was filled on 9 March 2026 and dosed on 11 March 2026.",
    thresholds=("fill-to-treatment-days",),
)
_STEEL = frozenset({"carbon_steel", "stainless_steel"})
_ENDS = frozenset({"drained_dried", "left_full_treated"})


@dataclass(frozen=True, slots=True)
class _Water:
    day: datetime.date
    words: str
    place: SourceLocation


def run(project: Project, workings: Workings) -> Answer:
    """Look at every filling of every section; one finding a system and pair of days."""
    allowed = int(limit(project.settings, "fill-to-treatment-days"))
    dosed = treatments_of_section(project, "dose")
    filled = treatments_of_section(project, "fill")
    late: dict[tuple[str, datetime.date], list[tuple[WetSection, _Water, _Water]]] = defaultdict(list)
    examined = 0
    for wet in wet_sections(project):
        worked = workings.sections.get(wet.id)
        if not wet.closed or worked is None or _STEEL.isdisjoint(worked.materials):
            continue
        starts = [_Water(row.date, "", row.source.place("date")) for row in filled.get(wet.id, ()) if row.date]
        ends = [
            _Water(row.date, "the next dose", row.source.place("date")) for row in dosed.get(wet.id, ()) if row.date
        ]
        for test in project.tests_of_section.get(wet.id, ()):
            day = test.made_safe_date or test.date
            if day is None:
                continue
            if test.made_safe in _ENDS:
                ends.append(_Water(day, "the next draining or treatment", test.source.place("made_safe")))
        if not starts:
            continue
        examined += 1
        found = _longest(starts, ends)
        if found is not None and (found[1].day - found[0].day).days > allowed:
            late[wet.system.system_id, found[0].day].append((wet, *found))
    return Answer(examined, tuple(_finding(group, allowed) for group in late.values()))


def _longest(starts: list[_Water], ends: list[_Water]) -> tuple[_Water, _Water] | None:
    pairs = []
    for start in starts:
        later = [end for end in ends if end.day >= start.day]
        if later:
            pairs.append((start, min(later, key=lambda one: (one.day, one.place))))
    return max(pairs, key=lambda pair: (pair[1].day - pair[0].day, pair[0].place), default=None)


def _finding(group: list[tuple[WetSection, _Water, _Water]], allowed: int) -> Finding:
    names = [wet.id for wet, _, _ in group]
    _, start, end = max(group, key=lambda entry: (entry[2].day, entry[0].id))
    many = len(names) > 1
    days = (end.day - start.day).days
    return Finding(
        RULE,
        Outcome.FAIL,
        f"{'Sections' if many else 'Section'} {listed(names)} {'were' if many else 'was'} filled on {day_words(start.day)}; "
        f"{end.words} was on {day_words(end.day)}, {days} days later. At most {allowed} days are allowed.",
        RULE.closes,
        Subject("system", group[0][0].system.system_id),
        start.place,
        (end.place,),
        RULE.whose,
        tuple(names),
    )


CHECK = Check(RULE, run)
