"""A press tool made more presses between two services than it may."""

import datetime
from itertools import accumulate

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.making.pressed_joints import in_id_order, pressed_joints
from witnessmark.checks.making.register_gap import register_gaps
from witnessmark.checks.making.service_book import DaysOfUse, ServiceBook, tool_finding, tool_words
from witnessmark.model.day_words import day_words
from witnessmark.model.finding import Finding, Outcome, Rule, Severity
from witnessmark.model.project import Project
from witnessmark.model.records import Joint, Tool
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="tool-counter-beyond-limit",
    question="Did every press tool stay within the presses it may make between two services?",
    severity=Severity.BREAKS,
    closes="Add the service that was made in between; else have the tool checked now and a sample of the joints beyond the limit cut out and looked at, and record both.",
    whose="the subcontractor who made the joints",
    what="For each press tool: the presses of the joint log since its last service, and the difference of its counter from one service to the next, against the presses it may make between services. The log holds the presses of this project only, so the tool may have made more. A tool whose limit is not recorded cannot be told.",
    why="Rollers and jaws wear by the press and not by the calendar.",
    example="Press tool PT-06 may make 10,000 presses between services and made 10,412 between 3 March 2025 and 20 January 2026 by its counter; 212 joints, the first of them J014, were pressed between 4 March 2025 and 19 January 2026.",
    passes="Press tool PT-06 may make 10,000 presses between services and made 9,640 by its counter between 3 March 2025 and 20 January 2026.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every press tool that pressed a joint."""
    used = pressed_joints(project).days_of("tool_id")
    book = ServiceBook(project.records.tool_services)
    unlimited: dict[str, list[Joint]] = {}
    findings: list[Finding] = []
    for tool_id, days in used.items():
        tool = project.tools.get(tool_id)
        if tool is None or tool.cycle_limit is None:
            unlimited[tool_id] = in_id_order(days.values())
        else:
            findings += _beyond(book, tool, tool.cycle_limit, days)
    words = "how many presses it may make between two services"
    findings += register_gaps(RULE, project, "cycle_limit", unlimited, len(used), words, "press tools", "tool_id")
    return Answer(len(used), tuple(findings))


def _beyond(book: ServiceBook, tool: Tool, limit: int, days: DaysOfUse) -> list[Finding]:
    name = f"{tool_words(tool.tool_id, tool)} may make {limit:,} presses between services"
    services = book.of(tool.tool_id)
    rows = []
    for at, (start, service) in enumerate(services):
        end, following = services[at + 1] if at + 1 < len(services) else (datetime.date.max, None)
        between = [day for day in days if day is not None and start <= day < end]
        later = following.cycle_count if following is not None else None
        counted = later - service.cycle_count if later is not None and service.cycle_count is not None else 0
        if following is not None and counted > limit and between:
            sentence = f"{name} and made {counted:,} between {day_words(start)} and {day_words(end)} by its counter"
            joints = in_id_order(days[day] for day in between)
            rows.append((sentence, following.source.place("cycle_count"), joints))
            continue
        total = sum(_presses(joint) for day in between for joint in days[day])
        if total > limit:
            beyond = _past([joint for day in sorted(between) for joint in sorted(days[day], key=_order)], limit)
            sentence = f"{name} and made {total:,} after its service on {day_words(start)} by the joint log alone; beyond the limit,"
            rows.append((sentence, tool.source.place("cycle_limit"), in_id_order([beyond])))
    return [tool_finding(RULE, Outcome.FAIL, tool.tool_id, rows, "tool_id")] if rows else []


def _order(joint: Joint) -> tuple[datetime.time, str]:
    return joint.press_time or datetime.time.min, joint.joint_id


def _presses(joint: Joint) -> int:
    return 1 if joint.press_count is None else joint.press_count


def _past(joints: list[Joint], limit: int) -> list[Joint]:
    """Joints beyond the limit."""
    totals = accumulate(_presses(joint) for joint in joints)
    return [joint for joint, total in zip(joints, totals, strict=True) if total > limit]


CHECK = Check(RULE, run)
