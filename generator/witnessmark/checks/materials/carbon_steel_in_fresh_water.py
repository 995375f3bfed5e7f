"""Carbon steel carries water that is open, fit to drink, or not treated."""

from collections import defaultdict

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.materials.section_service import CARRIES_WATER, is_potable, sections_in_place, words_of
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Section, System
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="carbon-steel-in-fresh-water",
    question="Does carbon steel carry closed, treated water only?",
    severity=Severity.BREAKS,
    closes="Change the material; or, where the records are wrong, correct the system and record its water treatment.",
    whose="the designer",
    what="Systems with carbon steel, by their tube lengths and joints: never for drinking water, never open, and treated "
    "where they are closed, by the medium, by a specification of the treatment or by a dose in the treatment table. "
    "Gases are not asked about.",
    why="Fresh water brings oxygen for as long as it is fresh, and thin-wall carbon steel has a millimetre and a half "
    "to give.",
    example="System CW carries drinking water; carbon steel stands in section CW-2.",
    passes="System LTHW-F is closed and its medium is treated water; its sections hold carbon steel.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every system of water that holds carbon steel."""
    holders: dict[str, list[Section]] = defaultdict(list)
    for section, system in sections_in_place(project):
        if (
            system is not None
            and system.medium in CARRIES_WATER
            and "carbon_steel" in project.materials_of_section[section.section_id]
        ):
            holders[system.system_id].append(section)
    dosed = {
        project.sections[section_id].system_id
        for treatment in project.records.treatments
        if treatment.kind == "dose"
        for section_id in treatment.section_ids
        if section_id in project.sections
    } | {treatment.system_id for treatment in project.records.treatments if treatment.kind == "dose"}
    findings = []
    for system_id, sections in holders.items():
        finding = _finding(project.systems[system_id], sections, system_id in dosed)
        if finding is not None:
            findings.append(finding)
    return Answer(len(holders), tuple(findings))


def _finding(system: System, sections: list[Section], dosed: bool) -> Finding | None:
    names = [section.section_id for section in sections]
    if is_potable(system):
        field, said = ("potable" if system.potable else "medium"), "carries drinking water"
        outcome = Outcome.FAIL
    elif system.closed_circuit is False:
        field, said, outcome = "closed_circuit", "is recorded as not closed", Outcome.FAIL
    elif system.closed_circuit is None:
        field, outcome = "closed_circuit", Outcome.CANNOT_TELL
        said = "is not recorded as closed or open, in the systems table"
    elif system.medium in ("treated_water", "glycol_water") or system.water_treatment or dosed:
        return None
    else:
        field, outcome = "water_treatment", Outcome.CANNOT_TELL
        said = "names no water treatment, and no row of the treatment table holds a dose"
    return Finding(
        RULE,
        outcome,
        f"System {system.system_id} {said}; carbon steel stands in {words_of(names)}.",
        RULE.closes,
        Subject("system", system.system_id),
        system.source.place(field),
        tuple(section.source.location for section in sections[:20]),
        RULE.whose,
        tuple(names),
    )


CHECK = Check(RULE, run)
