"""The water in stainless steel holds more chloride than the limit."""

import datetime
from collections import defaultdict

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.materials.section_service import stainless_sections, words_of
from witnessmark.model.day_words import day_words
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Treatment
from witnessmark.model.threshold import limit
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="chloride-above-limit",
    question="Is there little enough chloride in the water of stainless steel?",
    severity=Severity.WEAKENS,
    closes="Have the water analysed; where chloride is above the limit, change the water and sample again.",
    whose="the contractor handing over",
    what="The last sample with a chloride figure, at every sample point of a system with stainless steel that carries "
    "water. A sample of some sections counts for the system they belong to.",
    why="Chloride pits stainless steel from within, the faster the hotter it is.",
    example="System BCW: the sample of 12 May 2026 held 310 mg/L of chloride; the limit for stainless steel is 250 mg/L.",
    passes="System BCW: the sample of 12 May 2026 held 40 mg/L of chloride.",
    thresholds=("stainless-chloride-mg-l",),
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every system of water that holds stainless steel."""
    holders = stainless_sections(project)
    samples: dict[str, list[Treatment]] = defaultdict(list)
    for treatment in project.records.treatments:
        systems = {treatment.system_id} | {
            project.sections[section_id].system_id
            for section_id in treatment.section_ids
            if section_id in project.sections
        }
        for system_id in systems:
            if system_id in holders and treatment.chloride_mg_l is not None:
                samples[system_id].append(treatment)
    allowed = limit(project.settings, "stainless-chloride-mg-l")
    findings = []
    for system_id, sections in holders.items():
        last = _last_of_each_point(samples[system_id])
        high = [sample for sample in last if (sample.chloride_mg_l or 0.0) > allowed]
        if high:
            findings.append(_too_much(system_id, sections, high, allowed))
        elif not last:
            findings.append(_no_sample(project, system_id, sections))
    return Answer(len(holders), tuple(findings))


def _last_of_each_point(samples: list[Treatment]) -> list[Treatment]:
    """Samples of the last day of each point; those without a day are all kept, since none is known to come after."""
    last: dict[str | None, datetime.date] = {}
    for sample in samples:
        if sample.date is not None:
            last[sample.sample_point] = max(sample.date, last.get(sample.sample_point, sample.date))
    return sorted(
        (sample for sample in samples if sample.date is None or sample.date == last[sample.sample_point]),
        key=lambda sample: (str(sample.date or ""), sample.treatment_id),
    )


def _too_much(system_id: str, sections: list[str], high: list[Treatment], allowed: float) -> Finding:
    worst = max(high, key=lambda sample: sample.chloride_mg_l or 0.0)
    when = f"of {day_words(worst.date)}" if worst.date is not None else f"{worst.treatment_id}, which has no day,"
    where = f" at '{worst.sample_point}'" if worst.sample_point else ""
    return Finding(
        RULE,
        Outcome.FAIL,
        f"System {system_id}: the sample {when}{where} held {worst.chloride_mg_l:g} mg/L of chloride; "
        f"the limit for stainless steel is {allowed:g} mg/L.",
        RULE.closes,
        Subject("system", system_id),
        worst.source.place("chloride_mg_l"),
        tuple(sample.source.place("chloride_mg_l") for sample in high if sample is not worst),
        RULE.whose,
        tuple(sections),
    )


def _no_sample(project: Project, system_id: str, sections: list[str]) -> Finding:
    return Finding(
        RULE,
        Outcome.CANNOT_TELL,
        f"System {system_id}: no row of the treatment table gives the chloride of its water; stainless steel stands in "
        f"{words_of(sections)}.",
        RULE.closes,
        Subject("system", system_id),
        project.systems[system_id].source.location,
        (),
        RULE.whose,
        tuple(sections),
    )


CHECK = Check(RULE, run)
