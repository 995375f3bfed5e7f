"""The press ends recorded for a section are not the number expected."""

from operator import attrgetter

from witnessmark.checks.by_system import GapsBySystem
from witnessmark.checks.joint_groups import NOT_THERE
from witnessmark.checks.judgement import Answer, Check
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="ends-do-not-add-up",
    question="Are as many press ends recorded for each section as it has?",
    severity=Severity.BREAKS,
    closes="Log the missing ends, void the extra ones with a reason, or correct the number expected; where none is recorded, "
    "count by drawing or on site and write it in the sections table.",
    whose="the subcontractor who made the joints",
    what="The press ends in the joint log against the number expected in the sections table; joints that are void, "
    "planned or cut out do not count.",
    why="An end that nobody logged may be an end that nobody pressed, and such an end can hold at a test and let go later.",
    example="Section CHW-F-L3 expects 24 press ends and the log has 23, 1 fewer.",
    passes="Section CHW-F-L3 expects 24 press ends and the log has 24 that are in the pipe.",
)

_STATUS = attrgetter("status")


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every section that is not planned or removed; numbers that nobody recorded are told once a system."""
    examined = 0
    findings: list[Finding] = []
    gaps = GapsBySystem(RULE, project, "section")
    for section in project.records.sections:
        if section.status in ("planned", "removed"):
            continue
        section_id = section.section_id
        joints = project.joints_of_section.get(section_id, [])
        ends = len(joints) - sum(map(NOT_THERE.__contains__, map(_STATUS, joints)))
        if section.expected_ends is None and not ends:
            # Section-without-joints says so already.
            continue
        examined += 1
        place = section.source.place("expected_ends")
        if section.expected_ends is None:
            systems = (section.system_id,) if section.system_id else ()
            gaps.add(
                systems, section_id, ("the number of press ends expected, in the sections table",), (section_id,), place
            )
        elif ends != section.expected_ends:
            word = "fewer" if ends < section.expected_ends else "more"
            act = (
                "Log the ends that are missing"
                if ends < section.expected_ends
                else "Void the rows that are too many, with the reason"
            )
            findings.append(
                Finding(
                    RULE,
                    Outcome.FAIL,
                    f"Section {section_id} expects {section.expected_ends} press ends and the log has {ends}, "
                    f"{abs(section.expected_ends - ends)} {word}.",
                    f"{act}; or, where the number expected is wrong, count by drawing or on site and correct it.",
                    Subject("section", section_id),
                    place,
                    whose=RULE.whose,
                    section_ids=(section_id,),
                )
            )
    return Answer(examined, (*findings, *gaps.findings()))


CHECK = Check(RULE, run)
