"""The press ends recorded for a section are not the number expected."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="ends-do-not-add-up",
    question="Are as many press ends recorded for each section as it has?",
    severity=Severity.BREAKS,
    closes="Log the missing ends, void the extra ones with a reason, or correct the number expected.",
    whose="the subcontractor who installed the section",
    what="The press ends in the joint log against the number expected in the sections table; joints that are void, "
    "planned or cut out do not count.",
    why="An end that nobody logged may be an end that nobody pressed, and such an end can hold at a test and let go later.",
    example="Section CHW-F-L3 expects 24 press ends and the log has 23.",
)

_NOT_THERE = {"void", "planned", "cut_out"}


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every section that is not planned or removed."""
    examined, findings = 0, []
    for section in project.records.sections:
        if section.status in ("planned", "removed"):
            continue
        ends = sum(1 for j in project.joints_of_section.get(section.section_id, []) if j.status not in _NOT_THERE)
        if section.expected_ends is None and not ends:
            # Section-without-joints says so already.
            continue
        examined += 1
        if section.expected_ends is None:
            outcome = Outcome.CANNOT_TELL
            message = f"Section {section.section_id} has {ends} press ends in the log, and how many it should have is not recorded."
            remedy = "Write the number of press ends, by drawing or count on site, in the sections table."
        elif ends != section.expected_ends:
            outcome = Outcome.FAIL
            word = "fewer" if ends < section.expected_ends else "more"
            message = (
                f"Section {section.section_id} expects {section.expected_ends} press ends and the log has {ends}, "
                f"{abs(section.expected_ends - ends)} {word}."
            )
            remedy = RULE.closes
        else:
            continue
        findings.append(
            Finding(
                RULE,
                outcome,
                message,
                remedy,
                Subject("section", section.section_id),
                section.source.place("expected_ends"),
                whose=RULE.whose,
                section_ids=(section.section_id,),
            )
        )
    return Answer(examined, tuple(findings))


CHECK = Check(RULE, run)
