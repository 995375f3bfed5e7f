"""Which valves stand at a section, and how many of its ends need one."""

import weakref
from collections import defaultdict
from dataclasses import dataclass, field

from witnessmark.model.project import Project
from witnessmark.model.records import Node, Section, System, Valve

ENDS_HERE = frozenset({"plant", "terminal", "cap", "drain", "vent"})
"""Kinds of node at which the pipework stops: nothing beyond them has to be shut off, and nothing feeds from there."""
NOT_IN_PLACE = frozenset({"planned", "removed"})


@dataclass(frozen=True, slots=True)
class ValveRegister:
    """Valves by the sections that they name, by the node at which they sit, and the kinds kept for each system."""

    of_section: dict[str, list[Valve]] = field(default_factory=dict)
    at_node: dict[str, list[Valve]] = field(default_factory=dict)
    kinds_of_system: dict[str, set[str]] = field(default_factory=dict)


_latest: list[tuple[weakref.ref[Project], ValveRegister]] = []


def valve_register(project: Project) -> ValveRegister:
    """The register of a project, put together once for all questions."""
    if not _latest or _latest[0][0]() is not project:
        _latest[:] = [(weakref.ref(project), _put_together(project))]
    return _latest[0][1]


def _put_together(project: Project) -> ValveRegister:
    of_section: dict[str, list[Valve]] = defaultdict(list)
    at_node: dict[str, list[Valve]] = defaultdict(list)
    kinds: dict[str, set[str]] = defaultdict(set)
    for valve in sorted(project.records.valves, key=lambda row: row.valve_id):
        if valve.node_id is not None:
            at_node[valve.node_id].append(valve)
        for section_id in valve.section_ids:
            of_section[section_id].append(valve)
            section = project.sections.get(section_id)
            if section is not None and section.system_id is not None and valve.kind is not None:
                kinds[section.system_id].add(valve.kind)
    return ValveRegister(dict(of_section), dict(at_node), dict(kinds))


def sections_in_place(project: Project) -> list[tuple[Section, System]]:
    """Sections that stand and have a system, in the order of their ids."""
    return [
        (section, system)
        for section in sorted(project.records.sections, key=lambda row: row.section_id)
        if section.status not in NOT_IN_PLACE and (system := project.systems.get(section.system_id or "")) is not None
    ]


def ends(project: Project, section: Section) -> list[Node | None]:
    """The nodes at both ends of a section; ``None`` for an end that the records do not know."""
    return [project.nodes.get(name) if name else None for name in (section.from_node, section.to_node)]


def has_kind(register: ValveRegister, project: Project, section: Section, kind: str) -> bool:
    """Whether a valve of this kind names the section or sits at one of its ends, or the end itself is of this kind."""
    if any(valve.kind == kind for valve in register.of_section.get(section.section_id, ())):
        return True
    for node in ends(project, section):
        if node is not None and (
            node.kind == kind or any(valve.kind == kind for valve in register.at_node.get(node.node_id, ()))
        ):
            return True
    return False
