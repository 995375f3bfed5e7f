"""Builds section pages; everything that does not change from section to section is worked out once."""

from collections.abc import Iterator

from witnessmark.model.contract import Edition
from witnessmark.model.records import Section, TestStage
from witnessmark.pages.address import root_of
from witnessmark.pages.aid_view import AidReader
from witnessmark.pages.chain_view import chain_view
from witnessmark.pages.completeness_page import section_completeness
from witnessmark.pages.context import Context
from witnessmark.pages.document_shelf import document_reader, document_table
from witnessmark.pages.fact import Fact, FactReader
from witnessmark.pages.figure import Figure, display_figure, figure_text
from witnessmark.pages.finding_view import WIDE, open_questions, wide_finding
from witnessmark.pages.frame import Link
from witnessmark.pages.guarantee_view import guarantee_view
from witnessmark.pages.joint_place import trace_page
from witnessmark.pages.rating_view import RatingReader
from witnessmark.pages.register_plans import JOINT_FIELDS, TEST_FIELDS
from witnessmark.pages.section_page import Flow, SectionPage, SensitivePage, TubeLine
from witnessmark.pages.table import RowReader, TableView
from witnessmark.pages.words import (
    NOT_IN_RECORDS,
    choice_words,
    clean,
    counted,
    date_words,
    missing_words,
    sentence_start,
)
from witnessmark.pages.working import WorkingView, working_view
from witnessmark.workings.tube_content import TubeWorking
from witnessmark.workings.work import SectionWorkings

# Left and right are seen by someone who stands before the tag; the page says so where it says where the tag is.
FLOWS = {
    "up": Flow("↑", "flows up"),
    "down": Flow("↓", "flows down"),
    "left": Flow("←", "flows left"),
    "right": Flow("→", "flows right"),
    "both": Flow("↔", "flows either way"),
    "none": Flow("–", "no flow"),
}
UNKNOWN_FLOW = Flow("?", f"direction of flow {NOT_IN_RECORDS}")

MAX_FINDINGS = 100


class SectionBuilder:
    """Makes the pages of all sections of an edition."""

    def __init__(self, context: Context) -> None:
        self._context = context
        self._project = context.outcome.project
        self._place = FactReader(context, "sections", ("level", "location", "access", "rooms", "riser", "tag_position"))
        self._about = FactReader(
            context,
            "sections",
            (
                "system_family",
                "seal",
                "insulation",
                "concealed",
                "cover_up_date",
                "subcontractor",
                "elevation_low_m",
                "elevation_high_m",
                "max_design_pressure_bar",
                "expected_ends",
                "delivered_on",
                "installed_on",
                "commissioned_on",
                "drawing",
                "drawing_revision",
                "remarks",
            ),
        )
        self._joints_reader = RowReader(context, "joints", JOINT_FIELDS, "section-joints")
        self._tests_reader = RowReader(context, "tests", TEST_FIELDS, "section-tests")
        self._documents_reader = document_reader(context)
        self._ratings = RatingReader(context)
        self._aids = AidReader(context)

    def pages(self) -> Iterator[SectionPage | SensitivePage]:
        """Every section's page, in the order of the records."""
        for section in self._project.sections.values():
            yield self.page(section)

    def page(self, section: Section) -> SectionPage | SensitivePage:
        """One section's page."""
        context = self._context
        code = context.outcome.workings.tags.by_section[section.section_id]
        address = context.section_addresses[section.section_id]
        service = context.service_of(section)
        if context.edition is Edition.TAG and section.sensitive:
            return SensitivePage(
                frame=context.frame,
                address=address,
                root=root_of(address),
                title=f"Tag {code}",
                code=code,
                service=service.words,
                bands=service.bands,
                band_words=service.band_words,
            )
        worked = context.outcome.workings.sections[section.section_id]
        section_id = clean(section.section_id)
        system = context.system_link(section.system_id)
        record = self._project.systems.get(section.system_id or "")
        findings = context.outcome.judgement.by_section.get(section.section_id, [])
        own = [finding for finding in findings if len(finding.section_ids) <= WIDE]
        name = clean(section.name or "")
        return SectionPage(
            frame=context.frame,
            address=address,
            root=root_of(address),
            title=name or f"Section {section_id}",
            crumbs=self._crumbs(system),
            code=code,
            section_id=section_id,
            service=service.words,
            flow=FLOWS.get(section.flow or "", UNKNOWN_FLOW),
            bands=service.bands,
            band_words=service.band_words,
            hazards=service.hazards,
            medium=service.medium,
            inside=_inside(worked),
            where=_where(section),
            stops=_stops(record.stops if record is not None else None),
            status=_fact("State", choice_words(section.status) if section.status else None),
            place=self._place.facts(section),
            ends=self._ends(section),
            about=self._about.facts(section),
            limits=tuple(
                working_view(each, context.edition, words_of=context.words)
                for each in (worked.max_pressure_bar, worked.max_temperature_c, worked.min_temperature_c)
            ),
            rating=self._ratings.view(section.section_id),
            aids=self._aids.view(section.section_id),
            contents=self._contents(worked),
            tubes=tuple(self._tube(tube) for tube in worked.tubes),
            tubes_missing="" if worked.tubes else missing_words(("the tube: material, size and length",)),
            joints=self._joints(section.section_id),
            joints_words=self._joints_words(section),
            tests=self._tests(section.section_id),
            tests_words=self._tests_words(section.section_id),
            guarantees=tuple(guarantee_view(each, context.edition, context.words) for each in worked.guarantees),
            guarantee_missing="" if worked.guarantees else missing_words(("the material of the tube",)),
            documents=self._documents(section.section_id),
            chain=chain_view(context, context.outcome.evidence.chain.section(section.section_id))
            if context.registers
            else None,
            trace=Link("Every joint, link by link", trace_page(code)) if context.audit else None,
            completeness=section_completeness(context, section.section_id) if context.registers else None,
            findings=tuple(context.finding_view(each) for each in own[:MAX_FINDINGS]) if context.audit else (),
            wide_findings=tuple(wide_finding(each) for each in findings if len(each.section_ids) > WIDE)
            if context.audit
            else (),
            findings_words=_findings_words(len(findings), len(own), context.edition),
            questions=open_questions(findings) if context.edition is Edition.FACILITIES else (),
            source=clean(section.source.location.words) if context.audit else "",
        )

    def _crumbs(self, system: Link | None) -> tuple[Link, ...]:
        if not self._context.registers:
            return (Link("Find another tag", "index.html"),)
        crumbs = (Link("Home", "index.html"), Link("Systems", "systems.html"))
        return (*crumbs, system) if system else crumbs

    def _contents(self, worked: SectionWorkings) -> tuple[WorkingView, ...]:
        edition, words_of = self._context.edition, self._context.words
        content = working_view(worked.content_l, edition, words_of=words_of)
        length = working_view(worked.length_m, edition, words_of=words_of)
        return (length, content) if self._context.registers else (content,)

    def _tube(self, working: TubeWorking) -> TubeLine:
        tube, edition, words_of = working.tube, self._context.edition, self._context.words
        return TubeLine(
            sentence_start(choice_words(tube.material)) if tube.material else f"Material {NOT_IN_RECORDS}",
            display_figure(tube.od_mm, "mm") if tube.od_mm is not None else f"size {NOT_IN_RECORDS}",
            (
                working_view(working.wall_mm, edition, words_of=words_of),
                working_view(working.bore_mm, edition, words_of=words_of),
                working_view(working.content_l, edition, words_of=words_of),
            ),
        )

    def _ends(self, section: Section) -> tuple[Fact, ...]:
        ends = []
        for label, field, node_id in (("From", "from_node", section.from_node), ("To", "to_node", section.to_node)):
            if not self._context.shows("sections", field):
                continue
            if node_id is None:
                ends.append(_fact(label, None))
                continue
            node = self._project.nodes.get(node_id)
            parts = [clean(node_id)]
            if node is not None:
                parts += [choice_words(node.kind or ""), clean(node.name or ""), clean(node.location or "")]
                if node.kind == "valve" and node.close_by:
                    parts.append(f"to close: {clean(node.close_by)}")
            ends.append(Fact(label, ", ".join(p for p in parts if p), True, self._context.address_of("nodes", node_id)))
        return tuple(ends)

    def _joints(self, section_id: str) -> TableView | None:
        if not self._joints_reader:
            return None
        joints = self._project.joints_of_section.get(section_id, [])
        return self._joints_reader.table(joints, "Joints, one row a pressed end", "The records show no joint here.")

    def _joints_words(self, section: Section) -> str:
        joints = self._project.joints_of_section.get(section.section_id, [])
        words = f"The records show {counted(len(joints), 'pressed end')} in this section."
        if not all(joint.recorded_as_end for joint in joints):
            words += " Some were recorded by the fitting, so their ends were not recorded one by one."
        return words

    def _tests(self, section_id: str) -> TableView | None:
        if not self._tests_reader:
            return None
        tests = self._project.tests_of_section.get(section_id, [])
        return self._tests_reader.table(tests, "Tests, one row an attempt and stage", "The records show no test.")

    def _tests_words(self, section_id: str) -> str:
        tests = self._project.tests_of_section.get(section_id, [])
        if not tests:
            return "The records show no test of this section."
        return _last_test(tests)

    def _documents(self, section_id: str) -> TableView | None:
        if not self._documents_reader:
            return None
        documents = self._context.documents_about.get(section_id, [])
        return document_table(self._context, self._documents_reader, documents, "Documents about this section")


def _fact(label: str, value: str | None) -> Fact:
    return Fact(label, clean(value), True) if value else Fact(label, NOT_IN_RECORDS, False)


def _where(section: Section) -> Fact:
    parts = [clean(section.location)] if section.location else []
    level = f"level {clean(section.level)}" if section.level else ""
    if level and not any(level.casefold() in part.casefold() for part in parts):
        parts.append(level)
    return _fact("Where", ", ".join(parts))


def _stops(stops: str | None) -> Fact:
    return _fact("What stops with it", stops)


def _inside(worked: SectionWorkings) -> tuple[Fact, ...]:
    def fact(label: str, unknown: str, value: float | None, unit: str, places: int) -> Fact:
        if value is None:
            return Fact(unknown, NOT_IN_RECORDS, False)
        return Fact(label, figure_text(Figure(value, unit, places)), True)

    temperature, pressure, content = worked.max_temperature_c, worked.max_pressure_bar, worked.content_l
    return (
        fact("up to", "temperature", temperature.value, "°C", temperature.places),
        fact("up to", "pressure", pressure.value, "bar", pressure.places),
        fact("holds", "content", content.value, "litres", content.places),
    )


def _last_test(tests: list[TestStage]) -> str:
    dated = [test for test in tests if test.date is not None]
    words = f"The records show {counted(len(tests), 'test stage')} of this section"
    if not dated:
        return f"{words}; the dates are {NOT_IN_RECORDS}."
    last = max(dated, key=lambda test: (test.date, test.attempt or 0))
    result = choice_words(last.result) if last.result else None
    assert last.date is not None
    ending = f"recorded as {result}" if result else f"its result {NOT_IN_RECORDS}"
    stage = choice_words(last.stage or "unnamed")
    return f"{words}; the last was the {stage} stage of {date_words(last.date)}, {ending}."


def _findings_words(number: int, own: int, edition: Edition) -> str:
    if edition is Edition.TAG:
        return ""
    if not number:
        return "The checks that were made left nothing open here. That is no proof of what was not recorded."
    if edition is Edition.AUDIT and own > MAX_FINDINGS:
        return f"The first {MAX_FINDINGS} of {counted(number, 'finding')}; the rest is on the page of findings."
    return f"{counted(number, 'finding')} about this section."
