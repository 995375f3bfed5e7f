"""A section has no joint in the log."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="section-without-joints",
    question="Has every section its joints in the log?",
    severity=Severity.BREAKS,
    closes="Log its joints, or write 0 as the number of press ends expected where it truly has none.",
    whose="the subcontractor who installed the section",
    what="Sections that are installed and have no row in the joint log.",
    why="Where nothing is recorded nothing is shown, and an empty page must not be taken for a good one.",
    example="Section DHW-F-L5 with no joint at all.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every section that is not planned or removed."""
    there = [s for s in project.records.sections if s.status not in ("planned", "removed")]
    findings = tuple(
        Finding(
            RULE,
            Outcome.CANNOT_TELL,
            f"Section {section.section_id} has no joint in the log.",
            RULE.closes,
            Subject("section", section.section_id),
            section.source.location,
            whose=RULE.whose,
            section_ids=(section.section_id,),
        )
        for section in there
        if section.expected_ends != 0 and not project.joints_of_section.get(section.section_id)
    )
    return Answer(len(there), findings)


CHECK = Check(RULE, run)
