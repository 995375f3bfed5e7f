"""Chase lists: the open findings of a project by who has to close them, ready to send. Roles and codes, no names."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass

from witnessmark.model.finding import Finding, Outcome
from witnessmark.model.project import Project

SUBCONTRACTOR = "subcontractor"
"""A role with this word is whoever made the section: the lists go by the subcontractor that its row names."""
_NOT_RECORDED = "Subcontractor not recorded"


@dataclass(frozen=True, slots=True)
class ChaseItem:
    """A finding as it concerns one addressee: only that one's sections and joints."""

    finding: Finding
    section_ids: tuple[str, ...]
    joint_ids: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ChaseList:
    """What one addressee has to close, in the order in which to do it."""

    addressee: str
    items: tuple[ChaseItem, ...]


def chase_lists(project: Project, findings: Iterable[Finding]) -> tuple[ChaseList, ...]:
    """A list an addressee: subcontractors by their codes first, then roles. Waived findings are in none."""
    own: dict[str, list[ChaseItem]] = defaultdict(list)
    roles: dict[str, list[ChaseItem]] = defaultdict(list)
    section_of = {joint.joint_id: joint.section_id for joint in project.records.joints}
    for finding in findings:
        if finding.outcome is Outcome.WAIVED:
            continue
        role = finding.whose or finding.rule.whose
        if SUBCONTRACTOR not in role.casefold():
            roles[role].append(ChaseItem(finding, finding.section_ids, finding.joint_ids))
            continue
        parts: dict[str, list[str]] = defaultdict(list)
        for section_id in finding.section_ids:
            section = project.sections.get(section_id)
            parts[(section.subcontractor if section else None) or _NOT_RECORDED].append(section_id)
        for name, section_ids in (parts or {_NOT_RECORDED: []}).items():
            inside = set(section_ids)
            joints = tuple(joint for joint in finding.joint_ids if section_of.get(joint) in inside)
            own[name].append(ChaseItem(finding, tuple(section_ids), joints))
    return tuple(
        ChaseList(addressee[:1].upper() + addressee[1:], tuple(group[addressee]))
        for group in (own, roles)
        for addressee in sorted(group)
    )
