"""Nothing is recorded of what carries a section."""

from witnessmark.checks.by_system import GapsBySystem
from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.materials.section_service import sections_in_place
from witnessmark.model.finding import Rule, Severity
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="section-without-supports",
    question="Is it recorded what carries every section?",
    severity=Severity.TIDY,
    closes="Measure the largest distances on site and write a row into the supports table.",
    whose="the contractor handing over",
    what="Sections in place without a row of supports in the supports table.",
    why="Whether pipe is carried well enough cannot be told from a table without it.",
    example="System LTHW-F, 12 sections: the records do not answer 'Is it recorded what carries every section?' "
    "Missing: a row of supports in the supports table.",
    passes="Section H-2 has row SUP-3 in the supports table.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every section in place."""
    gaps = GapsBySystem(RULE, project, "section", RULE.closes)
    examined = 0
    for section, _ in sections_in_place(project):
        examined += 1
        rows = project.supports_of_section.get(section.section_id, ())
        if not any(row.kind in ("support", "guide", None) for row in rows):
            systems = (section.system_id,) if section.system_id is not None else ()
            gaps.add(
                systems,
                section.section_id,
                ("a row of supports in the supports table",),
                (section.section_id,),
                section.source.location,
            )
    return Answer(examined, tuple(gaps.findings()))


CHECK = Check(RULE, run)
