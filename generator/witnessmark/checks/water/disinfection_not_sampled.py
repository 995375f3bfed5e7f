"""No accredited sample shows that drinking water was clean before it was used."""

from collections import defaultdict

from witnessmark.checks.by_system import GapsBySystem
from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.water.water_log import (
    flushings_of_section,
    in_use_from,
    listed,
    treatments_of_section,
    wet_sections,
)
from witnessmark.model.day_words import day_words
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Section, Treatment
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="disinfection-not-sampled",
    question="Does an accredited sample show that the drinking water was clean after disinfection and before use?",
    severity=Severity.BREAKS,
    closes="Have samples taken and analysed by an accredited laboratory, keep the water out of use until the results are in, "
    "and write laboratory, accreditation and results into the treatments table.",
    whose="the contractor handing over",
    what="Sections of potable systems that were disinfected: a sample on or after the last disinfection and on or before "
    "commissioning, or completion where no commissioning is recorded, by a laboratory that is named with its "
    "accreditation.",
    why="Disinfection is shown by what no longer grows, and only a laboratory can say that.",
    example="Sample WT-012 of section BCW-R1 was taken on 6 May 2026, after it was commissioned on 4 May 2026.",
    passes="Sample WT-012 of 24 April 2026, by LAB-1 (ACC-0417), follows disinfection FL-009 of 20 April 2026.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every disinfected section of a potable system."""
    treated = flushings_of_section(project, ("disinfection",))
    sampled = treatments_of_section(project, "sample")
    unknown = GapsBySystem(RULE, project, "section", RULE.closes)
    late: dict[str, tuple[Treatment, list[Section]]] = {}
    blanks: dict[tuple[str, str], tuple[Treatment, list[str]]] = {}
    examined = 0
    for wet in wet_sections(project):
        rows = treated.get(wet.id)
        if not wet.potable or not rows or rows[-1].date is None:
            continue
        examined += 1
        done, used = rows[-1].date, in_use_from(project, wet.section)
        after = [row for row in sampled.get(wet.id, ()) if row.date is not None and row.date >= done]
        timely = [row for row in after if used is None or (row.date is not None and row.date <= used)]
        if not after:
            reason = f"a sample after the disinfection {rows[-1].flushing_id} of {day_words(done)}"
            unknown.add((wet.system.system_id,), wet.id, (reason,), (wet.id,), rows[-1].source.place("date"))
        elif not timely:
            late.setdefault(after[0].treatment_id, (after[0], []))[1].append(wet.section)
        elif not any(row.laboratory and row.accreditation_no for row in timely):
            row = timely[0]
            field = "accreditation_no" if row.laboratory else "laboratory"
            blanks.setdefault((row.treatment_id, field), (row, []))[1].append(wet.id)
    findings = []
    for row, sections in late.values():
        findings += _late(project, row, sections)
    findings += [_blank(row, field, names) for (_, field), (row, names) in blanks.items()]
    return Answer(examined, (*findings, *unknown.findings()))


def _late(project: Project, row: Treatment, sections: list[Section]) -> list[Finding]:
    by_day: dict[str, list[Section]] = defaultdict(list)
    for section in sections:
        used = in_use_from(project, section)
        if used is not None:
            by = "commissioned" if section.commissioned_on else "handed over"
            by_day[f"{by} on {day_words(used)}"].append(section)
    findings = []
    for words, group in by_day.items():
        names = [section.section_id for section in group]
        was = "it was" if len(names) == 1 else "they were"
        message = (
            f"Sample {row.treatment_id} of {'section' if len(names) == 1 else 'sections'} {listed(names)} was taken on "
            f"{day_words(row.date) if row.date else ''}, after {was} {words}; none between disinfection and use is recorded."
        )
        findings.append(_finding(row, "date", Outcome.FAIL, message, names))
    return findings


def _blank(row: Treatment, field: str, names: list[str]) -> Finding:
    what = "accreditation of its laboratory" if field == "accreditation_no" else "laboratory"
    noun = "section" if len(names) == 1 else "sections"
    message = f"Sample {row.treatment_id} of {noun} {listed(names)} does not name the {what}."
    return _finding(row, field, Outcome.CANNOT_TELL, message, names)


def _finding(row: Treatment, field: str, outcome: Outcome, message: str, names: list[str]) -> Finding:
    return Finding(
        RULE,
        outcome,
        message,
        RULE.closes,
        Subject("treatment", row.treatment_id),
        row.source.place(field),
        (),
        RULE.whose,
        tuple(names),
    )


CHECK = Check(RULE, run)
