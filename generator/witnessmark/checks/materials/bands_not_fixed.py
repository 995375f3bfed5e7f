"""Identification bands are not fixed outside the insulation."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.materials.insulation_gaps import InsulationGaps, insulation_finding
from witnessmark.checks.materials.section_service import words_of
from witnessmark.model.finding import Outcome, Rule, Severity
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="bands-not-fixed",
    question="Are identification bands fixed outside the insulation of every insulated section?",
    severity=Severity.TIDY,
    closes="Fix the bands outside the insulation and record it.",
    whose="the contractor handing over",
    what="What the insulation table says of the identification bands. Where they belong, BS 1710 says.",
    why="Bands tell at a glance what a pipe carries and which way; a tag has to be read.",
    example="Insulation INS-2 on section CHW-1: the bands are not fixed outside it.",
    passes="Insulation INS-2 on section CHW-1: the bands are fixed outside it.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every insulation."""
    gaps = InsulationGaps(RULE, project)
    findings = []
    for each in project.records.insulations:
        sections = list(each.section_ids)
        if each.bands_fixed is None:
            gaps.add(each, "bands_fixed", "whether the bands are fixed outside it", sections)
        elif not each.bands_fixed:
            where = f" on {words_of(sections)}" if sections else ""
            message = f"Insulation {each.insulation_id}{where}: the bands are not fixed outside it."
            findings.append(insulation_finding(RULE, Outcome.FAIL, each, message, "bands_fixed", sections))
    return Answer(len(project.records.insulations), (*findings, *gaps.findings()))


CHECK = Check(RULE, run)
