"""What the records show of each condition of a guarantee, by material. Whether it is met, the guarantor says."""

import datetime
from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property

from witnessmark.checks.judgement import Judgement
from witnessmark.evidence.chain_state import link_state
from witnessmark.evidence.guarantee_records import records_behind
from witnessmark.evidence.guarantee_slugs import CHECKS_BEHIND
from witnessmark.evidence.material_joints import Concern, MaterialJoints, Touched, materials_of
from witnessmark.evidence.registration import NO_LAST_DAY, GuaranteeDates, dates_of, registration
from witnessmark.model.finding import Finding, Outcome
from witnessmark.model.project import Project
from witnessmark.model.settings import GUARANTEE_NEEDS, GuaranteeTerms
from witnessmark.workings.guarantee import BASIS_FIELDS
from witnessmark.workings.work import Workings

CONDITION_WORDS = {
    "registered_in_time": "Registered with the guarantor in time",
    "system_parts_only": "Parts of one approved system only",
    "trained_operatives": "Pressed by trained operatives",
    "serviced_tools": "Pressed with tools and jaws in their service interval",
    "tested": "Tested as its procedure asks",
    "inside_envelope": "Pressure, temperature and medium inside the envelope of every part",
    "water_treated": "Flushed, and its water treated",
}
"""Conditions in words, by the names of :data:`witnessmark.model.settings.GUARANTEE_NEEDS`."""


class ConditionState(StrEnum):
    """What the records say of a condition. Only ``SHOWN`` may be shown as good."""

    NOT_SHOWN = "the records do not show"
    CANNOT_TELL = "cannot tell"
    ACCEPTED = "accepted departure"
    SHOWN = "the records show"


_RANKS = {state: rank for rank, state in enumerate(ConditionState)}


@dataclass(frozen=True, slots=True)
class ConditionRow:
    """One condition of the terms for one material."""

    need: str
    words: str
    state: ConditionState
    records: tuple[str, ...]
    """Records that speak of it, as counts in words: '14 training records of 9 operatives'."""
    joint_ids: tuple[str, ...]
    """Joints for which it is not shown; empty where it is shown."""
    section_ids: tuple[str, ...]
    effect: str
    """What follows by the terms; '' where it is shown."""
    findings: tuple[Finding, ...]
    """Findings behind it that concern the material, the worst first; waived ones among them."""
    slugs: tuple[str, ...]
    """Checks that stand behind it."""
    unasked: tuple[str, ...]
    """Those of them that were not asked of these records."""


@dataclass(frozen=True, slots=True)
class MaterialEvidence:
    """The guarantee for one material: its terms, a row a condition, what cannot be tested, and its dates."""

    material: str
    words: str
    terms: GuaranteeTerms | None
    joints: int
    section_ids: tuple[str, ...]
    rows: tuple[ConditionRow, ...]
    untestable: tuple[str, ...]
    """Not testable from these records: conditions in the guarantor's own words, a registration without a last day."""
    dates: tuple[GuaranteeDates, ...]
    """The earliest start first; sections with something missing last."""
    sentence: str

    @property
    def first_end(self) -> datetime.date | None:
        """First last day of cover; ``None`` where none is known."""
        return min((dates.ends_on for dates in self.dates if dates.ends_on is not None), default=None)

    @property
    def register_by(self) -> datetime.date | None:
        """First last day to register; ``None`` where none is known or asked for."""
        return min((dates.register_by for dates in self.dates if dates.register_by is not None), default=None)


class GuaranteeEvidence:
    """Guarantee evidence of a project; a material is worked out when asked for."""

    def __init__(self, project: Project, workings: Workings, judgement: Judgement) -> None:
        self._project = project
        self._workings = workings
        self._asked = {run.rule.slug for run in judgement.runs if not run.skipped}
        behind = {slug for slugs in CHECKS_BEHIND.values() for slug in slugs}
        self._findings: dict[str, list[Finding]] = defaultdict(list)
        for finding in judgement.findings:
            if finding.rule.slug in behind and link_state(finding) is not None:
                self._findings[finding.rule.slug].append(finding)

    @cached_property
    def materials(self) -> tuple[MaterialEvidence, ...]:
        """Every material that joints, tubes or terms name, in a fixed order."""
        return tuple(self._material(joints) for joints in materials_of(self._project, self._workings))

    def material(self, material: str) -> MaterialEvidence | None:
        """The material of that name; ``None`` where the project has none such."""
        return next((each for each in self.materials if each.material == material), None)

    def _material(self, joints: MaterialJoints) -> MaterialEvidence:
        terms = self._project.settings.guarantee.get(joints.material)
        dates = dates_of(self._workings, joints)
        needs = [need for need in GUARANTEE_NEEDS if terms is not None and need in terms.needs]
        untestable = terms.conditions if terms is not None else ()
        if terms is not None and terms.register_within_days is None and "registered_in_time" in needs:
            needs.remove("registered_in_time")
            untestable = (f"{CONDITION_WORDS['registered_in_time']}: {NO_LAST_DAY}", *untestable)
        rows = tuple(self._row(need, joints, terms, dates) for need in needs if terms is not None)
        return MaterialEvidence(
            joints.material,
            joints.words,
            terms,
            len(joints.joint_ids),
            joints.section_ids,
            rows,
            untestable,
            dates,
            _sentence(joints, rows, len(untestable)) if terms is not None else _no_terms(joints),
        )

    def _row(
        self, need: str, joints: MaterialJoints, terms: GuaranteeTerms, dates: tuple[GuaranteeDates, ...]
    ) -> ConditionRow:
        slugs = CHECKS_BEHIND[need]
        unasked = tuple(slug for slug in slugs if slug not in self._asked)
        state, touched, found = self._answers(slugs, joints)
        count, records = records_behind(need, self._project, self._workings, joints)
        if need == "registered_in_time":
            count, records, late, unknown = registration(terms, dates, self._project.settings.issue.date)
            if late and state is not ConditionState.NOT_SHOWN:
                state, touched = ConditionState.NOT_SHOWN, joints.touched(late)
            elif unknown and _RANKS[state] > _RANKS[ConditionState.CANNOT_TELL]:
                state, touched = ConditionState.CANNOT_TELL, joints.touched(unknown)
        if _RANKS[state] > _RANKS[ConditionState.CANNOT_TELL] and (unasked or not count or not joints.joint_ids):
            state, touched = ConditionState.CANNOT_TELL, joints.touched(joints.section_ids)
        return ConditionRow(
            need,
            CONDITION_WORDS[need],
            state,
            records,
            touched.joint_ids,
            touched.section_ids,
            _effect(state, terms, touched, found),
            found,
            slugs,
            unasked,
        )

    def _answers(
        self, slugs: Iterable[str], joints: MaterialJoints
    ) -> tuple[ConditionState, Touched, tuple[Finding, ...]]:
        by_state: dict[ConditionState, list[Finding]] = defaultdict(list)
        touched: dict[ConditionState, list[Concern]] = defaultdict(list)
        for slug in slugs:
            for finding in self._findings.get(slug, ()):
                concerned = joints.concerned(finding)
                if concerned is not None:
                    by_state[_state_of(finding)].append(finding)
                    touched[_state_of(finding)].append(concerned)
        found = tuple(finding for state in ConditionState for finding in by_state[state])
        worst = next((state for state in ConditionState if by_state[state]), ConditionState.SHOWN)
        return worst, joints.together(touched[worst]), found


def _state_of(finding: Finding) -> ConditionState:
    if finding.outcome is Outcome.WAIVED:
        return ConditionState.ACCEPTED
    return ConditionState.NOT_SHOWN if finding.outcome is Outcome.FAIL else ConditionState.CANNOT_TELL


def _counted(number: int, noun: str) -> str:
    return f"{number:,} {noun}{'' if number == 1 else 's'}"


def _effect(state: ConditionState, terms: GuaranteeTerms, touched: Touched, findings: tuple[Finding, ...]) -> str:
    if state is ConditionState.SHOWN:
        return ""
    years = _counted(terms.years, "year")
    asks = f"The terms{' of ' + terms.guarantor if terms.guarantor else ''} ask for it: {years} from"
    asks += f" {BASIS_FIELDS[terms.basis][1]}."
    joints, sections = len(touched.joint_ids), len(touched.section_ids)
    where = f"{_counted(joints, 'joint')} in {_counted(sections, 'section')}"
    if state is ConditionState.NOT_SHOWN:
        return f"{asks} A claim for {where} could be refused."
    if state is ConditionState.CANNOT_TELL:
        return f"{asks} For {where} nothing could be shown if a claim were made."
    waivers = [f.waiver for f in findings if f.waiver is not None]
    excluded = sorted({w.concession_id for w in waivers if w.guarantee_effect == "excluded"})
    unstated = sorted({w.concession_id for w in waivers if w.guarantee_effect == "not stated"})
    if excluded:
        return f"{asks} By {', '.join(excluded)} the guarantee does not cover {where}."
    if unstated:
        return f"{asks} {', '.join(unstated)} does not say what the departure does to the guarantee for {where}."
    return f"{asks} The departure for {where} was accepted and is recorded as leaving the guarantee as it is."


def _no_terms(joints: MaterialJoints) -> str:
    name = joints.words[:1].upper() + joints.words[1:]
    return f"{name}: project.yml holds no guarantee terms, so no condition could be held against the records."


def _sentence(joints: MaterialJoints, rows: tuple[ConditionRow, ...], untestable: int) -> str:
    name = joints.words[:1].upper() + joints.words[1:]
    parts = [
        f"{sum(1 for row in rows if row.state is state)} {words}"
        for state, words in (
            (ConditionState.SHOWN, "shown"),
            (ConditionState.NOT_SHOWN, "not shown"),
            (ConditionState.CANNOT_TELL, "cannot be told"),
            (ConditionState.ACCEPTED, "accepted as departures"),
        )
        if any(row.state is state for row in rows)
    ]
    told = (
        f"{name}, {_counted(len(joints.joint_ids), 'joint')}: of {_counted(len(rows), 'condition')} {', '.join(parts)}."
    )
    if untestable:
        told += f" {_counted(untestable, 'further condition')} cannot be tested from these records."
    return told
