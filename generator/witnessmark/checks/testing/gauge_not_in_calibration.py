"""A gauge was not in calibration on the day of a test."""

import datetime
from collections import defaultdict

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.testing.stage_answers import answers
from witnessmark.model.day_words import day_words
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.workings.stage_point import Point
from witnessmark.workings.test_verdict import StageVerdict
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="gauge-not-in-calibration",
    question="Was every gauge in calibration on the day of the test?",
    severity=Severity.BREAKS,
    closes="Have the gauge calibrated after use and found right, or test again.",
    whose="the contractor handing over",
    what="Calibrations of the very gauge, by serial number, against the date of the test. One finding tells all tests "
    "that stand on the same fault of a gauge.",
    why="A reading is worth what the gauge is worth.",
    example="The calibration of gauge G-10 was due on 3 March 2026. It was used on 4 March 2026 in PT-014.",
    passes="G-10 was calibrated on 4 March 2026, due on 4 March 2027, and used on 9 May 2026.",
)


def run(project: Project, workings: Workings) -> Answer:
    """Look at every stage that claims a pass; what one gauge lacks is told once."""
    found = answers(RULE, project, workings, ("calibration",))
    unknown = tuple(finding for finding in found.findings if finding.outcome is not Outcome.FAIL)
    failed: dict[tuple[str, str], list[tuple[StageVerdict, Point]]] = defaultdict(list)
    for verdict in workings.verdicts.values():
        point = verdict.answer("calibration")
        if point is not None and point.outcome is Outcome.FAIL and verdict.counts and verdict.scope.sections:
            failed[verdict.stage.instrument_id or "", point.sentence.partition("; the test was")[0]].append(
                (verdict, point)
            )
    findings = [_finding(gauge, stages) for (gauge, _), stages in failed.items()]
    return Answer(found.examined, (*findings, *unknown))


def _finding(gauge: str, stages: list[tuple[StageVerdict, Point]]) -> Finding:
    tests = list(dict.fromkeys(verdict.stage.test_id for verdict, _ in stages))
    more = f" and {len(tests) - 8} more" if len(tests) > 8 else ""
    days = sorted({verdict.stage.date for verdict, _ in stages if verdict.stage.date is not None})
    fault = stages[0][1].sentence.partition("; the test was")[0].rstrip(".")
    places = [verdict.stage.source.place("instrument_id") for verdict, _ in stages]
    return Finding(
        RULE,
        Outcome.FAIL,
        f"{fault}. It was used {_days(days)} in {', '.join(tests[:8])}{more}.",
        _remedy(gauge, fault),
        Subject("instrument", gauge),
        stages[0][1].location or places[0],
        tuple(places[:20]),
        RULE.whose,
        tuple(dict.fromkeys(name for verdict, _ in stages for name in verdict.stage.section_ids)),
    )


def _days(days: list[datetime.date]) -> str:
    if not days or len(days) == 1:
        return f"on {day_words(days[0])}" if days else "on a day that is not recorded"
    return f"between {day_words(days[0])} and {day_words(days[-1])}"


def _remedy(gauge: str, fault: str) -> str:
    again = f"have gauge {gauge} calibrated now and found right, or test again"
    if " names serial " in fault:
        return f"Add the certificate of this very gauge, or correct the serial that is written wrong; else {again}."
    if fault.startswith("Gauge") and " failed " in fault:
        return "Test again with a gauge that is in calibration."
    return f"Add the calibration that covers these days, if there is one; else {again}."


CHECK = Check(RULE, run)
