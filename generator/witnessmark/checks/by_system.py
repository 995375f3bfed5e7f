"""Answers that cannot be given for many subjects of one system, told once, with what would let them be given."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, field

from witnessmark.model.finding import Finding, Outcome, Rule, Subject
from witnessmark.model.project import Project
from witnessmark.model.source import SourceLocation

_NO_SYSTEM = "no system"
_LONGEST = 200
"""Characters of a list of what is missing."""


@dataclass(slots=True)
class _Gap:
    reasons: dict[str, None] = field(default_factory=dict)
    subjects: dict[str, None] = field(default_factory=dict)
    sections: dict[str, None] = field(default_factory=dict)
    places: dict[SourceLocation, None] = field(default_factory=dict)


class GapsBySystem:
    """Collects gaps; one finding a system comes of them."""

    def __init__(self, rule: Rule, project: Project, kind: str, remedy: str = "") -> None:
        """``remedy`` where more than the record that is missing would close a gap."""
        self._rule = rule
        self._project = project
        self._kind = kind
        self._remedy = remedy
        self._gaps: dict[str, _Gap] = defaultdict(_Gap)

    def add(
        self,
        systems: Sequence[str],
        subject: str,
        reasons: Sequence[str],
        sections: Sequence[str],
        place: SourceLocation | None,
    ) -> None:
        """A subject about which it cannot be told, and why."""
        gap = self._gaps[", ".join(systems) or _NO_SYSTEM]
        gap.reasons.update(dict.fromkeys(reasons))
        gap.subjects[subject] = None
        gap.sections.update(dict.fromkeys(sections))
        if place is not None:
            gap.places[place] = None

    @property
    def subjects(self) -> int:
        """How many subjects were added."""
        return sum(len(gap.subjects) for gap in self._gaps.values())

    def findings(self) -> list[Finding]:
        """One finding a system."""
        return [self._finding(system, gap) for system, gap in self._gaps.items()]

    def _finding(self, system: str, gap: _Gap) -> Finding:
        subjects, places = list(gap.subjects), list(gap.places)
        missing = _listed(sorted(gap.reasons))
        who = f"{self._kind} {subjects[0]}" if len(subjects) == 1 else f"{len(subjects):,} {self._kind}s"
        about = f"System {system}, {who}" if system != _NO_SYSTEM else f"{who[0].upper()}{who[1:]} without a system"
        return Finding(
            self._rule,
            Outcome.CANNOT_TELL,
            f"{about}: the records do not answer '{self._rule.question}' Missing: {missing}.",
            self._remedy or f"Write into the records what is missing: {missing}.",
            Subject("system", system),
            places[0] if places else None,
            tuple(places[1:20]),
            self._rule.whose,
            tuple(gap.sections),
        )


def _listed(reasons: Sequence[str]) -> str:
    """As many as read well in one sentence, and how many more there are."""
    shown = [reasons[0]]
    for reason in reasons[1:4]:
        if len("; ".join([*shown, reason])) > _LONGEST:
            break
        shown.append(reason)
    more = len(reasons) - len(shown)
    return "; ".join(shown) + (f"; and {more:,} more" if more else "")
