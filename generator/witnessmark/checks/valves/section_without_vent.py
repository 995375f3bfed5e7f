"""A section has no vent."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.valves.missing_fitting import sections_without
from witnessmark.model.finding import Rule, Severity
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="section-without-vent",
    question="Does every section that carries water have a vent?",
    severity=Severity.WEAKENS,
    closes="Find the vent on site and write it into the valves table with the sections that it serves; where there is none, "
    "say so to the designer and ask for a concession.",
    whose="the contractor handing over",
    what="For every section that carries water: a valve of kind vent that names the section or sits at one of its ends, or a "
    "node of kind vent there. One vent may serve several sections: write them all into its row.",
    why="Air that cannot get out keeps the water away from heat, pumps and inhibitor, and spoils the next test.",
    example="No vent in the valves table names section LTHW-F-R2, and none stands at its ends; other sections of system LTHW-F have theirs.",
    passes="Vent AV-2-01 names section LTHW-F-R2.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every section that carries water."""
    return sections_without(RULE, project, "vent")


CHECK = Check(RULE, run)
