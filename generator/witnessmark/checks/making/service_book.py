"""Services of tools, jaws and slings by day: which was the last before a press."""

import datetime
from bisect import bisect_right
from collections import defaultdict
from collections.abc import Mapping, Sequence

from witnessmark.checks.joint_groups import finding_of
from witnessmark.checks.judgement import Answer
from witnessmark.checks.making.press_days import pressed_on
from witnessmark.model.day_words import day_words
from witnessmark.model.finding import Finding, Outcome, Rule, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Joint, Tool, ToolService
from witnessmark.model.source import SourceLocation

DATE_WANTED = (
    "Write the press date, so that it can be read one way only, in the rows of the joints, from the day sheets."
)
DaysOfUse = Mapping[datetime.date | None, list[Joint]]
"""Joints of one tool by press date."""
WORDS = {"press_tool": "Press tool", "jaw": "Jaw", "sling": "Sling", "adapter": "Adapter"}


class ServiceBook:
    """Dated services of each tool, in the order of their days."""

    def __init__(self, services: Sequence[ToolService]) -> None:
        self._of: dict[str, list[tuple[datetime.date, ToolService]]] = defaultdict(list)
        self.undated: dict[str, ToolService] = {}
        for service in services:
            if service.tool_id is None:
                continue
            if service.serviced_on is None:
                self.undated.setdefault(service.tool_id, service)
            else:
                self._of[service.tool_id].append((service.serviced_on, service))
        for dated in self._of.values():
            # Of two services on one day the one that found a fault comes last, and counts.
            dated.sort(key=lambda row: (row[0], row[1].result == "fail", row[1].certificate_no or ""))

    def of(self, tool_id: str) -> list[tuple[datetime.date, ToolService]]:
        """Dated services of the tool."""
        return self._of.get(tool_id, [])

    def last(self, tool_id: str, day: datetime.date) -> tuple[datetime.date, ToolService] | None:
        """The last service on or before the day."""
        dated = self._of.get(tool_id, [])
        at = bisect_right(dated, day, key=lambda row: row[0])
        return dated[at - 1] if at else None

    def following(self, tool_id: str, day: datetime.date) -> tuple[datetime.date, ToolService] | None:
        """The first service after the day."""
        dated = self._of.get(tool_id, [])
        at = bisect_right(dated, day, key=lambda row: row[0])
        return dated[at] if at < len(dated) else None


def is_jaw(tool: Tool | None) -> bool:
    """Whether the tools table lists it as a jaw or sling, or does not say what it is."""
    return tool is not None and tool.kind in ("jaw", "sling", None)


def tool_words(tool_id: str, tool: Tool | None) -> str:
    """'Press tool PT-02', 'Sling SL-108'."""
    return f"{WORDS.get((tool.kind if tool else None) or '', 'Tool')} {tool_id}"


def overdue(rule: Rule, project: Project, used: Mapping[str, DaysOfUse], field: str, words: str) -> Answer:
    """Whether each tool of ``used`` was between a service and the day the next was due on every press date."""
    book = ServiceBook(project.records.tool_services)
    if used and not any(book.of(tool_id) or tool_id in book.undated for tool_id in used):
        return Answer(len(used), (_no_table(rule, project, used, field, words),))
    findings: list[Finding] = []
    for tool_id, days in used.items():
        name = tool_words(tool_id, project.tools.get(tool_id))
        told: dict[tuple[Outcome, str, SourceLocation | None], list[Joint]] = defaultdict(list)
        for day, pressed in days.items():
            answer = _state(book, tool_id, name, day)
            if answer is not None:
                told[answer].extend(pressed)
        for outcome in (Outcome.FAIL, Outcome.CANNOT_TELL):
            rows = [(key, sorted(group, key=_id)) for key, group in told.items() if key[0] is outcome]
            if rows:
                undated = {key for key, _ in rows} == {_undated(book, tool_id, name)}
                findings.append(
                    tool_finding(
                        rule,
                        outcome,
                        tool_id,
                        [(sentence, place, group) for (_, sentence, place), group in rows],
                        "press_date" if undated else field,
                        remedy=DATE_WANTED if undated else "",
                    )
                )
    return Answer(len(used), tuple(findings))


def _state(
    book: ServiceBook, tool_id: str, name: str, day: datetime.date | None
) -> tuple[Outcome, str, SourceLocation | None] | None:
    dated = book.of(tool_id)
    if not dated:
        undated = book.undated.get(tool_id)
        if undated is None:
            return Outcome.CANNOT_TELL, f"{name} has no row in the tool service table", None
        return (
            Outcome.CANNOT_TELL,
            f"The service of {name[0].lower()}{name[1:]} has no date",
            undated.source.place("serviced_on"),
        )
    if day is None:
        return _undated(book, tool_id, name)
    last = book.last(tool_id, day)
    if last is None:
        sentence = f"The first service of {name[0].lower()}{name[1:]} in the records was on {day_words(dated[0][0])}"
        return Outcome.CANNOT_TELL, sentence, dated[0][1].source.place("serviced_on")
    serviced, service = last
    sentence, place = f"{name} was serviced on {day_words(serviced)}", service.source.place("due_on")
    if service.due_on is None:
        return Outcome.CANNOT_TELL, f"{sentence}, and when it was due again is not recorded", place
    if service.due_on < day:
        return Outcome.FAIL, f"{sentence} and was due again on {day_words(service.due_on)}", place
    return None


def _undated(book: ServiceBook, tool_id: str, name: str) -> tuple[Outcome, str, None] | None:
    """The answer for joints without a press date, of a tool with services."""
    dated = book.of(tool_id)
    return (Outcome.CANNOT_TELL, f"{name} was last serviced on {day_words(dated[-1][0])}", None) if dated else None


def _id(joint: Joint) -> str:
    return joint.joint_id


def tool_finding(
    rule: Rule,
    outcome: Outcome,
    tool_id: str,
    rows: Sequence[tuple[str, SourceLocation | None, Sequence[Joint]]],
    field: str,
    *,
    remedy: str = "",
) -> Finding:
    """One finding about a tool: a sentence for each thing that is the matter, and the joints that follow from it."""
    joints = sorted((joint for _, _, group in rows for joint in group), key=_id)
    places = [place for _, place, _ in rows if place is not None]
    return finding_of(
        rule,
        outcome,
        joints,
        Subject("tool", tool_id),
        " ".join(
            sorted(
                f"{sentence}{'' if sentence.endswith(',') else ';'} {pressed_on(group)}." for sentence, _, group in rows
            )
        ),
        field,
        remedy=remedy,
        location=places[0] if places else None,
        related=places[1:],
    )


def _no_table(rule: Rule, project: Project, used: Mapping[str, DaysOfUse], field: str, words: str) -> Finding:
    joints = sorted((joint for days in used.values() for group in days.values() for joint in group), key=_id)
    return finding_of(
        rule,
        Outcome.CANNOT_TELL,
        joints,
        Subject("project", project.settings.id),
        f"The tool service table has no row for {_any(list(used), words)} of the joint log; {pressed_on(joints)}.",
        field,
    )


def _any(tools: Sequence[str], words: str) -> str:
    return tools[0] if len(tools) == 1 else f"any of the {len(tools):,} {words}"
