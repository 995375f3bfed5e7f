"""Insulation was put on and nobody is recorded to have found it right."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.materials.insulation_gaps import InsulationGaps, insulation_finding
from witnessmark.checks.materials.section_service import words_of
from witnessmark.model.day_words import day_words
from witnessmark.model.finding import Finding, Outcome, Rule, Severity
from witnessmark.model.project import Project
from witnessmark.model.records import Insulation
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="insulation-not-inspected",
    question="Was all insulation inspected after it was put on, and found right?",
    severity=Severity.WEAKENS,
    closes="Inspect the insulation, put right what is wrong, and write day and result into the insulation table.",
    whose="the contractor handing over",
    what="Day and result of the inspection of every insulation, and that it did not come before the first day of the work.",
    why="What insulation hides cannot be seen any more; the only proof is that of the day on which it was looked at.",
    example="Insulation INS-2 on section CHW-1 failed its inspection of 12 May 2026.",
    passes="Insulation INS-2 was put on from 4 May 2026 and passed its inspection of 12 May 2026.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every insulation."""
    gaps = InsulationGaps(RULE, project, RULE.closes)
    findings = [finding for each in project.records.insulations if (finding := _judged(each, gaps)) is not None]
    return Answer(len(project.records.insulations), (*findings, *gaps.findings()))


def _judged(insulation: Insulation, gaps: InsulationGaps) -> Finding | None:
    seen, applied, sections = insulation.inspected_on, insulation.applied_on, insulation.section_ids
    what = f"Insulation {insulation.insulation_id}" + (f" on {words_of(sections)}" if sections else "")
    if insulation.result == "fail":
        when = f" of {day_words(seen)}" if seen is not None else ""
        message = f"{what} failed its inspection{when}."
        return insulation_finding(RULE, Outcome.FAIL, insulation, message, "result", sections)
    if seen is not None and applied is not None and seen < applied:
        message = f"{what} was inspected on {day_words(seen)}, before the work began on {day_words(applied)}."
        return insulation_finding(RULE, Outcome.FAIL, insulation, message, "inspected_on", sections)
    if seen is None:
        gaps.add(insulation, "inspected_on", "the day of the inspection", sections)
    if insulation.result is None:
        gaps.add(insulation, "result", "the result of the inspection", sections)
    return None


CHECK = Check(RULE, run)
