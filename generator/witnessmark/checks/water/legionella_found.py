"""The last sample shows legionella."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.water.water_samples import Sample, last_samples
from witnessmark.model.day_words import day_words
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="legionella-found",
    question="Is the last sample of every place free of legionella?",
    severity=Severity.BREAKS,
    closes="Keep the outlets out of use and follow the local rules and the responsible person's instructions; disinfect, "
    "sample again, and write the results into the treatments table.",
    whose="the client's side, with the contractor handing over",
    what="The last sample at each place of every system with water that gives a count. Samples of potable systems without a "
    "count cannot tell.",
    why="Breathed in with spray, it can kill.",
    example="Sample WT-012 at 'Basin 2.04' of 24 April 2026 shows 300 cfu/L of legionella.",
    passes="Sample WT-012 of 24 April 2026 shows 0 cfu/L.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at the last samples with a count, and at those of potable systems without; the latter are told once a system."""
    examined = 0
    findings = []
    uncounted: dict[str, list[Sample]] = {}
    for sample in last_samples(project):
        count = sample.row.legionella_cfu_l
        if count is None:
            for system_id in dict.fromkeys(wet.system.system_id for wet in sample.sections if wet.potable):
                uncounted.setdefault(system_id, []).append(sample)
            continue
        examined += 1
        if count > 0:
            on = day_words(sample.row.date) if sample.row.date else ""
            message = f"Sample {sample.row.treatment_id}{sample.where} of {on} shows {count:g} cfu/L of legionella."
            findings.append(_finding(Outcome.FAIL, message, Subject("treatment", sample.row.treatment_id), [sample]))
    for system_id, samples in uncounted.items():
        examined += 1
        more = f", and {len(samples) - 3} more" if len(samples) > 3 else ""
        names = ", ".join(sample.row.treatment_id for sample in samples[:3])
        message = f"System {system_id}: no legionella count is recorded for the last samples {names}{more}."
        if len(samples) == 1:
            message = f"System {system_id}: no legionella count is recorded for the last sample, {names}."
        findings.append(_finding(Outcome.CANNOT_TELL, message, Subject("system", system_id), samples))
    return Answer(examined, tuple(findings))


def _finding(outcome: Outcome, message: str, subject: Subject, samples: list[Sample]) -> Finding:
    places = [sample.row.source.place("legionella_cfu_l") for sample in samples]
    return Finding(
        RULE,
        outcome,
        message,
        RULE.closes,
        subject,
        places[0],
        tuple(places[1:20]),
        RULE.whose,
        tuple(dict.fromkeys(name for sample in samples for name in sample.section_ids)),
    )


CHECK = Check(RULE, run)
