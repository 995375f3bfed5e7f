"""No treatment of the water of a closed circuit is recorded."""

from witnessmark.checks.by_system import GapsBySystem
from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.water.water_log import treatments_of_section, wet_sections
from witnessmark.model.day_words import day_words
from witnessmark.model.finding import Rule, Severity
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="treatment-not-recorded",
    question="Is the treatment of the water recorded for every closed circuit, after its last filling?",
    severity=Severity.WEAKENS,
    closes="Write the dose into the treatments table with its day, or treat the water and record it.",
    whose="the contractor handing over",
    what="Sections of closed circuits, against dated doses of the treatments table on or after the last recorded filling.",
    why="Untreated water corrodes steel within weeks, and guarantees ask for the treatment.",
    example="System LTHW, 12 sections: the records do not answer 'Is the treatment of the water recorded for every closed circuit, after its last filling?' "
    "Missing: a dose with its day in the treatments table.",
    passes="Dose WT-002 of system LTHW was on 11 March 2026, the day on which the system was filled.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every section of a closed circuit."""
    dosed = treatments_of_section(project, "dose")
    filled = treatments_of_section(project, "fill")
    gaps = GapsBySystem(RULE, project, "section", RULE.closes)
    closed = [wet for wet in wet_sections(project) if wet.closed]
    for wet in closed:
        doses, fills = dosed.get(wet.id, []), filled.get(wet.id, [])
        last_fill = fills[-1].date if fills else None
        last_dose = doses[-1].date if doses else None
        if not project.records.treatments:
            reason = "any row in the treatments table"
        elif last_dose is None:
            reason = "a dose with its day in the treatments table"
        elif last_fill is not None and last_dose < last_fill:
            reason = f"a dose after the filling {fills[-1].treatment_id} of {day_words(last_fill)}"
        else:
            continue
        place = fills[-1].source.place("date") if fills else wet.section.source.location
        gaps.add((wet.system.system_id,), wet.id, (reason,), (wet.id,), place)
    return Answer(len(closed), tuple(gaps.findings()))


CHECK = Check(RULE, run)
