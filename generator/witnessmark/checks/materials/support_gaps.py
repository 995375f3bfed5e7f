"""Findings about supports; a cell that is blank for many of them is told once a system."""

from witnessmark.checks.by_system import GapsBySystem
from witnessmark.model.finding import Finding, Outcome, Rule, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Support


class SupportGaps:
    """Collects cells of the supports table that are blank."""

    def __init__(self, rule: Rule, project: Project, remedy: str = "") -> None:
        self._gaps = GapsBySystem(rule, project, "support", remedy)
        self._project = project

    def add(self, support: Support, field: str, words: str) -> None:
        """A cell that is blank, in words that follow 'Missing:'."""
        section = self._project.sections.get(support.section_id) if support.section_id is not None else None
        systems = (section.system_id,) if section is not None and section.system_id is not None else ()
        sections = (section.section_id,) if section is not None else ()
        reason = f"{words}, in the supports table"
        self._gaps.add(systems, support.support_id, (reason,), sections, support.source.place(field))

    def findings(self) -> list[Finding]:
        """One finding a system."""
        return self._gaps.findings()


def support_finding(rule: Rule, outcome: Outcome, support: Support, words: str, field: str) -> Finding:
    """One finding about one support; ``words`` follow 'Support SUP-1 on section S1:'."""
    where = f" on section {support.section_id}" if support.section_id is not None else ""
    return Finding(
        rule,
        outcome,
        f"Support {support.support_id}{where}: {words}",
        rule.closes,
        Subject("support", support.support_id),
        support.source.place(field),
        (),
        rule.whose,
        (support.section_id,) if support.section_id is not None else (),
    )
