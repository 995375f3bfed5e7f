"""Insulation on stainless steel is not declared low in chloride."""

from witnessmark.checks.by_system import GapsBySystem
from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.materials.insulation_gaps import InsulationGaps, insulation_finding
from witnessmark.checks.materials.section_service import low_and_high, sections_in_place, words_of
from witnessmark.model.finding import Outcome, Rule, Severity
from witnessmark.model.project import Project
from witnessmark.model.threshold import limit
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="insulation-not-chloride-free",
    question="Is all insulation on stainless steel declared low in chloride?",
    severity=Severity.WEAKENS,
    closes="Record the declaration of the insulation's maker, or change the insulation.",
    whose="the contractor handing over",
    what="Insulations of sections with stainless steel, and what they declare of leachable chloride. The finding says "
    "where the steel is hot enough to crack should the insulation get wet.",
    why="Water that gets into insulation carries its chloride to the pipe, where it dries and gathers; hot stainless "
    "steel cracks under it from outside.",
    example="Insulation INS-4 on section DHW-1 is recorded as not low in chloride; the stainless steel below it is at 65 °C.",
    passes="Insulation INS-4 on section DHW-1 is declared low in chloride.",
    thresholds=("stainless-cracks-from-c", "stainless-cracks-to-c"),
)

BARE = frozenset({"", "-", "none", "no", "nil", "n/a", "bare", "not insulated", "uninsulated"})
"""Words of the sections table for no insulation, in small letters."""


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every insulation of a section with stainless steel."""
    cold, hot = (limit(project.settings, name) for name in RULE.thresholds)
    gaps = InsulationGaps(RULE, project, RULE.closes)
    no_row = GapsBySystem(RULE, project, "section")
    findings = []
    examined = 0
    for section, _ in sections_in_place(project):
        if (
            "stainless_steel" in project.materials_of_section[section.section_id]
            and (section.insulation or "").strip().lower() not in BARE
            and section.section_id not in project.insulations_of_section
        ):
            examined += 1
            no_row.add(
                (section.system_id,) if section.system_id is not None else (),
                section.section_id,
                ("a row in the insulation table for what the sections table says is insulated",),
                (section.section_id,),
                section.source.place("insulation"),
            )
    for insulation in project.records.insulations:
        sections = [
            section_id
            for section_id in insulation.section_ids
            if "stainless_steel" in project.materials_of_section.get(section_id, ())
        ]
        if not sections:
            continue
        examined += 1
        if insulation.chloride_free is None:
            gaps.add(insulation, "chloride_free", "whether it is low in chloride", sections)
        elif not insulation.chloride_free:
            highest = [_highest(project, section_id) for section_id in sections]
            within = [celsius for celsius in highest if celsius is not None and cold <= celsius <= hot]
            heat = f"; the stainless steel below it is at up to {max(within):g} °C" if within else ""
            message = f"Insulation {insulation.insulation_id} on {words_of(sections)} is recorded as not low in chloride{heat}."
            findings.append(insulation_finding(RULE, Outcome.FAIL, insulation, message, "chloride_free", sections))
    return Answer(examined, (*findings, *gaps.findings(), *no_row.findings()))


def _highest(project: Project, section_id: str) -> float | None:
    section = project.sections[section_id]
    return low_and_high(section, project.systems.get(section.system_id or ""))[1]


CHECK = Check(RULE, run)
