"""A section has no joint in the log."""

from collections import defaultdict

from witnessmark.checks.judgement import Answer, Check
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Section
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="section-without-joints",
    question="Has every section its joints in the log?",
    severity=Severity.BREAKS,
    closes="Log its joints, or write 0 as the number of press ends expected where it truly has none.",
    whose="the subcontractor who made the joints",
    what="Sections that are installed and have no row in the joint log.",
    why="Where nothing is recorded nothing is shown, and an empty page must not be taken for a good one.",
    example="Section DHW-F-L5 has no joint in the log.",
    passes="Section DHW-F-L5 has 8 joints in the log.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every section that is not planned or removed; a system without any joint is told once."""
    there = [s for s in project.records.sections if s.status not in ("planned", "removed")]
    bare: dict[str | None, list[Section]] = defaultdict(list)
    logged: set[str | None] = set()
    for section in there:
        if project.joints_of_section.get(section.section_id):
            logged.add(section.system_id)
        elif section.expected_ends != 0:
            bare[section.system_id].append(section)
    findings: list[Finding] = []
    for system_id, sections in bare.items():
        sections.sort(key=lambda section: section.section_id)
        if system_id is None or system_id in logged or len(sections) == 1:
            findings += [_finding([section], Subject("section", section.section_id)) for section in sections]
        else:
            findings.append(_finding(sections, Subject("system", system_id)))
    return Answer(len(there), tuple(findings))


def _finding(sections: list[Section], subject: Subject) -> Finding:
    ids = tuple(section.section_id for section in sections)
    if subject.kind == "section":
        message = f"Section {ids[0]} has no joint in the log."
    else:
        message = f"System {subject.id}: none of its {len(ids)} sections has a joint in the log."
    return Finding(
        RULE,
        Outcome.CANNOT_TELL,
        message,
        RULE.closes,
        subject,
        sections[0].source.location,
        tuple(section.source.location for section in sections[1:20]),
        RULE.whose,
        ids,
    )


CHECK = Check(RULE, run)
