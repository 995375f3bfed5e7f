"""Sections of one system with the same fault of rating are one finding."""

from collections.abc import Sequence
from dataclasses import dataclass, field

from witnessmark.model.finding import Finding, Outcome, Rule, Subject
from witnessmark.model.records import Section
from witnessmark.model.source import SourceLocation

_PLACES = 20


@dataclass(slots=True)
class _Alike:
    sections: list[Section] = field(default_factory=list)
    places: dict[SourceLocation, None] = field(default_factory=dict)
    joints: dict[str, None] = field(default_factory=dict)


class SectionsAlike:
    """Collects sections at fault; those that share system and sentence come out as one finding."""

    def __init__(self, rule: Rule) -> None:
        self._rule = rule
        self._groups: dict[tuple[str | None, str], _Alike] = {}

    def add(
        self, section: Section, sentence: str, places: Sequence[SourceLocation], joints: Sequence[str] = ()
    ) -> None:
        """A section at fault, with the cells behind it and the joints concerned where these are not all of it."""
        group = self._groups.setdefault((section.system_id, sentence), _Alike())
        group.sections.append(section)
        group.places.update(dict.fromkeys(places or [section.source.location]))
        group.joints.update(dict.fromkeys(joints))

    def findings(self) -> list[Finding]:
        """One finding a fault and system."""
        return [self._finding(system, sentence, group) for (system, sentence), group in self._groups.items()]

    def _finding(self, system: str | None, sentence: str, group: _Alike) -> Finding:
        names = [section.section_id for section in group.sections]
        alone = len(names) == 1
        who = f"Section {names[0]}" if alone else f"{len(names):,} sections of system {system}"
        places = list(group.places)
        return Finding(
            self._rule,
            Outcome.FAIL,
            f"{who}: {sentence}",
            self._rule.closes,
            Subject("section", names[0]) if alone else Subject("system", system or "no system"),
            places[0],
            tuple(places[1:_PLACES]),
            self._rule.whose,
            tuple(names),
            tuple(group.joints),
        )
