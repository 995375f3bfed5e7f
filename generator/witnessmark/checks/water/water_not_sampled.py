"""No sample shows the water of a closed circuit as it is handed over."""

from witnessmark.checks.by_system import GapsBySystem
from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.water.water_log import treatments_of_section, wet_sections
from witnessmark.model.day_words import day_words
from witnessmark.model.finding import Rule, Severity
from witnessmark.model.project import Project
from witnessmark.model.threshold import limit
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="water-not-sampled",
    question="Is there a recent sample of the water of every closed circuit, taken after its treatment?",
    severity=Severity.WEAKENS,
    closes="Take a sample, and write its results into the treatments table.",
    whose="the contractor handing over",
    what="Sections of closed circuits: a dated sample on or after the last dose, and not older than the threshold on the day "
    "of the issue. Drinking water has its own questions.",
    why="A dose says what was put in; a sample says what the water is.",
    example="System LTHW, 12 sections: the records do not answer 'Is there a recent sample of the water of every closed circuit, taken after its treatment?' "
    "Missing: a sample after the dose WT-002 of 11 March 2026.",
    passes="Sample WT-007 of system LTHW was taken on 2 April 2026, after the dose of 11 March 2026.",
    thresholds=("water-sample-age-days",),
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every section of a closed circuit."""
    sampled = treatments_of_section(project, "sample")
    dosed = treatments_of_section(project, "dose")
    oldest = limit(project.settings, "water-sample-age-days")
    gaps = GapsBySystem(RULE, project, "section", RULE.closes)
    closed = [wet for wet in wet_sections(project) if wet.closed]
    for wet in closed:
        samples, doses = sampled.get(wet.id, []), dosed.get(wet.id, [])
        last = samples[-1].date if samples else None
        dose = doses[-1].date if doses else None
        if last is None:
            reason = "a sample with its day in the treatments table"
            place = wet.section.source.location
        elif dose is not None and last < dose:
            reason = f"a sample after the dose {doses[-1].treatment_id} of {day_words(dose)}"
            place = samples[-1].source.place("date")
        elif (project.settings.issue.date - last).days > oldest:
            reason = (
                f"a sample of the last {oldest:g} days before the issue; the last, {samples[-1].treatment_id}, is of "
            )
            reason += day_words(last)
            place = samples[-1].source.place("date")
        else:
            continue
        gaps.add((wet.system.system_id,), wet.id, (reason,), (wet.id,), place)
    return Answer(len(closed), tuple(gaps.findings()))


CHECK = Check(RULE, run)
