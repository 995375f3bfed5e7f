"""The readings of a tester are whole numbers far more often than chance would have it."""

from collections import defaultdict

from witnessmark.checks.anomalies.round_chance import binomial_tail, is_round
from witnessmark.checks.judgement import Answer, Check
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import TestStage
from witnessmark.model.threshold import limit
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="readings-rounder-than-chance",
    question="Do the readings of every tester fall on whole numbers no more often than chance would have it?",
    severity=Severity.WEAKENS,
    closes="Say how the gauge was read and to which step; attach the logger file where there is one, and read to the step of "
    "the gauge from now on.",
    whose="the tester",
    what="Readings that could have been anything: a start that is not the pressure required, and an end that is not the "
    "start. Each step of the gauge is taken to be as likely as another, and the coarsest gauge of the tester counts "
    "for all. Looked at from a least number of readings on.",
    why="A gauge that shows tenths shows a whole bar one time in ten. Readings that always do were rounded, or were not read.",
    example="All 12 readings of tester OP-09 that could have been anything are whole bar, though the gauges show steps of 0.1 bar: "
    "less likely than 1 in 1,000,000. Can you say how they were read?",
    passes="2 of 12 readings of tester OP-09 are whole bar, from gauges with steps of 0.1 bar.",
    thresholds=("round-readings-at-least", "round-readings-chance"),
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at the readings of every tester whose gauges have a known step below 1 bar."""
    least = limit(project.settings, "round-readings-at-least")
    rare = limit(project.settings, "round-readings-chance")
    readings: dict[str, list[tuple[TestStage, str, float, float]]] = defaultdict(list)
    for test in project.records.tests:
        gauge = project.instruments.get(test.instrument_id) if test.instrument_id else None
        step = gauge.resolution_bar if gauge is not None else None
        if test.tester is None or step is None or not 0 < step < 1:
            continue
        start, end = test.start_pressure_bar, test.end_pressure_bar
        if (
            start is not None
            and test.required_pressure_bar is not None
            and abs(start - test.required_pressure_bar) >= step / 2
        ):
            readings[test.tester].append((test, "start_pressure_bar", start, step))
        if start is not None and end is not None and abs(end - start) >= step / 2:
            readings[test.tester].append((test, "end_pressure_bar", end, step))
    examined, findings = 0, []
    for tester, read in sorted(readings.items()):
        if len(read) < least:
            continue
        examined += 1
        whole = [reading for reading in read if is_round(reading[2])]
        coarsest = max(step for *_, step in read)
        chance = binomial_tail(len(read), len(whole), coarsest)
        if chance <= rare:
            findings.append(_finding(tester, len(read), whole, coarsest, chance))
    return Answer(examined, tuple(findings))


def _finding(
    tester: str, count: int, whole: list[tuple[TestStage, str, float, float]], step: float, chance: float
) -> Finding:
    whole = sorted(whole, key=lambda reading: (reading[0].test_id, reading[0].source.location, reading[1]))
    share = f"All {count}" if len(whole) == count else f"{len(whole)} of {count}"
    odds = 10 ** min(9, max(1, len(str(int(1 / max(chance, 1e-9)))) - 1))
    places = [test.source.place(field) for test, field, *_ in whole[:20]]
    return Finding(
        RULE,
        Outcome.FAIL,
        f"{share} readings of tester {tester} that could have been anything are whole bar, though the gauges show steps of "
        f"{step:g} bar or less: less likely than 1 in {odds:,}. Can you say how they were read?",
        RULE.closes,
        Subject("operative", tester),
        places[0],
        tuple(places[1:]),
        RULE.whose,
        tuple(sorted({section_id for test, *_ in whole for section_id in test.section_ids})),
    )


CHECK = Check(RULE, run)
