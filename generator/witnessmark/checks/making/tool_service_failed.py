"""A tool, jaw or sling was used after a service that it did not pass."""

from collections import defaultdict

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.making.pressed_joints import pressed_joints
from witnessmark.checks.making.service_book import DaysOfUse, ServiceBook, tool_finding, tool_words
from witnessmark.model.day_words import day_words
from witnessmark.model.finding import Finding, Outcome, Rule, Severity
from witnessmark.model.project import Project
from witnessmark.model.records import Joint
from witnessmark.model.source import SourceLocation
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="tool-service-failed",
    question="Did every tool, jaw and sling pass its last service before it was used?",
    severity=Severity.BREAKS,
    closes="Add the record of the repair if there was one before the press; else cut out and look at a sample of these joints, and record what was found.",
    whose="the subcontractor who made the joints",
    what="The result of the last service of each tool, jaw or sling on or before each press date: 'pass' and 'repaired' count as passed, a blank cannot be told. Tools without a service before the press are asked for by another question.",
    why="A tool that was found wanting and used all the same makes every later joint doubtful.",
    example="Press tool PT-06 did not pass its service on 3 March 2026; 12 joints, the first of them J014, were pressed between 4 March 2026 and 9 March 2026.",
    passes="Press tool PT-06 did not pass its service on 3 March 2026, was repaired on 5 March 2026, and pressed joint J014 on 6 March 2026.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every tool, jaw and sling that pressed a joint and was serviced before."""
    pressed = pressed_joints(project)
    book = ServiceBook(project.records.tool_services)
    examined, findings = 0, []
    for field in ("tool_id", "jaw_id"):
        for tool_id, days in pressed.days_of(field).items():
            if book.of(tool_id):
                examined += 1
                findings += _findings(project, book, tool_id, days, field)
    return Answer(examined, tuple(findings))


def _findings(project: Project, book: ServiceBook, tool_id: str, days: DaysOfUse, field: str) -> list[Finding]:
    name = tool_words(tool_id, project.tools.get(tool_id))
    told: dict[tuple[Outcome, str, SourceLocation], list[Joint]] = defaultdict(list)
    for day, pressed in days.items():
        last = book.last(tool_id, day) if day is not None else None
        if last is None or last[1].result in ("pass", "repaired"):
            continue
        on, place = day_words(last[0]), last[1].source.place("result")
        if last[1].result == "fail":
            told[Outcome.FAIL, f"{name} did not pass its service on {on}", place].extend(pressed)
        else:
            told[Outcome.CANNOT_TELL, f"The service of {name} on {on} gives no result", place].extend(pressed)
    findings = []
    for outcome in (Outcome.FAIL, Outcome.CANNOT_TELL):
        rows = [
            (sentence, place, sorted(group, key=lambda joint: joint.joint_id))
            for (kind, sentence, place), group in told.items()
            if kind is outcome
        ]
        if rows:
            remedy = (
                ""
                if outcome is Outcome.FAIL
                else "Write the result of the service in its row, from the service record."
            )
            findings.append(tool_finding(RULE, outcome, tool_id, rows, field, remedy=remedy))
    return findings


CHECK = Check(RULE, run)
