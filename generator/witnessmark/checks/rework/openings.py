"""Changes that reopen sections, and what closed each: a later test, or a watched closure joint."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from witnessmark.checks.joint_groups import NOT_THERE
from witnessmark.checks.testing.proving_tests import NOT_IN_PLACE, ProvingTests, any_after
from witnessmark.model.finding import Outcome
from witnessmark.model.project import Project
from witnessmark.model.records import Alteration, TestStage
from witnessmark.model.threshold import limit

DONE = {
    "cut_out": "A joint was cut out",
    "replaced": "A joint was cut out and replaced",
    "pressed_again": "A joint was pressed again",
    "valve_changed": "A valve was changed",
    "section_split": "A section was split",
    "sections_merged": "Sections were merged",
    "section_removed": "A section was taken out",
    "closure_joint": "A closure joint was made",
}
"""Kinds of change that open the pipe, in words."""
WATCHED_MIN = "closure-watched-min"
_WATCH = (
    ("watched_bar", "the pressure at which it was watched"),
    ("watched_min", "how long it was watched"),
    ("seen_dry", "whether its joints were seen dry"),
)


@dataclass(frozen=True, slots=True)
class Opening:
    """One section that a change opened, and whether the records show that it was closed."""

    alteration: Alteration
    section_id: str
    tests: Sequence[TestStage]
    """Passed tests of the section, for a closure joint those that cover it, the last of them last."""
    outcome: Outcome


def watched(project: Project, alteration: Alteration) -> Outcome | None:
    """Whether a change was closed by watching it under service pressure; ``None`` where nothing of that is recorded."""
    if alteration.watched_bar is None and alteration.watched_min is None and alteration.seen_dry is None:
        return None
    if alteration.seen_dry is False or alteration.watched_bar == 0:
        return Outcome.FAIL
    if alteration.watched_min is not None and alteration.watched_min < limit(project.settings, WATCHED_MIN):
        return Outcome.FAIL
    return Outcome.CANNOT_TELL if unwatched(alteration) else Outcome.PASS


def unwatched(alteration: Alteration) -> list[str]:
    """What a record of a closure joint does not say."""
    return [words for field, words in _WATCH if getattr(alteration, field) is None]


def _is_closure(alteration: Alteration, seen: Outcome | None) -> bool:
    return alteration.kind == "closure_joint" or seen is not None


class Openings:
    """All openings of a project, by alteration in the order of their ids."""

    def __init__(self, project: Project, proving: ProvingTests) -> None:
        self._project = project
        self._proving = proving
        self.changes = sorted(
            (row for row in project.records.alterations if row.kind in DONE), key=lambda row: row.alteration_id
        )
        """Alterations that open the pipe."""
        self._section_of: dict[str, tuple[str, ...]] = {}
        self._in_place: dict[str, tuple[str, ...]] = {}
        self._find_joints()
        self.by_alteration = {row.alteration_id: self._openings(row) for row in self.changes}

    def sections(self, alteration: Alteration) -> tuple[str, ...]:
        """Sections in place that a change touches."""
        named = [*alteration.section_ids, *alteration.into_section_ids]
        named += [section for joint in alteration.joint_ids for section in self._section_of.get(joint, ())]
        if not named and alteration.node_id is not None:
            named = self._at_nodes.get(alteration.node_id, [])
        known = self._project.sections
        return tuple(dict.fromkeys(name for name in named if name in known and known[name].status not in NOT_IN_PLACE))

    def open_joints(self) -> dict[str, set[str]]:
        """Joints named by changes that nothing is known to have closed, by section."""
        found: dict[str, set[str]] = defaultdict(set)
        for openings in self.by_alteration.values():
            for opening in openings:
                if opening.outcome is not Outcome.PASS:
                    found[opening.section_id].update(opening.alteration.joint_ids)
        return found

    def closure_joints(self) -> dict[str, list[Alteration]]:
        """Records of closure joints, by joint."""
        found: dict[str, list[Alteration]] = defaultdict(list)
        for row in self.changes:
            if _is_closure(row, watched(self._project, row)):
                for joint_id in row.joint_ids:
                    found[joint_id].append(row)
        return found

    def _openings(self, alteration: Alteration) -> tuple[Opening, ...]:
        seen = watched(self._project, alteration)
        found = []
        for section_id in self.sections(alteration):
            tests = self._proving.of(section_id)
            if _is_closure(alteration, seen):
                # Other joints that tests left out are asked about as boundary joints.
                inside = [j for j in alteration.joint_ids if section_id in self._in_place.get(j, ())]
                tests = self._proving.covering(section_id, inside)
            later = any_after(tests, alteration.date, alteration.time)
            if later or seen is Outcome.PASS:
                outcome = Outcome.PASS
            elif seen is Outcome.FAIL and later is False:
                outcome = Outcome.FAIL
            elif later is None or seen is Outcome.CANNOT_TELL or alteration.kind == "closure_joint":
                outcome = Outcome.CANNOT_TELL
            else:
                outcome = Outcome.FAIL
            found.append(Opening(alteration, section_id, tests, outcome))
        return tuple(found)

    def _find_joints(self) -> None:
        wanted = {joint_id for row in self.changes for joint_id in row.joint_ids}
        if not wanted:
            return
        for joint in self._project.records.joints:
            name, section_id = joint.joint_id, joint.section_id
            if name in wanted and section_id is not None:
                self._section_of[name] = (*self._section_of.get(name, ()), section_id)
                if joint.status not in NOT_THERE:
                    self._in_place[name] = (*self._in_place.get(name, ()), section_id)

    @cached_property
    def _at_nodes(self) -> dict[str, list[str]]:
        found: dict[str, set[str]] = defaultdict(set)
        for section in self._project.records.sections:
            for node in (section.from_node, section.to_node):
                if node is not None:
                    found[node].add(section.section_id)
        for valve in self._project.records.valves:
            if valve.node_id is not None:
                found[valve.node_id].update(valve.section_ids)
        return {node: sorted(names) for node, names in found.items()}
