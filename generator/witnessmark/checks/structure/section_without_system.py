"""A section belongs to no system."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="section-without-system",
    question="Does every section belong to one system?",
    severity=Severity.BREAKS,
    closes="Write the system in the section's row.",
    whose="the contractor handing over",
    what="Sections whose system cell is empty or names no system.",
    why="The system says what is in the pipe. Without it the page of the section cannot.",
    example="Section LTHW-F-R2 with an empty system.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every section."""
    findings = tuple(
        Finding(
            RULE,
            Outcome.CANNOT_TELL,
            f"Section {section.section_id} belongs to no system of the records.",
            RULE.closes,
            Subject("section", section.section_id),
            section.source.place("system_id"),
            whose=RULE.whose,
            section_ids=(section.section_id,),
        )
        for section in project.records.sections
        if section.system_id is None
    )
    return Answer(len(project.records.sections), findings)


CHECK = Check(RULE, run)
