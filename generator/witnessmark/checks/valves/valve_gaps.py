"""Cells of the valves table that are blank: one finding a system."""

from collections import defaultdict
from collections.abc import Callable, Iterable

from witnessmark.model.finding import Finding, Outcome, Rule, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Valve

_PLACES = 20


def system_of(project: Project, valve: Valve) -> str:
    """The system of a valve: that of its node, or of the first section that it names."""
    node = project.nodes.get(valve.node_id or "")
    if node is not None and node.system_id is not None:
        return node.system_id
    for section_id in sorted(valve.section_ids):
        section = project.sections.get(section_id)
        if section is not None and section.system_id is not None:
            return section.system_id
    return "no system"


def told_by_system(
    rule: Rule,
    project: Project,
    valves: Iterable[tuple[Valve, str]],
    words: Callable[[int], str],
    outcome: Outcome = Outcome.CANNOT_TELL,
) -> list[Finding]:
    """One finding a system for valves and the field of each to look at first; ``words`` completes the sentence.

    ``words`` is given the number of valves: 'has no location' or 'have no location'.
    """
    groups: dict[str, list[tuple[Valve, str]]] = defaultdict(list)
    for valve, field in valves:
        groups[system_of(project, valve)].append((valve, field))
    findings = []
    for system_id, group in groups.items():
        group.sort(key=lambda pair: pair[0].valve_id)
        names = [valve.valve_id for valve, _ in group]
        shown = ", ".join(names[:5]) + (f" and {len(names) - 5} more" if len(names) > 5 else "")
        noun = "valve" if len(names) == 1 else "valves"
        places = [valve.source.place(field) for valve, field in group[:_PLACES]]
        findings.append(
            Finding(
                rule,
                outcome,
                f"System {system_id}: {noun} {shown} {words(len(names))}.",
                rule.closes,
                Subject("system", system_id),
                places[0],
                tuple(places[1:]),
                rule.whose,
                tuple(dict.fromkeys(name for valve, _ in group for name in valve.section_ids)),
            )
        )
    return findings
