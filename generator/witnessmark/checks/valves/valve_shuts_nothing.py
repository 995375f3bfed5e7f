"""An isolating valve names no section that it shuts off."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.valves.valve_gaps import told_by_system
from witnessmark.model.finding import Rule, Severity
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="valve-shuts-nothing",
    question="Does every isolating valve say which sections it shuts off?",
    severity=Severity.WEAKENS,
    closes="Close the valve, see what goes off, and write the sections into its row.",
    whose="the contractor handing over",
    what="The sections of every isolating valve. A cell with a section that the records do not know is told by the reading.",
    why="The page of a leaking section can only name valves that name the section.",
    example="System LTHW-F: valve V-2-014 names no section that it shuts off.",
    passes="V-2-014 shuts off LTHW-F-R2 and LTHW-F-R2-L1.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every isolating valve; one finding a system."""
    isolating = [valve for valve in project.records.valves if valve.kind == "isolating"]
    blank = []
    for valve in isolating:
        cell = valve.source.cell("section_ids")
        if not valve.section_ids and not (cell is not None and cell.raw.strip()):
            blank.append((valve, "section_ids"))
    words = "no section that it shuts off", "no section that they shut off"
    findings = told_by_system(RULE, project, blank, lambda n: f"names {words[0]}" if n == 1 else f"name {words[1]}")
    return Answer(len(isolating), tuple(findings))


CHECK = Check(RULE, run)
