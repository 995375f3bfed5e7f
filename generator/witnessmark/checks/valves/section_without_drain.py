"""A section has no drain."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.valves.missing_fitting import sections_without
from witnessmark.model.finding import Rule, Severity
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="section-without-drain",
    question="Does every section that carries water have a drain?",
    severity=Severity.WEAKENS,
    closes="Find the drain on site and write it into the valves table with the sections that it serves; where there is none, "
    "say so to the designer and ask for a concession.",
    whose="the contractor handing over",
    what="For every section that carries water: a valve of kind drain that names the section or sits at one of its ends, or a "
    "node of kind drain there. One drain may serve several sections: write them all into its row.",
    why="Without a drain a section is emptied through a cut in the pipe.",
    example="No drain in the valves table names section LTHW-F-R2, and none stands at its ends; other sections of system LTHW-F have theirs.",
    passes="Drain DP-2-03 names section LTHW-F-R2.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every section that carries water."""
    return sections_without(RULE, project, "drain")


CHECK = Check(RULE, run)
