"""The last sample of the water is outside its limits."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.materials.section_service import stainless_sections
from witnessmark.checks.water.water_limits import WaterLimit, water_limits
from witnessmark.checks.water.water_samples import Sample, last_samples
from witnessmark.model.day_words import day_words
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.threshold import limit
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="water-out-of-limits",
    question="Is the last sample of the water inside its limits?",
    severity=Severity.WEAKENS,
    closes="Correct the water, take another sample, and write its results into the treatments table.",
    whose="the contractor handing over",
    what="The last sample at each place: the result on the report, and each measured value against the limits of the service "
    "in the table of water limits, which is there to be edited. Legionella has its own question, and so "
    "has chloride above the limit for stainless steel.",
    why="Water outside its limits eats pipe and plant, and guarantees ask for it to be inside at handover.",
    example="Sample WT-007 of 2 April 2026: pH 7.1, where 8.2 to 10 is asked.",
    passes="Sample WT-007 of 2 April 2026 has pH 8.4, inside 8.2 to 10, and the report says that it is in limits.",
    thresholds=("stainless-chloride-mg-l",),
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at the last samples; one finding a sample."""
    samples = last_samples(project)
    stainless = stainless_sections(project)
    allowed = limit(project.settings, "stainless-chloride-mg-l")
    findings = [
        finding
        for sample in samples
        if (finding := _judged(sample, None if stainless.keys().isdisjoint(_systems(sample)) else allowed)) is not None
    ]
    return Answer(len(samples), tuple(findings))


def _systems(sample: Sample) -> set[str]:
    return {wet.system.system_id for wet in sample.sections}


def _judged(sample: Sample, steel_mg_l: float | None) -> Finding | None:
    row = sample.row
    limits = list(dict.fromkeys(one for wet in sample.sections for one in water_limits(wet.system.service)))
    measured = [(one, value) for one in limits if (value := _value(sample, one)) is not None]
    # The question on chloride in stainless steel tells what exceeds its limit.
    outside = [
        (one, value)
        for one, value in measured
        if not one.keeps(value) and not (one.field == "chloride_mg_l" and steel_mg_l is not None and value > steel_mg_l)
    ]
    name = f"Sample {row.treatment_id}{sample.where} of {day_words(row.date)}" if row.date else ""
    if outside:
        said = "; ".join(f"{one.words} {_figure(value, one)}, where {one.asked()} is asked" for one, value in outside)
        report = (
            " The report calls it in limits: say which limits it was held against." if row.result == "in_limits" else ""
        )
        return _finding(sample, Outcome.FAIL, f"{name}: {said}.{report}", outside[0][0].field)
    if row.result == "out_of_limits":
        return _finding(sample, Outcome.FAIL, f"{name} is out of limits by its report.", "result")
    if row.result is None and not measured:
        return _finding(sample, Outcome.CANNOT_TELL, f"{name} has neither a result nor a value with a limit.", "result")
    return None


def _value(sample: Sample, one: WaterLimit) -> float | None:
    value: float | None = getattr(sample.row, one.field)
    return value


def _figure(value: float, one: WaterLimit) -> str:
    return f"{value:g} {one.unit}" if one.unit else f"{value:g}"


def _finding(sample: Sample, outcome: Outcome, message: str, field: str) -> Finding:
    return Finding(
        RULE,
        outcome,
        message,
        RULE.closes,
        Subject("treatment", sample.row.treatment_id),
        sample.row.source.place(field),
        (),
        RULE.whose,
        sample.section_ids,
    )


CHECK = Check(RULE, run)
