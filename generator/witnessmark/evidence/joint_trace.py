"""Trace forwards: from one joint to all that stands behind it, each link with its state and its cell."""

import datetime
from collections import defaultdict
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import TypeVar

from witnessmark.evidence.chain import ChainBook
from witnessmark.evidence.trace_slugs import LINK_OF
from witnessmark.model.day_words import day_words
from witnessmark.model.finding import Finding, Outcome, Severity
from witnessmark.model.project import Project
from witnessmark.model.records import Alteration, Calibration, Joint, Record, Snag, TestStage, ToolService, Training
from witnessmark.model.source import SourceLocation
from witnessmark.workings.guarantee import GuaranteeWorking
from witnessmark.workings.work import Workings

R = TypeVar("R", bound=Record)
OTHER = "other"
_PROJECT_FILE = "project.yml"


@dataclass(frozen=True, slots=True)
class TraceLink:
    """One link of a joint's trace: what it is, which record, how the records stand on it, and in which cell."""

    link: str
    """Key of the link, as ``LINK_OF`` groups findings."""
    words: str
    table: str
    record_id: str
    """'' where nothing is recorded."""
    detail: str
    state: Outcome
    reason: str
    """Why the state is not a pass; '' where it is."""
    place: SourceLocation | None
    about: str = ""
    """Id that findings of the link name as their subject: the gauge of a calibration, the tool of a service."""


class JointTracer:
    """Traces of joints; indices are built when first asked for."""

    def __init__(self, project: Project, workings: Workings, chain: ChainBook) -> None:
        self._project = project
        self._workings = workings
        self._chain = chain
        self._judged: dict[tuple[int, ...], tuple[TraceLink, TraceLink]] = {}
        self._at_the_end: dict[int, TraceLink] = {}
        self._tests_of: dict[str, tuple[TraceLink, ...]] = {}
        self._guarantees_of: dict[tuple[str, str | None], tuple[TraceLink, ...]] = {}
        self._registered: dict[tuple[str, ...], tuple[TraceLink, ...]] = {}

    def forget(self) -> None:
        """Let go of what the joints of one section shared; pages call it from section to section."""
        for kept in (self._judged, self._tests_of, self._guarantees_of):
            kept.clear()

    def trace(self, joint: Joint) -> tuple[TraceLink, ...]:
        """The trace of one joint, in the order in which it came about; findings of no link stand at its end."""
        links = (
            *self._identity(joint),
            *self._parts(joint),
            *self._making(joint),
            *self._tests(joint),
            *self._afterwards(joint),
        )
        places: dict[str, list[int]] = defaultdict(list)
        for place, link in enumerate(links):
            places[link.link].append(place)
        answers: dict[int, list[Finding]] = defaultdict(list)
        left: list[Finding] = []
        for finding in self._chain.findings_of_joint(joint.joint_id):
            fitting = places.get(LINK_OF.get(finding.rule.slug, OTHER))
            if fitting is None:
                left.append(finding)
                continue
            # A finding about one gauge of two stands at that gauge; one about the section stands at both.
            exact = [place for place in fitting if links[place].about == finding.subject.id]
            for place in exact or fitting:
                answers[place].append(finding)
        judged = [
            self._judged_once(link, answers[place]) if place in answers else link for place, link in enumerate(links)
        ]
        return (*judged, *map(self._of_finding_once, left))

    def _judged_once(self, link: TraceLink, findings: Sequence[Finding]) -> TraceLink:
        # Links that the joints of a section share stay one object, so that pages can tell and set them once.
        key = (id(link), *map(id, findings))
        if key not in self._judged:
            self._judged[key] = (link, _judged(link, findings))
        return self._judged[key][1]

    def _of_finding_once(self, finding: Finding) -> TraceLink:
        if id(finding) not in self._at_the_end:
            self._at_the_end[id(finding)] = _of_finding(finding)
        return self._at_the_end[id(finding)]

    def _identity(self, joint: Joint) -> Iterator[TraceLink]:
        section = self._project.sections.get(joint.section_id or "")
        yield _link("section", "Section", "sections", joint.section_id, section.name if section else None, joint)
        system_id = section.system_id if section else None
        yield _link("system", "System", "systems", system_id, None, section or joint)
        revision = f"revision {joint.drawing_revision}" if joint.drawing_revision else None
        yield _link("drawing", "Drawing", "documents", joint.drawing, revision, joint, "drawing")
        size = f"{joint.od_mm:g} mm" if joint.od_mm is not None else None
        parts = (joint.fitting_kind, joint.material_tube, joint.seal)
        named = ", ".join(part.replace("_", " ") for part in parts if part)
        yield _link("size", "Size and material", "", size, named, joint, "od_mm")

    def _parts(self, joint: Joint) -> Iterator[TraceLink]:
        for words, field in (("Fitting batch", "fitting_batch_id"), ("Tube batch", "tube_batch_id")):
            batch_id: str | None = getattr(joint, field)
            batch = self._project.batches.get(batch_id or "")
            yield _link("batch", words, "batches", batch_id, batch.description if batch else None, joint, field)
            if batch is not None:
                key = ("certificate", words, batch.batch_id)
                if key not in self._registered:
                    kind = f"type {batch.certificate_type}" if batch.certificate_type else None
                    shown = batch.certificate_no or batch.document_id
                    name = f"Certificate of the {words.lower()}"
                    link = _link("certificate", name, "", shown, kind, batch, "certificate_no", batch_id)
                    self._registered[key] = (link,)
                yield from self._registered[key]

    def _making(self, joint: Joint) -> Iterator[TraceLink]:
        day = day_words(joint.press_date) if joint.press_date else None
        time = f"{joint.press_time:%H:%M}" if joint.press_time else None
        yield _link("pressed", "Pressed on", "", day, time, joint, "press_date")
        yield _link("operative", "Pressed by", "operatives", joint.operative_id, None, joint, "operative_id")
        trained = self._training_links(joint.operative_id or "", joint.system_family or "")
        yield from trained
        if not trained:
            yield _link("training", "Training", "", None, None, joint, "operative_id", joint.operative_id)
        for link, words, field in (
            ("tool", "Press tool", "tool_id"),
            ("jaw", "Jaw or sling", "jaw_id"),
            ("jaw", "Second adapter", "adapter_id"),
        ):
            if field != "adapter_id" or joint.adapter_id is not None:
                yield from self._tool(joint, link, words, field)
        by = f"by {joint.checker_id}" if joint.checker_id else ""
        on = f"on {day_words(joint.check_date)}" if joint.check_date else ""
        done = {True: "yes", False: "no", None: None}[joint.pressed_check]
        seen = _link("check", "Checked by eye", "", done, f"{by} {on}".strip(), joint, "pressed_check")
        if joint.pressed_check is False:
            seen = replace(seen, state=Outcome.FAIL, reason="The row says that it was not checked.")
        yield seen
        photo = _link("photo", "Photo", "documents", joint.photo, None, joint, "photo")
        if joint.photo is not None and not self._has_document(joint.photo):
            photo = replace(photo, state=Outcome.CANNOT_TELL, reason="The documents table holds no such photo.")
        yield photo

    def _has_document(self, names: str) -> bool:
        documents = self._project.documents
        return names in documents or any(name.strip() in documents for name in names.split(";"))

    def _training_links(self, operative_id: str, family: str) -> Sequence[TraceLink]:
        key = ("training", operative_id, family)
        if key not in self._registered:
            found = self._trainings.get(operative_id, ())
            self._registered[key] = tuple(
                _link(
                    "training",
                    "Training",
                    "",
                    training.certificate_no or training.system_family or "training",
                    _period(training.trained_on, training.expires_on),
                    training,
                    "trained_on",
                    operative_id,
                )
                for training in found
                if training.system_family is None or training.system_family == family
            )
        return self._registered[key]

    def _tool(self, joint: Joint, link: str, words: str, field: str) -> Iterator[TraceLink]:
        tool_id: str | None = getattr(joint, field)
        tool = self._project.tools.get(tool_id or "")
        serial = f"serial {tool.serial}" if tool and tool.serial else None
        yield _link(link, words, "tools", tool_id, serial, joint, field)
        if tool_id is None:
            return
        before = [
            service
            for service in self._services.get(tool_id, ())
            if service.serviced_on and (joint.press_date is None or service.serviced_on <= joint.press_date)
        ]
        name = f"Service of {tool_id}"
        if not before:
            yield _link(f"{link} service", name, "", None, None, joint, field, tool_id)
            return
        last = max(before, key=lambda service: (str(service.serviced_on), str(service.source.location)))
        key = ("service", link, str(last.source.location))
        if key not in self._registered:
            dates, number = _period(last.serviced_on, last.due_on), last.certificate_no or "service"
            self._registered[key] = (_link(f"{link} service", name, "", number, dates, last, "serviced_on", tool_id),)
        yield from self._registered[key]

    def _tests(self, joint: Joint) -> Sequence[TraceLink]:
        section_id = joint.section_id or ""
        stages = self._project.tests_of_section.get(section_id, ())
        if not stages or any(joint.joint_id in stage.joints_left_out for stage in stages):
            return tuple(self._tests_covering(joint))
        if section_id not in self._tests_of:
            self._tests_of[section_id] = tuple(self._tests_covering(joint))
        return self._tests_of[section_id]

    def _tests_covering(self, joint: Joint) -> Iterator[TraceLink]:
        stages = self._project.tests_of_section.get(joint.section_id or "", ())
        covering = sorted((stage for stage in stages if joint.joint_id not in stage.joints_left_out), key=_when)
        if not covering:
            yield _link("test", "Test", "", None, None, joint, "section_id")
        told: set[str] = set()
        for stage in covering:
            on = day_words(stage.date) if stage.date else "day not recorded"
            attempt = f"attempt {stage.attempt}, " if stage.attempt is not None else ""
            detail = f"{attempt}{stage.stage or 'stage not recorded'}, {on}, {stage.result or 'no result'}"
            link = _link("test", "Test", "tests", stage.test_id, detail, stage, "result")
            if stage.result in ("fail", "abandoned"):
                link = replace(link, state=Outcome.FAIL, reason="This attempt did not pass: it proves nothing.")
            elif stage.result is None:
                link = replace(link, state=Outcome.CANNOT_TELL, reason="Its result is not recorded.")
            yield link
            if stage.instrument_id is not None and stage.instrument_id not in told:
                told.add(stage.instrument_id)
                yield from self._gauge(stage, stage.instrument_id)

    def _gauge(self, stage: TestStage, instrument_id: str) -> Iterator[TraceLink]:
        gauge = self._project.instruments.get(instrument_id)
        serial = f"serial {gauge.serial}" if gauge and gauge.serial else None
        yield _link("gauge", f"Gauge of {stage.test_id}", "instruments", instrument_id, serial, stage, "instrument_id")
        calibrations = self._calibrations.get(instrument_id, ())
        name = f"Calibration of {instrument_id}"
        for calibration in calibrations:
            dates = _period(calibration.calibrated_on, calibration.due_on)
            number = calibration.certificate_no or "calibration"
            yield _link("calibration", name, "", number, dates, calibration, "calibrated_on", instrument_id)
        if not calibrations:
            yield _link("calibration", name, "", None, None, stage, "instrument_id", instrument_id)

    def _afterwards(self, joint: Joint) -> Iterator[TraceLink]:
        if joint.replaces_joint is not None:
            yield _link("rework", "Replaces joint", "joints", joint.replaces_joint, None, joint, "replaces_joint")
        for other in self._replaced_by.get(joint.joint_id, ()):
            yield _link("rework", "Replaced by joint", "joints", other.joint_id, None, other, "replaces_joint")
        for alteration in self._alterations.get(joint.joint_id, ()):
            on = day_words(alteration.date) if alteration.date else "day not recorded"
            kind = (alteration.kind or "kind not recorded").replace("_", " ")
            number = alteration.alteration_id
            yield _link("rework", "Alteration", "alterations", number, f"{kind}, {on}", alteration, "kind")
        for snag in self._snags.get(joint.joint_id, ()):
            closed = f"closed on {day_words(snag.closed_on)}" if snag.closed_on else "open"
            link = _link("snag", "Snag", "snags", snag.snag_id, closed, snag, "closed_on")
            yield link if snag.closed_on else replace(link, state=Outcome.FAIL, reason="It is not recorded as closed.")
        yield from self._guarantees(joint)

    def _guarantees(self, joint: Joint) -> Sequence[TraceLink]:
        key = (joint.section_id or "", joint.material_tube)
        if key not in self._guarantees_of:
            section = self._workings.sections.get(key[0])
            found = section.guarantees if section else ()
            self._guarantees_of[key] = tuple(_guarantee(g) for g in found if joint.material_tube in (None, g.material))
        return self._guarantees_of[key]

    @cached_property
    def _trainings(self) -> dict[str, list[Training]]:
        return _grouped(self._project.records.trainings, lambda training: (training.operative_id,))

    @cached_property
    def _services(self) -> dict[str, list[ToolService]]:
        return _grouped(self._project.records.tool_services, lambda service: (service.tool_id,))

    @cached_property
    def _calibrations(self) -> dict[str, list[Calibration]]:
        return _grouped(self._project.records.calibrations, lambda calibration: (calibration.instrument_id,))

    @cached_property
    def _replaced_by(self) -> dict[str, list[Joint]]:
        return _grouped(self._project.records.joints, lambda joint: (joint.replaces_joint,))

    @cached_property
    def _alterations(self) -> dict[str, list[Alteration]]:
        return _grouped(self._project.records.alterations, lambda alteration: alteration.joint_ids)

    @cached_property
    def _snags(self) -> dict[str, list[Snag]]:
        return _grouped(self._project.records.snags, lambda snag: snag.joint_ids)


def _grouped(records: Sequence[R], keys: Callable[[R], Sequence[str | None]]) -> dict[str, list[R]]:
    groups: dict[str, list[R]] = defaultdict(list)
    for record in records:
        for key in keys(record):
            if key is not None:
                groups[key].append(record)
    return dict(groups)


def _link(
    link: str,
    words: str,
    table: str,
    record_id: str | None,
    detail: str | None,
    record: Record,
    field: str = "",
    about: str | None = None,
) -> TraceLink:
    place = record.source.place(field or f"{link}_id")
    about = about or record_id or ""
    if record_id is None:
        return TraceLink(link, words, table, "", "", Outcome.CANNOT_TELL, "Not recorded.", place, about)
    return TraceLink(link, words, table, record_id, detail or "", Outcome.PASS, "", place, about)


def _judged(link: TraceLink, findings: Sequence[Finding]) -> TraceLink:
    """The link with the gravest answer about it; tidiness changes no state."""
    order = (Outcome.FAIL, Outcome.CANNOT_TELL, Outcome.WAIVED)
    grave = [finding for finding in findings if finding.rule.severity is not Severity.TIDY]
    if not grave:
        return link
    worst = min(grave, key=lambda finding: (order.index(finding.outcome), finding.rule.severity.rank))
    if link.state is Outcome.CANNOT_TELL and worst.outcome is Outcome.WAIVED:
        return replace(link, state=Outcome.WAIVED, reason=worst.message)
    if link.state is Outcome.CANNOT_TELL and worst.outcome is not Outcome.FAIL:
        return replace(link, reason=worst.message)
    return replace(link, state=worst.outcome, reason=worst.message)


def _of_finding(finding: Finding) -> TraceLink:
    words = "Tidiness" if finding.rule.severity is Severity.TIDY else "Finding"
    return TraceLink(OTHER, words, "", finding.rule.slug, "", finding.outcome, finding.message, finding.location)


def _guarantee(guarantee: GuaranteeWorking) -> TraceLink:
    words = f"Guarantee for {guarantee.material.replace('_', ' ')}"
    place = SourceLocation(_PROJECT_FILE)
    if guarantee.terms is None:
        return TraceLink("guarantee", words, "", "", "", Outcome.CANNOT_TELL, "No terms are recorded.", place)
    terms = guarantee.terms
    until = f"until {day_words(guarantee.ends_on)}" if guarantee.ends_on else "end not known"
    conditions = f"; on condition: {' '.join(terms.conditions)}" if terms.conditions else ""
    missing = "" if guarantee.ends_on else f"Missing: {'; '.join(guarantee.missing)}."
    state = Outcome.CANNOT_TELL if missing else Outcome.PASS
    name = terms.guarantor or "guarantor not recorded"
    return TraceLink("guarantee", words, "", name, f"{terms.years} years, {until}{conditions}", state, missing, place)


def _period(start: datetime.date | None, end: datetime.date | None) -> str:
    first = day_words(start) if start else "day not recorded"
    return f"{first}, until {day_words(end)}" if end else f"{first}, end not recorded"


def _when(stage: TestStage) -> tuple[str, str, str]:
    return str(stage.date or ""), str(stage.start_time or ""), str(stage.source.location)
