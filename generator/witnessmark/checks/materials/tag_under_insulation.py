"""A tag was not fixed again outside the insulation."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.materials.insulation_gaps import InsulationGaps, insulation_finding
from witnessmark.checks.materials.section_service import words_of
from witnessmark.model.finding import Outcome, Rule, Severity
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="tag-under-insulation",
    question="Is the tag of every insulated section fixed outside the insulation?",
    severity=Severity.TIDY,
    closes="Fix the tag outside the insulation and record it.",
    whose="the contractor handing over",
    what="What the insulation table says of the tag.",
    why="A tag under insulation is found when somebody cuts the insulation open, which is when it is no longer needed.",
    example="Insulation INS-2 on section CHW-1: the tag is not fixed outside it.",
    passes="Insulation INS-2 on section CHW-1: the tag is fixed outside it.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every insulation."""
    gaps = InsulationGaps(RULE, project)
    findings = []
    for each in project.records.insulations:
        sections = list(each.section_ids)
        if each.tag_outside is None:
            gaps.add(each, "tag_outside", "whether the tag is fixed outside it", sections)
        elif not each.tag_outside:
            where = f" on {words_of(sections)}" if sections else ""
            message = f"Insulation {each.insulation_id}{where}: the tag is not fixed outside it."
            findings.append(insulation_finding(RULE, Outcome.FAIL, each, message, "tag_outside", sections))
    return Answer(len(project.records.insulations), (*findings, *gaps.findings()))


CHECK = Check(RULE, run)
