"""Findings about insulations; a cell that is blank for many of them is told once a system."""

from collections.abc import Sequence

from witnessmark.checks.by_system import GapsBySystem
from witnessmark.model.finding import Finding, Outcome, Rule, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Insulation


class InsulationGaps:
    """Collects cells of the insulation table that are blank."""

    def __init__(self, rule: Rule, project: Project, remedy: str = "") -> None:
        self._gaps = GapsBySystem(rule, project, "insulation", remedy)
        self._project = project

    def add(self, insulation: Insulation, field: str, words: str, sections: Sequence[str]) -> None:
        """A cell that is blank, in words that follow 'Missing:'."""
        known = (self._project.sections.get(section_id) for section_id in sections)
        systems = sorted(
            {section.system_id for section in known if section is not None and section.system_id is not None}
        )
        reason = f"{words}, in the insulation table"
        self._gaps.add(systems, insulation.insulation_id, (reason,), tuple(sections), insulation.source.place(field))

    def findings(self) -> list[Finding]:
        """One finding a system."""
        return self._gaps.findings()


def insulation_finding(
    rule: Rule, outcome: Outcome, insulation: Insulation, message: str, field: str, sections: Sequence[str]
) -> Finding:
    """One finding about one insulation."""
    return Finding(
        rule,
        outcome,
        message,
        rule.closes,
        Subject("insulation", insulation.insulation_id),
        insulation.source.place(field),
        (),
        rule.whose,
        tuple(sections),
    )
