"""Whether the records support handover, in one line; what is still to be done; days to completion and to register."""

import datetime
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

from witnessmark.checks.judgement import Judgement
from witnessmark.engineering.calendar_terms import days_between
from witnessmark.evidence.actions import Action, shortest_list
from witnessmark.evidence.chain_state import Chain, ChainState
from witnessmark.model.day_words import day_words
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings


@dataclass(frozen=True, slots=True)
class Deadline:
    """A day that counts, and its distance from the day of the issue: negative where it has passed."""

    kind: str
    """'completion' or 'registration'."""
    material: str
    """Of a registration; '' of the completion."""
    day: datetime.date
    days: int
    section_ids: tuple[str, ...]
    """Sections with that last day to register; empty for the completion."""
    sentence: str


@dataclass(frozen=True, slots=True)
class Readiness:
    """The line, whether the records support handover as they stand, the dates, and the acts."""

    supports: bool
    """Whether every link is shown or its departure accepted."""
    sentence: str
    """The whole line, dates included."""
    verdict: str
    """Its first sentence alone."""
    deadlines: tuple[Deadline, ...]
    actions: tuple[Action, ...]
    """What would get there, in the order of what it brings."""


def readiness_of(project: Project, workings: Workings, judgement: Judgement, pack: Chain) -> Readiness:
    """Work the readiness out; days are counted from the day of the issue, never from a clock."""
    deadlines = (*_completion(project), *_registrations(project, workings))
    verdict = _verdict(pack)
    known = [deadline.sentence for deadline in deadlines]
    if project.settings.completion_date is None:
        known.insert(0, "The day of completion is not stated.")
    dates = _joined(known)
    return Readiness(
        pack.state in (ChainState.COMPLETE, ChainState.CONCEDED),
        f"{verdict} {dates}".rstrip(),
        verdict,
        deadlines,
        shortest_list(project, judgement.findings),
    )


def _verdict(pack: Chain) -> str:
    unasked = ""
    if pack.unasked:
        unasked = f" {_counted(pack.unasked, 'question was', 'questions were')} not asked."
    if pack.state is ChainState.COMPLETE:
        return f"The records support handover: they show every link of {_counted(pack.joints, 'joint')}.{unasked}"
    if pack.state is ChainState.CONCEDED:
        departures = _counted(pack.conceded, "departure was", "departures were")
        return f"The records support handover, and {departures} accepted.{unasked}"
    if pack.first is None:
        return f"The records do not yet support handover. {pack.sentence}{unasked}"
    parts = []
    if pack.broken:
        parts.append(_counted(pack.broken, "link is", "links are") + " broken")
    if pack.unproven:
        parts.append(f"{pack.unproven:,} cannot be told")
    if pack.weak:
        parts.append(f"{pack.weak:,} {'is' if pack.weak == 1 else 'are'} weak")
    if pack.state is ChainState.WEAK:
        return f"The records do not yet support handover without explanation: {parts[-1]}, none is broken.{unasked}"
    return f"The records do not yet support handover: {', '.join(parts)}.{unasked}"


def _completion(project: Project) -> list[Deadline]:
    day, today = project.settings.completion_date, project.settings.issue.date
    if day is None:
        return []
    days = days_between(today, day)
    if days > 0:
        words = f"{_counted(days, 'day')} to completion ({day_words(day)})"
    elif days == 0:
        words = f"Completion is on the day of this issue ({day_words(day)})"
    else:
        words = f"Completion was {_counted(-days, 'day')} before this issue ({day_words(day)})"
    return [Deadline("completion", "", day, days, (), words)]


def _registrations(project: Project, workings: Workings) -> list[Deadline]:
    """The first last day of each material that is not registered yet."""
    today = project.settings.issue.date
    days: dict[str, dict[datetime.date, list[str]]] = defaultdict(lambda: defaultdict(list))
    for section_id, worked in workings.sections.items():
        for guarantee in worked.guarantees:
            terms = guarantee.terms
            if terms is not None and terms.registered_on is None and guarantee.register_by is not None:
                days[guarantee.material][guarantee.register_by].append(section_id)
    made = []
    for material in sorted(days):
        day = min(days[material])
        left = days_between(today, day)
        name = material.replace("_", " ")
        if left > 0:
            words = f"{name} guarantee to be registered within {_counted(left, 'day')} ({day_words(day)})"
        elif left == 0:
            words = f"{name} guarantee to be registered on the day of this issue"
        else:
            passed = f"{_counted(-left, 'day')} before this issue ({day_words(day)})"
            words = f"{name} guarantee was to be registered {passed}, and no registration is recorded"
        made.append(Deadline("registration", material, day, left, tuple(days[material][day]), words))
    return sorted(made, key=lambda deadline: (deadline.day, deadline.material))


def _joined(parts: Sequence[str]) -> str:
    text = "; ".join(part.removesuffix(".") for part in parts)
    return f"{text[:1].upper()}{text[1:]}." if text else ""


def _counted(number: int, one: str, many: str = "") -> str:
    return f"{number:,} {one if number == 1 else many or one + 's'}"
