"""What the records show of the conditions of each guarantee, by material; in the editions with registers."""

from dataclasses import dataclass
from typing import NamedTuple

from witnessmark.evidence.guarantee_evidence import ConditionRow, ConditionState, MaterialEvidence
from witnessmark.pages.context import Context
from witnessmark.pages.finding_view import FindingView, State
from witnessmark.pages.frame import Link, PageView
from witnessmark.pages.words import clean, counted, date_words, sentence_start

KEYS = {
    ConditionState.NOT_SHOWN: "fail",
    ConditionState.CANNOT_TELL: "unknown",
    ConditionState.ACCEPTED: "waived",
    ConditionState.SHOWN: "pass",
}
MOST_SECTIONS = 12
MOST_JOINTS = 30
MOST_FINDINGS = 20
ADDRESS = "guarantees.html"


class ConditionView(NamedTuple):
    """One condition: the state, the records that speak of it, where it is not shown, and what follows."""

    anchor: str
    words: str
    state: State
    records: tuple[str, ...]
    extent: str
    joints: str
    sections: tuple[Link, ...]
    more_sections: str
    effect: str
    findings: tuple[FindingView, ...]
    more_findings: str
    unasked: str


class MaterialView(NamedTuple):
    """The guarantee for one material."""

    anchor: str
    name: str
    sentence: str
    terms: str
    dates: tuple[str, ...]
    conditions: tuple[ConditionView, ...]
    untestable: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class GuaranteesPage(PageView):
    """The guarantees of the project."""

    materials: tuple[MaterialView, ...]


def guarantees_page(context: Context) -> GuaranteesPage:
    """Every material, every condition."""
    return GuaranteesPage(
        frame=context.frame,
        address=ADDRESS,
        root="",
        title="Guarantees: what the records show",
        crumbs=(Link("Home", "index.html"),),
        materials=tuple(_material(context, each) for each in context.outcome.evidence.guarantee.materials),
    )


def _material(context: Context, evidence: MaterialEvidence) -> MaterialView:
    terms = evidence.terms
    words = ""
    if terms is not None:
        by = f" given by {terms.guarantor}" if terms.guarantor else ""
        words = clean(f"{counted(terms.years, 'year')}{by}, running from {terms.basis}.")
    dates = []
    if evidence.first_end is not None:
        dates.append(f"Cover ends first on {date_words(evidence.first_end)}.")
    if evidence.register_by is not None:
        dates.append(f"To be registered first by {date_words(evidence.register_by)}.")
    if terms is not None and terms.registered_on is not None:
        dates.append(f"Registered on {date_words(terms.registered_on)}.")
    return MaterialView(
        f"guarantee-{evidence.material.replace('_', '-')}",
        sentence_start(clean(evidence.words)),
        context.words(evidence.sentence),
        words,
        tuple(dates),
        tuple(_condition(context, evidence, row) for row in evidence.rows),
        tuple(context.words(each) for each in evidence.untestable),
    )


def _condition(context: Context, evidence: MaterialEvidence, row: ConditionRow) -> ConditionView:
    shown = row.state is ConditionState.SHOWN
    extent = "" if shown else f"{counted(len(row.joint_ids), 'joint')} in {counted(len(row.section_ids), 'section')}"
    if not shown and len(row.joint_ids) == evidence.joints:
        extent = f"all {extent}"
    known = [s for s in row.section_ids if s in context.section_addresses]
    sections = tuple(Link(clean(s), context.section_addresses[s]) for s in known[:MOST_SECTIONS])
    joints = ""
    if context.audit and not shown and len(row.joint_ids) < evidence.joints:
        more = len(row.joint_ids) - MOST_JOINTS
        joints = clean(", ".join(row.joint_ids[:MOST_JOINTS])) + (f" and {more:,} more" if more > 0 else "")
    more_sections = len(known) - MOST_SECTIONS
    more_findings = len(row.findings) - MOST_FINDINGS
    findings = row.findings[:MOST_FINDINGS] if context.audit else ()
    return ConditionView(
        f"{evidence.material.replace('_', '-')}-{row.need.replace('_', '-')}",
        row.words,
        State(row.state.value, KEYS[row.state]),
        tuple(context.words(each) for each in row.records),
        extent,
        joints,
        sections if not shown else (),
        f"and {more_sections:,} more" if more_sections > 0 and not shown else "",
        context.words(row.effect),
        tuple(context.finding_view(finding) for finding in findings),
        f"{more_findings:,} more on the page of findings." if context.audit and more_findings > 0 else "",
        f"{counted(len(row.unasked), 'question')} behind it could not be asked." if row.unasked else "",
    )
