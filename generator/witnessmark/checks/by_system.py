"""Answers that cannot be given for many subjects of one system, told once, with what would let them be given."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, field

from witnessmark.model.finding import Finding, Outcome, Rule, Subject
from witnessmark.model.project import Project
from witnessmark.model.source import SourceLocation


@dataclass(slots=True)
class _Gap:
    reasons: dict[str, None] = field(default_factory=dict)
    subjects: dict[str, None] = field(default_factory=dict)
    sections: dict[str, None] = field(default_factory=dict)
    places: dict[SourceLocation, None] = field(default_factory=dict)


class GapsBySystem:
    """Collects gaps; one finding a system comes of them."""

    def __init__(self, rule: Rule, project: Project, kind: str) -> None:
        self._rule = rule
        self._project = project
        self._kind = kind
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
        gap = self._gaps[", ".join(systems) or "no system"]
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
        reasons, subjects = sorted(gap.reasons), list(gap.subjects)
        more = f", and {len(reasons) - 4} more" if len(reasons) > 4 else ""
        who = f"{self._kind} {subjects[0]}" if len(subjects) == 1 else f"{len(subjects)} {self._kind}s"
        places = list(gap.places)
        return Finding(
            self._rule,
            Outcome.CANNOT_TELL,
            f"System {system}: it cannot be told for {who}. Missing: {'; '.join(reasons[:4])}{more}.",
            self._rule.closes,
            Subject("system", system),
            places[0] if places else None,
            tuple(places[1:20]),
            self._rule.whose,
            tuple(gap.sections),
        )
