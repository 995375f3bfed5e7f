"""Joints by the material of their tube, and what of a finding concerns one material."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass

from witnessmark.checks.joint_groups import NOT_THERE
from witnessmark.model.finding import Finding
from witnessmark.model.project import Project
from witnessmark.model.records import Joint
from witnessmark.workings.work import Workings

_ORDER = ("copper", "stainless_steel", "carbon_steel")


@dataclass(frozen=True, slots=True)
class Touched:
    """Joints and sections of one material, each once: sections whose tube alone is of it have no joint here."""

    joint_ids: tuple[str, ...]
    section_ids: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Concern:
    """What one finding concerns of a material: joints by name, and sections with all their joints."""

    joint_ids: frozenset[str] = frozenset()
    section_ids: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class MaterialJoints:
    """The joints in the pipework with a tube of one material, and the sections that have such a tube or joint."""

    material: str
    joints: tuple[Joint, ...]
    section_ids: tuple[str, ...]
    system_ids: tuple[str, ...]
    _own: frozenset[str]
    _own_joints: frozenset[str]
    _sections_of_system: dict[str, tuple[str, ...]]
    _joints_of_section: dict[str, tuple[str, ...]]
    _section_of_joint: dict[str, str | None]

    @property
    def words(self) -> str:
        """'carbon steel'."""
        return self.material.replace("_", " ")

    @property
    def joint_ids(self) -> tuple[str, ...]:
        """Ids in the order read, each once."""
        return tuple(self._section_of_joint)

    def touched(self, section_ids: Iterable[str]) -> Touched:
        """The joints of this material in those sections, and the sections."""
        return self.together([Concern(section_ids=frozenset(section_ids))])

    def together(self, parts: Iterable[Concern]) -> Touched:
        """What several findings concern, in the order of the records."""
        joints: set[str] = set()
        sections: set[str] = set()
        for part in parts:
            joints |= part.joint_ids
            sections |= part.section_ids
        for section in sections:
            joints.update(self._joints_of_section.get(section, ()))
        named = tuple(joint for joint in self._section_of_joint if joint in joints) if joints else ()
        sections.update(filter(None, map(self._section_of_joint.get, named)))
        return Touched(named, tuple(section for section in self.section_ids if section in sections) if sections else ())

    def concerned(self, finding: Finding) -> Concern | None:
        """What of this material a finding concerns; ``None`` where it has nothing to do with the material.

        A finding about the project as a whole concerns every joint; one about a material only those of that one.
        """
        subject = finding.subject
        if subject.kind in ("material", "guarantee") and subject.id in _ORDER and subject.id != self.material:
            return None
        named = finding.joint_ids or ((subject.id,) if subject.kind == "joint" else ())
        if named:
            joints = self._own_joints.intersection(named)
            return Concern(joints) if joints else None
        asked: Iterable[str] = finding.section_ids
        if not finding.section_ids:
            if subject.kind == "system":
                asked = self._sections_of_system.get(subject.id, ())
            else:
                asked = (subject.id,) if subject.kind == "section" else self.section_ids
        mine = self._own.intersection(asked)
        return Concern(section_ids=mine) if mine else None


def materials_of(project: Project, workings: Workings) -> tuple[MaterialJoints, ...]:
    """Joints by material, for every material that joints, tubes or guarantee terms name.

    A joint without a material has that of its section's tubes where these are of one material; else it is in none.
    """
    only = {
        section_id: worked.materials[0]
        for section_id, worked in workings.sections.items()
        if len(worked.materials) == 1
    }
    joints: dict[str, list[Joint]] = defaultdict(list)
    sections: dict[str, dict[str, None]] = defaultdict(dict)
    for section_id, worked in workings.sections.items():
        for material in worked.materials:
            sections[material][section_id] = None
    for joint in project.records.joints:
        if joint.status in NOT_THERE:
            continue
        material = joint.material_tube or only.get(joint.section_id or "", "")
        if material:
            joints[material].append(joint)
            if joint.section_id is not None:
                sections[material][joint.section_id] = None
    named = {*joints, *sections, *project.settings.guarantee}
    order = [*(material for material in _ORDER if material in named), *sorted(named - set(_ORDER))]
    return tuple(_material(project, material, joints[material], sections[material]) for material in order)


def _material(project: Project, material: str, joints: list[Joint], sections: Iterable[str]) -> MaterialJoints:
    of_section: dict[str, dict[str, None]] = defaultdict(dict)
    for joint in joints:
        if joint.section_id is not None:
            of_section[joint.section_id][joint.joint_id] = None
    section_ids = tuple(section_id for section_id in project.sections if section_id in sections)
    of_system: dict[str, list[str]] = defaultdict(list)
    for section_id in section_ids:
        of_system[project.sections[section_id].system_id or ""].append(section_id)
    return MaterialJoints(
        material,
        tuple(joints),
        section_ids,
        tuple(system_id for system_id in project.systems if system_id in of_system),
        frozenset(section_ids),
        frozenset(joint.joint_id for joint in joints),
        {system_id: tuple(members) for system_id, members in of_system.items()},
        {section_id: tuple(members) for section_id, members in of_section.items()},
        {joint.joint_id: joint.section_id for joint in joints},
    )
