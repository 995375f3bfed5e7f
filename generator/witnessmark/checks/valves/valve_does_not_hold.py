"""A valve did not shut tight when it was proved."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.valves.valve_gaps import told_by_system
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Valve
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="valve-does-not-hold",
    question="Was every isolating valve proved to shut tight?",
    severity=Severity.WEAKENS,
    closes="Repair or replace the valve, prove it, and write the result into its row; until then name the next valve out.",
    whose="the contractor handing over",
    what="Whether isolating valves held tight when they were proved. A blank cell cannot tell.",
    why="In a leak the second valve is wanted at once where the first does not hold.",
    example="Valve V-2-014 did not shut tight when it was proved; it is to shut off LTHW-F-R2.",
    passes="V-2-014 shut tight when it was proved.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every isolating valve; blanks are told once a system."""
    isolating = [valve for valve in project.records.valves if valve.kind == "isolating"]
    findings = [_leaking(valve) for valve in isolating if valve.holds_tight is False]
    blank = [(valve, "holds_tight") for valve in isolating if valve.holds_tight is None]
    words = "the valves table does not say whether"
    findings += told_by_system(
        RULE,
        project,
        blank,
        lambda n: f"may or may not shut tight: {words} {'it was' if n == 1 else 'they were'} proved",
    )
    return Answer(len(isolating), tuple(findings))


def _leaking(valve: Valve) -> Finding:
    shuts = f"; it is to shut off {', '.join(sorted(valve.section_ids)[:4])}" if valve.section_ids else ""
    return Finding(
        RULE,
        Outcome.FAIL,
        f"Valve {valve.valve_id} did not shut tight when it was proved{shuts}.",
        RULE.closes,
        Subject("valve", valve.valve_id),
        valve.source.place("holds_tight"),
        (),
        RULE.whose,
        valve.section_ids,
    )


CHECK = Check(RULE, run)
