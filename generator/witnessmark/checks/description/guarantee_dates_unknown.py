"""The guarantee of a section has no terms or no start."""

from collections import defaultdict

from witnessmark.checks.judgement import Answer, Check
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.source import SourceLocation
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="guarantee-dates-unknown",
    question="Can the end of every guarantee be worked out?",
    severity=Severity.WEAKENS,
    closes="Write the terms for the material in project.yml, or the date from which they run in the sections table.",
    whose="the contractor handing over",
    what="For each material in each section: terms in project.yml, and the date that they run from.",
    why="A guarantee whose end nobody knows is claimed too late.",
    example="The guarantee for carbon steel in LTHW-F-R2 has no end. Missing: the guarantee terms for "
    "carbon steel in project.yml.",
    passes="The terms for carbon steel run from installation, and every section with carbon steel has an installation date.",
)


def run(project: Project, workings: Workings) -> Answer:
    """Look at every material of every section, and answer once a material and reason."""
    examined = 0
    groups: dict[tuple[str, tuple[str, ...]], list[str]] = defaultdict(list)
    for section_id, worked in workings.sections.items():
        for guarantee in worked.guarantees:
            examined += 1
            if guarantee.ends_on is None:
                groups[(guarantee.material, guarantee.missing)].append(section_id)
    findings = []
    for (material, missing), section_ids in groups.items():
        section_ids.sort()
        shown = ", ".join(section_ids[:5]) + (f" and {len(section_ids) - 5} more" if len(section_ids) > 5 else "")
        findings.append(
            Finding(
                RULE,
                Outcome.CANNOT_TELL,
                f"The guarantee for {material.replace('_', ' ')} in {shown} has no end. Missing: {'; '.join(missing)}.",
                RULE.closes,
                Subject("section", section_ids[0]),
                project.sections[section_ids[0]].source.location
                if project.settings.guarantee.get(material)
                else SourceLocation("project.yml"),
                tuple(project.sections[section_id].source.location for section_id in section_ids[1:50]),
                RULE.whose,
                tuple(section_ids),
            )
        )
    return Answer(examined, tuple(findings))


CHECK = Check(RULE, run)
