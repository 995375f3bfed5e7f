"""Sections of water that lack a valve of a kind that every one of them needs: a drain, a vent."""

from witnessmark.checks.by_system import GapsBySystem
from witnessmark.checks.judgement import Answer
from witnessmark.checks.valves.valve_register import has_kind, sections_in_place, valve_register
from witnessmark.checks.water.water_log import WATER
from witnessmark.model.finding import Finding, Outcome, Rule, Subject
from witnessmark.model.project import Project


def sections_without(rule: Rule, project: Project, kind: str) -> Answer:
    """Look at every section that carries water.

    Where the valves table holds valves of this kind for the system, a section that none of them names has none; where it
    holds none, the register was not kept and nothing can be told.
    """
    register = valve_register(project)
    gaps = GapsBySystem(rule, project, "section", rule.closes)
    findings = []
    examined = 0
    for section, system in sections_in_place(project):
        if system.medium not in WATER:
            continue
        examined += 1
        if has_kind(register, project, section, kind):
            continue
        place = section.source.location
        if kind in register.kinds_of_system.get(system.system_id, ()):
            findings.append(
                Finding(
                    rule,
                    Outcome.FAIL,
                    f"No {kind} in the valves table names section {section.section_id}, and none stands at its ends; other "
                    f"sections of system {system.system_id} have theirs.",
                    rule.closes,
                    Subject("section", section.section_id),
                    place,
                    (),
                    rule.whose,
                    (section.section_id,),
                )
            )
            continue
        reason = f"a {kind} in the valves table" if project.records.valves else "any row in the valves table"
        gaps.add((system.system_id,), section.section_id, (reason,), (section.section_id,), place)
    return Answer(examined, (*findings, *gaps.findings()))
