"""Treated water was flushed out and not treated again."""

from collections import defaultdict

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.water.water_log import flushings_of_section, listed, treatments_of_section, wet_sections
from witnessmark.model.day_words import day_words
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Flushing, Treatment
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="treated-before-flushing",
    question="Was the water of every closed circuit treated after the last flush?",
    severity=Severity.WEAKENS,
    closes="Dose the water again, take a sample, and record both.",
    whose="the contractor handing over",
    what="In closed circuits: the day of the last dose against the day of the last flush or chemical clean of each section. "
    "The same day is in order. Circuits without a dose are another question.",
    why="A flush carries the treatment out with the dirt.",
    example="Dose WT-002 was on 2 March 2026; section LTHW-F-R2 was flushed after it, on 9 March 2026.",
    passes="Dose WT-002 was on 11 March 2026, the day after flush FL-003.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every section of a closed circuit that was dosed and flushed; one finding for a dose and a flush."""
    flushed = flushings_of_section(project)
    dosed = treatments_of_section(project, "dose")
    examined = 0
    lost: dict[tuple[str, str], list[tuple[str, Treatment, Flushing]]] = defaultdict(list)
    for wet in wet_sections(project):
        if not wet.closed or wet.id not in flushed or wet.id not in dosed:
            continue
        examined += 1
        flush, dose = flushed[wet.id][-1], dosed[wet.id][-1]
        if flush.date is not None and dose.date is not None and dose.date < flush.date:
            lost[dose.treatment_id, flush.flushing_id].append((wet.id, dose, flush))
    return Answer(examined, tuple(_finding(group) for group in lost.values()))


def _finding(group: list[tuple[str, Treatment, Flushing]]) -> Finding:
    sections = [section_id for section_id, _, _ in group]
    _, dose, flush = group[0]
    noun, was = ("section", "was") if len(sections) == 1 else ("sections", "were")
    dosed_on = day_words(dose.date) if dose.date else ""
    flushed_on = day_words(flush.date) if flush.date else ""
    return Finding(
        RULE,
        Outcome.FAIL,
        f"Dose {dose.treatment_id} was on {dosed_on}; {noun} {listed(sections)} {was} flushed after it, in "
        f"{flush.flushing_id} on {flushed_on}, and no later dose is recorded.",
        RULE.closes,
        Subject("treatment", dose.treatment_id),
        dose.source.place("date"),
        (flush.source.place("date"),),
        RULE.whose,
        tuple(sections),
    )


CHECK = Check(RULE, run)
