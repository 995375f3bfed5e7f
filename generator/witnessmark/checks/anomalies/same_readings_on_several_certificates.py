"""Certificates of different sections carry the same readings to the last figure."""

from collections import defaultdict
from typing import Any

from witnessmark.checks.judgement import Answer, Check
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import TestStage
from witnessmark.model.threshold import limit
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="same-readings-on-several-certificates",
    question="Does every test have readings of its own?",
    severity=Severity.WEAKENS,
    closes="Say how it came about: that the sections were tested as one, or which certificate was copied; attach the logger "
    "file, or test again.",
    whose="the tester",
    what="Pressure, time of day and temperature at start and end of every hold, compared over the tests of different "
    "sections. Looked at where pressures, times and a temperature are recorded.",
    why="No two sections warm, settle and hold alike to the last figure. Often several sections were one test; sometimes a "
    "certificate was copied.",
    example="Tests PT-014, PT-015 and PT-016 of different sections have the same pressures (6.1 and 6.1 bar), times (09:30 to "
    "10:30) and temperatures. Please say how that came about.",
    passes="Tests PT-014 and PT-015 held 6.1 bar from 09:30 and 6.2 bar from 11:05, at 12.0 and 12.4 °C.",
    thresholds=("identical-certificates",),
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every hold with pressures, times and a temperature."""
    least = limit(project.settings, "identical-certificates")
    examined = 0
    alike: dict[tuple[Any, ...], list[TestStage]] = defaultdict(list)
    for test in project.records.tests:
        temperatures = (test.pipe_start_c, test.pipe_end_c, test.ambient_start_c, test.ambient_end_c)
        held = (test.start_pressure_bar, test.end_pressure_bar, test.start_time, test.end_time)
        if None not in held and any(value is not None for value in temperatures) and test.section_ids:
            examined += 1
            alike[(*held, *temperatures)].append(test)
    findings = []
    for tests in alike.values():
        if len(tests) >= least:
            by_id = {test.test_id: test for test in sorted(tests, key=lambda t: (t.test_id, t.source.location))}
            sections = {frozenset(test.section_ids) for test in by_id.values()}
            if min(len(by_id), len(sections)) >= least:
                findings.append(_finding(list(by_id.values())))
    return Answer(examined, tuple(findings))


def _finding(tests: list[TestStage]) -> Finding:
    first = tests[0]
    ids = [test.test_id for test in tests]
    shown = f"{', '.join(ids[:4])} and {len(ids) - 4} more" if len(ids) > 5 else f"{', '.join(ids[:-1])} and {ids[-1]}"
    message = (
        f"Tests {shown} of different sections have the same pressures ({first.start_pressure_bar:g} and "
        f"{first.end_pressure_bar:g} bar), times ({first.start_time:%H:%M} to {first.end_time:%H:%M}) and temperatures. "
        "Please say how that came about."
    )
    return Finding(
        RULE,
        Outcome.FAIL,
        message,
        RULE.closes,
        Subject("test", first.test_id),
        first.source.place("start_pressure_bar"),
        tuple(test.source.place("start_pressure_bar") for test in tests[1:20]),
        RULE.whose,
        tuple(sorted({section_id for test in tests for section_id in test.section_ids})),
    )


CHECK = Check(RULE, run)
