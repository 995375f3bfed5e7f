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
    what="Closed circuits with tube of carbon or stainless steel: days from each filling, and from each test that left the "
    "section full of untreated water, to the next dose. Draining and drying after a test ends the count; so does leaving "
    "the section full of treated water. Where nothing followed, the count runs to the day of the issue.",
    why="Oxygen in fresh water eats carbon steel from the first day, and what stands still goes foul.",
    example="Section LTHW-F-R2 was left full of untreated water on 9 March 2026; the first dose was on 27 April 2026, 49 "
    "days later. At most 14 days are allowed.",
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
    late: dict[tuple[str, str, datetime.date], list[tuple[WetSection, _Water, _Water | None]]] = defaultdict(list)
    examined = 0
    for wet in wet_sections(project):
        worked = workings.sections.get(wet.id)
        if not wet.closed or worked is None or _STEEL.isdisjoint(worked.materials):
            continue
        starts = [
            _Water(row.date, "was filled", row.source.place("date")) for row in filled.get(wet.id, ()) if row.date
        ]
        ends = [
            _Water(row.date, "the next dose", row.source.place("date")) for row in dosed.get(wet.id, ()) if row.date
        ]
        for test in project.tests_of_section.get(wet.id, ()):
            day = test.made_safe_date or test.date
            if day is None:
                continue
            if test.made_safe == "left_full_untreated":
                starts.append(_Water(day, "was left full of untreated water", test.source.place("made_safe")))
            elif test.made_safe in _ENDS:
                ends.append(_Water(day, "the next draining or treatment", test.source.place("made_safe")))
        if not starts:
            continue
        examined += 1
        found = _longest(starts, ends, project.settings.issue.date)
        if found is None:
            continue
        start, end = found
        if ((end.day if end else project.settings.issue.date) - start.day).days > allowed:
            late[wet.system.system_id, start.words, start.day].append((wet, start, end))
    return Answer(examined, tuple(_finding(group, allowed, project.settings.issue.date) for group in late.values()))


def _longest(starts: list[_Water], ends: list[_Water], issue: datetime.date) -> tuple[_Water, _Water | None] | None:
    pairs = []
    for start in starts:
        later = [end for end in ends if end.day >= start.day]
        end = min(later, key=lambda one: (one.day, one.place), default=None)
        # A filling with no dose at all is a row that is missing, which another question tells; here only what is stated.
        if end is not None or start.words != "was filled":
            pairs.append((start, end))
    return max(
        pairs,
        key=lambda pair: ((pair[1].day if pair[1] else issue) - pair[0].day, pair[0].words, pair[0].place),
        default=None,
    )


def _finding(group: list[tuple[WetSection, _Water, _Water | None]], allowed: int, issue: datetime.date) -> Finding:
    names = [wet.id for wet, _, _ in group]
    _, start, end = max(group, key=lambda entry: (entry[2].day if entry[2] else issue, entry[0].id))
    many = len(names) > 1
    words = start.words.replace("was ", "were ") if many else start.words
    days = ((end.day if end else issue) - start.day).days
    after = (
        f"{end.words} was on {day_words(end.day)}, {days} days later."
        if end
        else f"no dose is recorded up to the issue of {day_words(issue)}, {days} days later."
    )
    return Finding(
        RULE,
        Outcome.FAIL,
        f"{'Sections' if many else 'Section'} {listed(names)} {words} on {day_words(start.day)}; {after} At most {allowed} "
        "days are allowed.",
        RULE.closes,
        Subject("system", group[0][0].system.system_id),
        start.place,
        (end.place,) if end else (),
        RULE.whose,
        tuple(names),
    )


CHECK = Check(RULE, run)
