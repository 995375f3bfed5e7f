"""How many records of a kind a section has, how many it should have, and which of its joints have none."""

from collections import defaultdict
from collections.abc import Callable, Sequence, Set
from typing import TypeVar

from witnessmark.checks.joint_groups import NOT_THERE, asked
from witnessmark.checks.valves.valve_register import ends, has_kind, valve_register
from witnessmark.checks.water.water_log import CLEANING, WATER, WetSection
from witnessmark.evidence.section_records import Count, SectionRecords
from witnessmark.model.procedure import TestProcedure
from witnessmark.model.project import Project
from witnessmark.model.records import Flushing, Insulation, Joint, Section, Support, System, TestStage
from witnessmark.workings.procedures import all_procedures, stage_of
from witnessmark.workings.section_rating import GASES
from witnessmark.workings.work import Workings

NO_INSULATION = frozenset({"none", "no", "bare", "uninsulated", "not insulated", "without"})
"""Words of a section's insulation cell that say it has none."""
_Row = TypeVar("_Row", Flushing, Insulation)


class RecordCounts:
    """Counts of a project; what sections share is looked up once."""

    def __init__(self, project: Project, workings: Workings) -> None:
        self._project = project
        self._workings = workings
        records = project.records
        self._trained = {t.operative_id for t in records.trainings}
        self._serviced = {s.tool_id for s in records.tool_services}
        self._calibrated = {c.instrument_id for c in records.calibrations}
        self._certified = {b.batch_id for b in records.batches if b.document_id is not None}
        self._tube_batch = {(t.section_id, t.od_mm): t.batch_id for t in records.tubes if t.batch_id is not None}
        self._procedures = all_procedures(project.settings)
        self._supports: dict[str, list[Support]] = defaultdict(list)
        for support in records.supports:
            self._supports[support.section_id or ""].append(support)
        self._insulations: dict[str, list[Insulation]] = _by_section(records.insulations)
        self._flushings: dict[str, list[Flushing]] = _by_section(records.flushings)
        self._valves = valve_register(project)
        self._treated: dict[str, set[str]] = defaultdict(set)
        self._system_treated: dict[str, set[str]] = defaultdict(set)
        for treatment in records.treatments:
            for section_id in treatment.section_ids:
                self._treated[section_id].add(treatment.kind or "")
            if treatment.system_id is not None and not treatment.section_ids:
                self._system_treated[treatment.system_id].add(treatment.kind or "")
        self._photos: dict[str, int] = defaultdict(int)
        for document in records.documents:
            if document.kind == "photo":
                for about in dict.fromkeys(part.strip() for part in (document.about or "").split(";")):
                    self._photos[about] += 1

    def of(self, section: Section) -> SectionRecords:
        """A section, ready to be counted."""
        joints = self._project.joints_of_section.get(section.section_id, [])
        there = tuple(joint for joint in joints if joint.status not in NOT_THERE)
        return SectionRecords(
            section,
            self._project.systems.get(section.system_id or ""),
            there,
            tuple(joint for joint in there if asked(joint)),
            tuple(self._project.tests_of_section.get(section.section_id, ())),
        )

    def joints(self, held: SectionRecords) -> Count:
        """Joints logged against press ends expected."""
        expected, logged = held.section.expected_ends, len(held.joints)
        if expected == 0 and not logged:
            return Count(not_applicable="no press end, by the sections table")
        return Count(logged, expected, "press ends in the joint log")

    def operative(self, held: SectionRecords) -> Count:
        """Joints that name an operative of the register."""
        known = self._project.operatives
        return _joints(held, "joints that name an operative of the register", lambda j: j.operative_id in known)

    def training(self, held: SectionRecords) -> Count:
        """Joints whose operative has a training record."""
        return _joints(held, "joints pressed by someone with a training record", self._is_trained)

    def _is_trained(self, joint: Joint) -> bool:
        return joint.operative_id is not None and joint.operative_id in self._trained

    def tool(self, held: SectionRecords) -> Count:
        """Joints that name a tool and a jaw of the register."""
        known = self._project.tools
        return _joints(
            held, "joints that name tool and jaw of the register", lambda j: j.tool_id in known and j.jaw_id in known
        )

    def service(self, held: SectionRecords) -> Count:
        """Joints whose tool has a service record."""
        serviced = self._serviced
        return _joints(
            held,
            "joints pressed with a tool with a service record",
            lambda j: j.tool_id is not None and j.tool_id in serviced,
        )

    def batch(self, held: SectionRecords) -> Count:
        """Joints whose fitting and tube are of batches in the register."""
        known = self._project.batches
        return _joints(
            held,
            "joints whose fitting and tube batches are in the register",
            lambda j: j.fitting_batch_id in known and self._tube(j) in known,
        )

    def certificate(self, held: SectionRecords) -> Count:
        """Joints whose fitting and tube batches have a certificate."""
        certified = self._certified
        return _joints(
            held,
            "joints whose fitting and tube batches have a certificate",
            lambda j: j.fitting_batch_id in certified and self._tube(j) in certified,
        )

    def _tube(self, joint: Joint) -> str | None:
        return joint.tube_batch_id or self._tube_batch.get((joint.section_id, joint.od_mm))

    def second_look(self, held: SectionRecords) -> Count:
        """Joints looked at a second time, with a day."""
        return _joints(
            held,
            "joints with a dated second look",
            lambda j: j.pressed_check is not None and j.check_date is not None,
        )

    def stage(self, held: SectionRecords, stage: str) -> Count:
        """Passed tests of one stage, where the procedure of the system's service has it."""
        tests = [test for test in held.tests if test.stage == stage]
        passed = sum(1 for test in tests if test.result == "pass")
        words = f"{stage} test recorded as passed"
        procedure = self._procedure(held.system)
        if procedure is None:
            if passed:
                return Count(1, 1, words, once=True)
            return Count(0, 1, f"{words}; project.yml names no procedure that says whether it is needed", once=True)
        worked = self._workings.sections.get(held.section.section_id)
        if stage_of(procedure, stage, worked.largest_od_mm if worked else None) is None and not tests:
            return Count(not_applicable=f"not a stage of procedure {procedure.id}")
        if tests and not passed:
            # There is a record, and it does not carry: never 'nothing there'.
            return Count(len(tests), None, f"{stage} tests recorded, none of them as passed")
        return Count(min(passed, 1), 1, words, once=True)

    def _procedure(self, system: System | None) -> TestProcedure | None:
        service = system.service if system is not None else None
        return self._procedures.get(self._project.settings.testing.get(service or "", ""))

    def test_certificate(self, held: SectionRecords) -> Count:
        """Passed tests with the file of their certificate."""
        documents = self._project.documents
        return _tests(held, "passed tests with their document", lambda test: test.document_id in documents)

    def calibration(self, held: SectionRecords) -> Count:
        """Passed tests whose instrument has a calibration record."""
        calibrated = self._calibrated
        return _tests(
            held,
            "passed tests with a calibrated instrument",
            lambda test: test.instrument_id is not None and test.instrument_id in calibrated,
        )

    def insulation(self, held: SectionRecords) -> Count:
        """Insulation with its inspection, unless the section's row says that it has none."""
        rows = self._insulations.get(held.section.section_id, [])
        medium = _medium(held.system)
        if not rows and held.section.insulation is None and medium in GASES:
            return Count(not_applicable=f"{(medium or '').replace('_', ' ')}, by the systems table")
        said = (held.section.insulation or "").strip().casefold()
        if not rows and said in NO_INSULATION:
            return Count(not_applicable=f"'{held.section.insulation}', by the sections table")
        return _inspected(rows, "insulation inspections")

    def support(self, held: SectionRecords) -> Count:
        """Supports with their inspection."""
        return _inspected(self._supports.get(held.section.section_id, []), "support inspections")

    def valve(self, held: SectionRecords) -> Count:
        """Isolating valve, drain and vent; a section without water has neither drain nor vent for it."""
        wanted = ("isolating", "drain", "vent") if _medium(held.system) in (None, *WATER) else ("isolating",)
        lacking = [kind for kind in wanted if not self._has_valve(held.section, kind)]
        words = f"kinds of valve ({', '.join(wanted)})" + (f"; no {', no '.join(lacking)}" if lacking else "")
        return Count(len(wanted) - len(lacking), len(wanted), words)

    def _has_valve(self, section: Section, kind: str) -> bool:
        if has_kind(self._valves, self._project, section, kind):
            return True
        at_ends = ends(self._project, section)
        return kind == "isolating" and any(node is not None and node.kind == "valve" for node in at_ends)

    def flushing(self, held: SectionRecords) -> Count:
        """A flush or chemical clean, of sections that carry water."""
        return _not_water(held.system) or self._flushed(held, CLEANING, "flush or chemical clean")

    def disinfection(self, held: SectionRecords) -> Count:
        """A disinfection, of sections that people drink from."""
        system = held.system
        # A system of which the records say nothing is not let off.
        if system is not None and system.medium is not None and not WetSection(held.section, system).potable:
            return _not_water(system) or Count(not_applicable="not drinking water, by the systems table")
        return _not_water(system) or self._flushed(held, {"disinfection"}, "disinfection")

    def _flushed(self, held: SectionRecords, kinds: Set[str], words: str) -> Count:
        rows = [row for row in self._flushings.get(held.section.section_id, ()) if row.kind in kinds]
        if rows and not any(row.result == "pass" for row in rows):
            return Count(len(rows), None, f"{words} recorded, none with the result 'pass'")
        return Count(min(len(rows), 1), 1, words, once=True)

    def treatment(self, held: SectionRecords) -> Count:
        """A dose and a sample, of closed circuits with water."""
        system = held.system
        if system is not None and system.medium is not None and not WetSection(held.section, system).closed:
            return _not_water(system) or Count(not_applicable="not a closed circuit, by the systems table")
        kinds = self._treated[held.section.section_id] | self._system_treated[held.section.system_id or ""]
        lacking = [kind for kind in ("dose", "sample") if kind not in kinds]
        words = "events (dose, sample)" + (f"; no {', no '.join(lacking)}" if lacking else "")
        return Count(2 - len(lacking), 2, words)

    def photo(self, held: SectionRecords) -> Count:
        """Photos of the section or of its joints; what is not closed in can still be looked at without."""
        named = sum(1 for joint in held.joints if joint.photo)
        photos = self._photos.get(held.section.section_id, 0) + named
        photos += sum(self._photos.get(joint.joint_id, 0) for joint in held.joints)
        if not photos and held.section.concealed is False:
            return Count(not_applicable="not closed in, by the sections table")
        return Count(photos, max(photos, 1), "photos of the section or its joints", once=not photos)

    def drawing(self, held: SectionRecords) -> Count:
        """A drawing and its revision."""
        there = [held.section.drawing, held.section.drawing_revision]
        words = "entries (drawing, revision)"
        if held.section.drawing is None:
            return Count(0, 2, words)
        return Count(sum(1 for part in there if part is not None), 2, words)

    def guarantee(self, held: SectionRecords) -> Count:
        """Materials with guarantee terms and a start."""
        worked = self._workings.sections.get(held.section.section_id)
        guarantees = worked.guarantees if worked is not None else ()
        started = sum(1 for guarantee in guarantees if guarantee.starts_on is not None)
        if not guarantees:
            return Count(0, 1, "material of its tubes, so no guarantee terms can be held against it", once=True)
        return Count(started, len(guarantees), "materials with guarantee terms and a start")


def _by_section(rows: Sequence[_Row]) -> dict[str, list[_Row]]:
    grouped: dict[str, list[_Row]] = defaultdict(list)
    for row in rows:
        for section_id in dict.fromkeys(row.section_ids):
            grouped[section_id].append(row)
    return grouped


def _joints(held: SectionRecords, words: str, has: Callable[[Joint], bool]) -> Count:
    if not held.pressed:
        if held.section.expected_ends == 0 or held.joints:
            return Count(not_applicable="no press end, by the joint log" if held.joints else "no press end expected")
        return Count(0, 1, "joint in the log", once=True)
    without = tuple(joint.joint_id for joint in held.pressed if not has(joint))
    return Count(len(held.pressed) - len(without), len(held.pressed), words, without)


def _tests(held: SectionRecords, words: str, has: Callable[[TestStage], bool]) -> Count:
    if not held.passed:
        return Count(0, 1, "test under pressure recorded as passed", once=True)
    return Count(sum(1 for test in held.passed if has(test)), len(held.passed), words)


def _inspected(rows: Sequence[Insulation | Support], words: str) -> Count:
    seen = sum(1 for row in rows if row.inspected_on is not None and row.result is not None)
    if rows and not seen:
        return Count(len(rows), None, f"{words} recorded, none with day and result")
    return Count(seen, max(len(rows), 1), words, once=not rows)


def _medium(system: System | None) -> str | None:
    return system.medium if system is not None else None


def _not_water(system: System | None) -> Count | None:
    medium = _medium(system)
    if medium is None or medium in WATER:
        return None
    return Count(not_applicable=f"{medium.replace('_', ' ')}, by the systems table")
