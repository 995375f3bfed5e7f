"""State of the evidence chain of a joint, a section, a system and the pack: never better than its worst link."""

from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from functools import cached_property

from witnessmark.checks.joint_groups import NOT_THERE
from witnessmark.checks.judgement import Judgement
from witnessmark.checks.registry import RULES
from witnessmark.checks.structure import section_without_joints
from witnessmark.evidence.chain_state import Chain, ChainState, link_state
from witnessmark.model.day_words import day_words
from witnessmark.model.finding import Finding, Outcome
from witnessmark.model.project import Project
from witnessmark.model.records import Section

__all__ = ["Chain", "ChainBook", "ChainState", "link_state"]

_NOT_IN_USE = ("planned", "removed")


class ChainBook:
    """Chains of all that a project holds.

    A finding concerns its joints where it names some; else the joint that it is about; else every joint of its
    sections. It concerns its sections and those of its joints, their systems, the system that it is about, and the
    pack. The first link is the first in the order of the registry among the findings that make the state.

    Questions that were not asked (their records have no table yet, they stand on another that failed, they stopped
    on an error) are counted as ``unasked`` and change no state: the first sort would make every pack of every project
    alike, and the other two show by a finding of their own. They are to be shown beside a complete chain.

    An id that the records do not hold is unproven: nothing is recorded of it.
    """

    def __init__(self, project: Project, judgement: Judgement) -> None:
        self._project = project
        self.unasked = sum(1 for run in judgement.runs if run.skipped)
        order = {rule.slug: place for place, rule in enumerate(RULES)}
        last = len(ChainState)
        counted = [(f, link_state(f)) for f in judgement.findings if f.outcome is not Outcome.PASS]
        counted.sort(key=lambda pair: (pair[1].rank if pair[1] else last, order.get(pair[0].rule.slug, len(order))))
        self._findings = [finding for finding, _ in counted]
        self._states = [state for _, state in counted]
        self._section_of_joint: dict[str, str | None] = {}
        self._more_sections: dict[str, list[str]] = {}
        for joint in project.records.joints:
            held = self._section_of_joint.setdefault(joint.joint_id, joint.section_id)
            if held != joint.section_id and joint.section_id is not None:
                self._more_sections.setdefault(joint.joint_id, []).append(joint.section_id)
        self._system_of_section = {s.section_id: s.system_id for s in project.records.sections}
        self._looked_up: dict[tuple[int, str, str], list[tuple[Sequence[str], dict[str, None]]]] = {}
        self._joints_named: list[tuple[int, Sequence[str]]] = []
        self._of_whole_section: dict[str, list[int]] = defaultdict(list)
        self._of_section: dict[str, list[int]] = defaultdict(list)
        self._of_system: dict[str, list[int]] = defaultdict(list)
        for place, finding in enumerate(self._findings):
            self._enter(place, finding)
        self._looked_up.clear()

    def _enter(self, place: int, finding: Finding) -> None:
        joints: Sequence[str] = finding.joint_ids
        if not joints and finding.subject.kind == "joint" and finding.subject.id in self._section_of_joint:
            joints = (finding.subject.id,)
        sections = dict.fromkeys(finding.section_ids)
        if not sections and not joints and finding.subject.kind == "section":
            sections[finding.subject.id] = None
        if not joints:
            for section_id in sections:
                self._of_whole_section[section_id].append(place)
        if joints:
            self._joints_named.append((place, joints))
            sections.update(self._sections_of(joints))
        for section_id in sections:
            self._of_section[section_id].append(place)
        systems = dict.fromkeys(filter(None, map(self._system_of_section.get, sections)))
        if finding.subject.kind == "system":
            systems[finding.subject.id] = None
        for system_id in systems:
            self._of_system[system_id].append(place)

    def _sections_of(self, joints: Sequence[str]) -> dict[str, None]:
        # One gap in many columns names the same thousands of joints over and over: they are looked up once.
        alike = self._looked_up.setdefault((len(joints), joints[0], joints[-1]), [])
        for seen, sections in alike:
            if seen == joints:
                return sections
        sections = dict.fromkeys(filter(None, map(self._section_of_joint.get, joints)))
        for joint_id in self._more_sections.keys() & set(joints) if self._more_sections else ():
            sections.update(dict.fromkeys(self._more_sections[joint_id]))
        alike.append((joints, sections))
        return sections

    def joint(self, joint_id: str) -> Chain:
        """The chain of one joint; rows that share an id share a chain."""
        rows = self._rows_of_joint.get(joint_id)
        if rows is None:
            return self._chain((), f"The records hold no joint {joint_id}.", True, "", 0)
        there = [status for status in rows if status not in NOT_THERE]
        gone = f"Joint {joint_id} is recorded as {(rows[0] or '').replace('_', ' ')}: nothing is asked of it."
        full = self._full(f"joint {joint_id}") if there else gone
        return self._chain(self._places_of_joint(joint_id), "", False, full, len(there))

    def section(self, section_id: str) -> Chain:
        """The chain of a section: its own findings and those of its joints."""
        section = self._project.sections.get(section_id)
        joints = self._joints_there.get(section_id, 0)
        if section is None:
            return self._chain(self._of_section.get(section_id, ()), f"The records hold no section {section_id}.", True)
        full = self._full(f"section {section_id}", joints) if joints else _without_joints(section)
        missing = f"No joint of section {section_id} is recorded as made."
        places = self._of_section.get(section_id, ())
        return self._chain(places, missing, section_id in self._unrecorded, full, joints)

    def system(self, system_id: str) -> Chain:
        """The chain of a system: its own findings and those of its sections."""
        sections = [s.section_id for s in self._project.sections_of_system.get(system_id, ())]
        unrecorded = [section_id for section_id in sections if section_id in self._unrecorded]
        missing = (
            f"No joint of section {unrecorded[0]} is recorded as made."
            if unrecorded
            else f"No section of system {system_id} is recorded."
        )
        joints = sum(self._joints_there.get(section_id, 0) for section_id in dict.fromkeys(sections))
        full = self._full(f"system {system_id}", joints)
        return self._chain(self._of_system.get(system_id, ()), missing, bool(unrecorded) or not sections, full, joints)

    @cached_property
    def pack(self) -> Chain:
        """The chain of the pack: every finding there is."""
        sections, systems = self._project.sections, self._project.systems
        empty = next((s for s in systems if not self._project.sections_of_system.get(s)), None)
        unrecorded = next(iter(self._unrecorded), None)
        missing = "The records hold no joint."
        if unrecorded is not None:
            missing = f"No joint of section {unrecorded} is recorded as made."
        elif sections and empty is not None:
            missing = f"No section of system {empty} is recorded."
        joints = sum(1 for joint in self._project.records.joints if joint.status not in NOT_THERE)
        nothing = unrecorded is not None or empty is not None or not sections
        return self._chain(range(len(self._findings)), missing, nothing, self._full("the pack", joints), joints)

    @cached_property
    def joint_states(self) -> dict[str, ChainState]:
        """State of every joint by id, in the order read, without the sentences."""
        last = len(self._findings)
        first: dict[str, int] = {}
        left = set(self._section_of_joint)
        for place, joints in self._joints_named:
            # The worst comes first: what it names needs no further look.
            found = left.intersection(joints)
            first.update(dict.fromkeys(found, place))
            left -= found
            if not left:
                break
        states = [state or ChainState.COMPLETE for state in self._states] + [ChainState.COMPLETE]
        whole = {section_id: places[0] for section_id, places in self._of_whole_section.items()}
        made = {}
        for joint_id, section_id in self._section_of_joint.items():
            place = min(first.get(joint_id, last), whole.get(section_id or "", last))
            for other in self._more_sections.get(joint_id, ()):
                place = min(place, whole.get(other, last))
            made[joint_id] = states[place]
        return made

    @cached_property
    def section_states(self) -> dict[str, ChainState]:
        """State of every section by id, in the order read."""
        return {
            section_id: ChainState.UNPROVEN
            if section_id in self._unrecorded and state.rank > ChainState.UNPROVEN.rank
            else state
            for section_id in self._project.sections
            for state in [self._state(self._of_section.get(section_id, ()))]
        }

    @cached_property
    def system_states(self) -> dict[str, ChainState]:
        """State of every system by id, in the order read."""
        return {system_id: self.system(system_id).state for system_id in self._project.systems}

    def findings_of_joint(self, joint_id: str) -> tuple[Finding, ...]:
        """Every finding that concerns the joint, its own and its sections', worst first."""
        return tuple(self._findings[place] for place in sorted(set(self._places_of_joint(joint_id))))

    def findings_of_section(self, section_id: str) -> tuple[Finding, ...]:
        """Every finding that concerns the section or a joint of it, worst first."""
        return tuple(self._findings[place] for place in self._of_section.get(section_id, ()))

    @cached_property
    def _of_joint(self) -> dict[str, list[int]]:
        # Turned round only when a joint is asked for: a finding may name every joint there is.
        of_joint: dict[str, list[int]] = defaultdict(list)
        for place, joints in self._joints_named:
            for joint_id in joints:
                of_joint[joint_id].append(place)
        return dict(of_joint)

    def _places_of_joint(self, joint_id: str) -> list[int]:
        places = list(self._of_joint.get(joint_id, ()))
        for section_id in (self._section_of_joint.get(joint_id), *self._more_sections.get(joint_id, ())):
            if section_id in self._of_whole_section:
                places.extend(self._of_whole_section[section_id])
        return places

    def _state(self, places: Iterable[int]) -> ChainState:
        worst = min(places, default=None)
        return ChainState.COMPLETE if worst is None else self._states[worst] or ChainState.COMPLETE

    def _chain(
        self, places: Sequence[int], missing: str, nothing_recorded: bool, full: str = "", joints: int = 0
    ) -> Chain:
        places = sorted(set(places))
        state = self._state(places)
        counts = Counter(self._states[place] for place in places)
        first = self._findings[places[0]] if places and state is not ChainState.COMPLETE else None
        sentence = _sentence(first) if first is not None else full
        if nothing_recorded and state.rank > ChainState.UNPROVEN.rank:
            state, first, sentence = ChainState.UNPROVEN, None, missing
        return Chain(
            state,
            first,
            sentence,
            counts[ChainState.BROKEN],
            counts[ChainState.UNPROVEN],
            counts[ChainState.WEAK],
            counts[ChainState.CONCEDED],
            counts[None],
            self.unasked,
            joints,
        )

    def _full(self, what: str, joints: int | None = None) -> str:
        if joints is not None:
            what = f"the {joints:,} {'joint' if joints == 1 else 'joints'} of {what}"
        if not self.unasked:
            return f"The records show every link of {what}."
        asked = "One question was" if self.unasked == 1 else f"{self.unasked} questions were"
        return f"The records show every link of {what} that was asked for. {asked} not asked."

    @cached_property
    def _rows_of_joint(self) -> dict[str, list[str | None]]:
        rows: dict[str, list[str | None]] = {}
        for joint in self._project.records.joints:
            rows.setdefault(joint.joint_id, []).append(joint.status)
        return rows

    @cached_property
    def _joints_there(self) -> Counter[str]:
        return Counter(
            joint.section_id
            for joint in self._project.records.joints
            if joint.section_id is not None and joint.status not in NOT_THERE
        )

    @cached_property
    def _unrecorded(self) -> dict[str, None]:
        # The check tells of such sections; where it was not asked, silence must not pass for a complete chain.
        slug = section_without_joints.RULE.slug
        return {
            section.section_id: None
            for section in self._project.records.sections
            if section.status not in _NOT_IN_USE
            and section.expected_ends != 0
            and not self._joints_there.get(section.section_id)
            and not any(
                self._findings[place].rule.slug == slug for place in self._of_section.get(section.section_id, ())
            )
        }


def _sentence(finding: Finding) -> str:
    waiver = finding.waiver
    if waiver is None:
        return finding.message
    return f"{finding.message} Accepted by {waiver.approved_by_role} on {day_words(waiver.approved_on)}."


def _without_joints(section: Section) -> str:
    if section.status in _NOT_IN_USE:
        return f"Section {section.section_id} is recorded as {section.status}: nothing is asked of it."
    if section.expected_ends == 0:
        return f"Section {section.section_id} is recorded as having no press end."
    return f"No joint of section {section.section_id} is in the pipework."
