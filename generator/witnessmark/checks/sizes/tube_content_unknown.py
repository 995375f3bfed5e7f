"""How much a section holds cannot be worked out."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="tube-content-unknown",
    question="Can the content of every section be worked out?",
    severity=Severity.WEAKENS,
    closes="Write outside diameter, wall (or series) and length in the tubes table.",
    whose="the contractor handing over",
    what="Sections for which outside diameter, wall or length of any tube is missing.",
    why="Whoever stands at a leak needs to know how many litres will come. A wall is never assumed from the diameter: "
    "15 mm stainless tube has two.",
    example="The content of section DHW-F-L2 cannot be worked out. Missing: the wall, or the series of the tube.",
    passes="Section DHW-F-L2: 12 m of 22 mm stainless tube with a wall of 1.2 mm.",
)


def run(project: Project, workings: Workings) -> Answer:
    """Look at every section."""
    findings = []
    for section in project.records.sections:
        worked = workings.sections[section.section_id].content_l
        if worked.known:
            continue
        tubes = project.tubes_of_section.get(section.section_id, [])
        place = tubes[0].source.location if tubes else section.source.location
        findings.append(
            Finding(
                RULE,
                Outcome.CANNOT_TELL,
                f"The content of section {section.section_id} cannot be worked out. Missing: {'; '.join(worked.missing)}.",
                RULE.closes,
                Subject("section", section.section_id),
                place,
                tuple(tube.source.location for tube in tubes[1:]),
                RULE.whose,
                (section.section_id,),
            )
        )
    return Answer(len(project.records.sections), tuple(findings))


CHECK = Check(RULE, run)
