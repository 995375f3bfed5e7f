"""Trace backwards: from a batch, tool, operative or gauge to every joint, section, room and guarantee it touched."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property

from witnessmark.checks.joint_groups import NOT_THERE
from witnessmark.model.project import Project
from witnessmark.model.records import Joint, Record, Section, TestStage
from witnessmark.workings.work import Workings

KINDS = ("batch", "tool", "operative", "gauge")
"""What can be traced to all that it touched; jaws, slings and adapters are tools."""

Ways = tuple[Joint, tuple[str, ...]]
_Found = tuple[Sequence[Ways], Sequence[TestStage], Sequence[str]]


@dataclass(frozen=True, slots=True)
class TouchedJoint:
    """A joint that something touched, and how: 'fitting batch', 'pressed by', 'tested with'."""

    joint: Joint
    how: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class GuaranteeTouched:
    """A guarantee in whose sections something was used."""

    material: str
    guarantor: str
    section_ids: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Touched:
    """Everything that a batch, tool, operative or gauge touched."""

    kind: str
    record_id: str
    record: Record | None
    """``None`` where no register holds the id."""
    joints: tuple[TouchedJoint, ...]
    test_ids: tuple[str, ...]
    sections: tuple[Section, ...]
    rooms: tuple[str, ...]
    tag_codes: tuple[str, ...]
    guarantees: tuple[GuaranteeTouched, ...]


class ReverseTracer:
    """Reverse traces of a project; the index is built when first asked for."""

    def __init__(self, project: Project, workings: Workings) -> None:
        self._project = project
        self._workings = workings

    def ids(self, kind: str) -> tuple[str, ...]:
        """Every id of that kind that a register holds, in its order."""
        return tuple(self._register(kind))

    def _register(self, kind: str) -> dict[str, Record]:
        registers: dict[str, dict[str, Record]] = {
            "batch": dict(self._project.batches),
            "tool": dict(self._project.tools),
            "operative": dict(self._project.operatives),
            "gauge": dict(self._project.instruments),
        }
        return registers[kind]

    def touched(self, kind: str, record_id: str) -> Touched:
        """Everything that a batch, tool, operative or gauge touched. ``KeyError`` for another kind."""
        find = {
            "batch": self._by_batch,
            "tool": self._by_tool,
            "operative": self._by_operative,
            "gauge": self._by_gauge,
        }
        ways, stages, more_sections = find[kind](record_id)
        joints = tuple(TouchedJoint(joint, how) for joint, how in ways)
        section_ids = dict.fromkeys(joint.section_id for joint, _ in ways if joint.section_id)
        section_ids.update(dict.fromkeys(s for stage in stages for s in stage.section_ids))
        section_ids.update(dict.fromkeys(more_sections))
        sections = tuple(self._project.sections[s] for s in sorted(section_ids) if s in self._project.sections)
        codes = self._workings.tags.by_section
        rooms = [room.strip() for section in sections for room in (section.rooms or "").replace(";", ",").split(",")]
        return Touched(
            kind,
            record_id,
            self._register(kind).get(record_id),
            joints,
            tuple(dict.fromkeys(stage.test_id for stage in stages)),
            sections,
            tuple(dict.fromkeys(room for room in rooms if room)),
            tuple(codes[s.section_id] for s in sections if s.section_id in codes),
            tuple(self._guarantees(sections, joints)),
        )

    def _guarantees(self, sections: Sequence[Section], joints: Sequence[TouchedJoint]) -> Iterable[GuaranteeTouched]:
        found: dict[str, list[str]] = defaultdict(list)
        materials: dict[str | None, set[str | None]] = defaultdict(set)
        for touched in joints:
            materials[touched.joint.section_id].add(touched.joint.material_tube)
        for section in sections:
            inside = materials.get(section.section_id, {None})
            for guarantee in self._workings.sections[section.section_id].guarantees:
                if None in inside or guarantee.material in inside:
                    found[guarantee.material].append(section.section_id)
        for material in sorted(found):
            terms = self._project.settings.guarantee.get(material)
            yield GuaranteeTouched(material, terms.guarantor if terms else "", tuple(found[material]))

    def _by_batch(self, record_id: str) -> _Found:
        tubes = [
            tube.section_id for tube in self._project.records.tubes if tube.batch_id == record_id and tube.section_id
        ]
        return self._ways(record_id, "fitting_batch_id", "tube_batch_id"), (), tubes

    def _by_tool(self, record_id: str) -> _Found:
        return self._ways(record_id, "tool_id", "jaw_id", "adapter_id"), (), ()

    def _by_operative(self, record_id: str) -> _Found:
        stages = [stage for stage in self._project.records.tests if stage.tester == record_id]
        return self._ways(record_id, "operative_id", "checker_id"), stages, ()

    def _by_gauge(self, record_id: str) -> _Found:
        stages = [stage for stage in self._project.records.tests if stage.instrument_id == record_id]
        found: dict[int, Joint] = {}
        for stage in stages:
            left_out = set(stage.joints_left_out)
            for section_id in stage.section_ids:
                for joint in self._project.joints_of_section.get(section_id, ()):
                    if joint.joint_id not in left_out and joint.status not in NOT_THERE:
                        found[id(joint)] = joint
        return [(joint, ("tested with",)) for joint in found.values()], stages, ()

    def _ways(self, record_id: str, *fields: str) -> list[Ways]:
        return list(self._uses.get(fields, {}).get(record_id, ()))

    @cached_property
    def _uses(self) -> dict[tuple[str, ...], dict[str, list[Ways]]]:
        groups = {
            ("fitting_batch_id", "tube_batch_id"): ("fitting", "tube"),
            ("tool_id", "jaw_id", "adapter_id"): ("pressed with", "jaw or sling", "adapter"),
            ("operative_id", "checker_id"): ("pressed by", "checked by"),
        }
        uses: dict[tuple[str, ...], dict[str, list[Ways]]] = {}
        for fields, words in groups.items():
            index: dict[str, list[Ways]] = defaultdict(list)
            for joint in self._project.records.joints:
                how: dict[str, list[str]] = {}
                for field, word in zip(fields, words, strict=True):
                    value = getattr(joint, field)
                    if value is not None:
                        how.setdefault(value, []).append(word)
                for value, ways in how.items():
                    index[value].append((joint, tuple(ways)))
            uses[fields] = index
        return uses
