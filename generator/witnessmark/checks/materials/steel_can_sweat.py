"""Cold carbon steel can sweat, and nothing shows that air is kept from it."""

from witnessmark.checks.by_system import GapsBySystem
from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.materials.insulation_gaps import InsulationGaps, insulation_finding
from witnessmark.checks.materials.section_service import low_and_high, sections_in_place, words_of
from witnessmark.model.finding import Finding, Outcome, Rule, Severity
from witnessmark.model.project import Project
from witnessmark.model.records import Insulation
from witnessmark.model.threshold import limit
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="steel-can-sweat",
    question="Is damp air kept from carbon steel that is colder than the air?",
    severity=Severity.WEAKENS,
    closes="Insulate with a vapour barrier, seal its joints, and record that it was seen.",
    whose="the contractor handing over",
    what="Sections with carbon steel whose lowest temperature is below the dew point to be expected, against the "
    "insulations that name them: a vapour barrier, and its joints sealed. Heating, hot water and gases do not sweat.",
    why="Thin-wall carbon steel that sweats under its insulation rusts through from outside, unseen.",
    example="Insulation INS-2 on section CHW-1 has no vapour barrier; the carbon steel below it is at 6 °C.",
    passes="Insulation INS-2 on section CHW-1 has a vapour barrier, its joints sealed.",
    thresholds=("sweating-below-c",),
)

_WARM_OR_DRY = frozenset(
    {"heating_flow", "heating_return", "hot_water_flow", "hot_water_return", "compressed_air", "natural_gas"}
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every section of cold carbon steel."""
    dew_point = limit(project.settings, "sweating-below-c")
    gaps = GapsBySystem(RULE, project, "section")
    cells = InsulationGaps(RULE, project)
    cold: dict[str, float] = {}
    for section, system in sections_in_place(project):
        if "carbon_steel" not in project.materials_of_section[section.section_id]:
            continue
        low, _ = low_and_high(section, system)
        if low is None or low >= dew_point or (system is not None and system.service in _WARM_OR_DRY):
            continue
        cold[section.section_id] = low
        if section.section_id not in project.insulations_of_section:
            reason = f"a row in the insulation table; carbon steel that gets down to {low:g} °C sweats"
            systems = (section.system_id,) if section.system_id is not None else ()
            gaps.add(systems, section.section_id, (reason,), (section.section_id,), section.source.place("insulation"))
    findings = []
    for insulation in project.records.insulations:
        sections = [section_id for section_id in insulation.section_ids if section_id in cold]
        if sections:
            findings.extend(_judged(insulation, sections, min(cold[section_id] for section_id in sections), cells))
    return Answer(len(cold), (*findings, *gaps.findings(), *cells.findings()))


def _judged(insulation: Insulation, sections: list[str], low: float, cells: InsulationGaps) -> list[Finding]:
    below = f"; the carbon steel below it gets down to {low:g} °C"
    faults = []
    for field, without, words in (
        ("vapour_barrier", "no vapour barrier", "whether it has a vapour barrier"),
        (
            "joints_sealed",
            "a vapour barrier with joints that are not sealed",
            "whether the joints of the barrier are sealed",
        ),
    ):
        value = getattr(insulation, field)
        if value is False:
            faults.append((field, without))
            break
        if value is None:
            cells.add(insulation, field, words, sections)
    return [
        insulation_finding(
            RULE,
            Outcome.FAIL,
            insulation,
            f"Insulation {insulation.insulation_id} on {words_of(sections)} has {without}{below}.",
            field,
            sections,
        )
        for field, without in faults
    ]


CHECK = Check(RULE, run)
