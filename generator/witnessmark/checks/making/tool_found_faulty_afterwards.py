"""A tool, jaw or sling did not pass its first service after it was used."""

from collections import defaultdict

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.making.pressed_joints import in_id_order, pressed_joints
from witnessmark.checks.making.service_book import DaysOfUse, ServiceBook, tool_finding, tool_words
from witnessmark.model.day_words import day_words
from witnessmark.model.finding import Finding, Outcome, Rule, Severity
from witnessmark.model.project import Project
from witnessmark.model.records import Joint
from witnessmark.model.source import SourceLocation
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="tool-found-faulty-afterwards",
    question="Did every tool, jaw and sling that was serviced after its use pass that service?",
    severity=Severity.WEAKENS,
    closes="Have the service workshop say what was wrong and since when; look at a sample of the joints, the last ones first, and record what was found.",
    whose="the subcontractor who made the joints",
    what="The first service of each tool, jaw or sling after each press date: one with the result 'fail' puts the joints made since the service before in doubt. Tools that were not serviced since have nothing to show yet.",
    why="Nobody knows on which of these days the tool began to press short.",
    example="Press tool PT-06 did not pass its service on 3 March 2026; since the service before, 212 joints, the first of them J014, were pressed between 4 January 2026 and 27 February 2026.",
    passes="Press tool PT-06 passed its service on 3 March 2026, after the last joint was pressed.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every tool, jaw and sling that was serviced after it pressed a joint."""
    pressed = pressed_joints(project)
    book = ServiceBook(project.records.tool_services)
    examined, findings = 0, []
    for field in ("tool_id", "jaw_id"):
        for tool_id, days in pressed.days_of(field).items():
            first = min((day for day in days if day is not None), default=None)
            if first is None or book.following(tool_id, first) is None:
                continue
            examined += 1
            findings += _findings(project, book, tool_id, days, field)
    return Answer(examined, tuple(findings))


def _findings(project: Project, book: ServiceBook, tool_id: str, days: DaysOfUse, field: str) -> list[Finding]:
    name = tool_words(tool_id, project.tools.get(tool_id))
    told: dict[tuple[str, SourceLocation], list[Joint]] = defaultdict(list)
    for day, pressed in days.items():
        following = book.following(tool_id, day) if day is not None else None
        if following is not None and following[1].result == "fail":
            sentence = f"{name} did not pass its service on {day_words(following[0])}; since the service before,"
            told[sentence, following[1].source.place("result")] += pressed
    rows = [(sentence, place, in_id_order([joints])) for (sentence, place), joints in told.items()]
    return [tool_finding(RULE, Outcome.FAIL, tool_id, rows, field)] if rows else []


CHECK = Check(RULE, run)
