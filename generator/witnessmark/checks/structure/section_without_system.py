"""A section belongs to no system."""

from collections import defaultdict

from witnessmark.checks.judgement import Answer, Check
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Section
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="section-without-system",
    question="Does every section belong to one system?",
    severity=Severity.BREAKS,
    closes="Write the system in the section's row.",
    whose="the contractor handing over",
    what="Sections whose system cell is empty or names no system.",
    why="The system says what is in the pipe. Without it the page of the section cannot.",
    example="Section LTHW-F-R2 belongs to no system of the records: the cell is empty.",
    passes="Section LTHW-F-R2 belongs to system LTHW-F.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every section, and answer once for the sections of a file whose system cells say the same."""
    groups: dict[tuple[str, str, str], list[Section]] = defaultdict(list)
    for section in project.records.sections:
        if section.system_id is None:
            cell = section.source.cell("system_id")
            table = section.source.table
            groups[table.file, table.sheet, cell.raw.strip() if cell else ""].append(section)
    findings = []
    for (file, sheet, written), sections in groups.items():
        sections.sort(key=lambda section: section.section_id)
        ids = tuple(section.section_id for section in sections)
        cells = f"the cell says '{written}'" if written else "the cell is empty"
        if len(ids) == 1:
            subject, message = (
                Subject("section", ids[0]),
                f"Section {ids[0]} belongs to no system of the records: {cells}.",
            )
        else:
            subject = Subject("file", f"{file} [{sheet}]" if sheet else file)
            message = f"{len(ids)} sections, the first of them {ids[0]}, belong to no system of the records: {cells}."
        findings.append(
            Finding(
                RULE,
                Outcome.CANNOT_TELL,
                message,
                RULE.closes,
                subject,
                sections[0].source.place("system_id"),
                tuple(section.source.place("system_id") for section in sections[1:20]),
                RULE.whose,
                ids,
            )
        )
    return Answer(len(project.records.sections), tuple(findings))


CHECK = Check(RULE, run)
