"""A valve was not closed and opened for a long time."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.valves.valve_gaps import told_by_system
from witnessmark.engineering.calendar_terms import Term, add_term
from witnessmark.engineering.errors import BeyondCalendarError
from witnessmark.model.finding import Outcome, Rule, Severity
from witnessmark.model.project import Project
from witnessmark.model.records import Valve
from witnessmark.model.threshold import limit
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="valve-not-exercised",
    question="Was every isolating valve closed and opened within the last months before the issue?",
    severity=Severity.TIDY,
    closes="Close and open the valve after telling those whom it cuts off, and write the day into its row.",
    whose="the contractor handing over",
    what="The day on which isolating valves were last exercised, against the day of the issue.",
    why="A valve that is never moved sticks or leaks when it is needed.",
    example="System LTHW-F: valve V-2-014 was last exercised more than 12 months before the issue.",
    passes="V-2-014 was exercised on 4 May 2026, eleven days before the issue.",
    thresholds=("valve-exercised-months",),
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every isolating valve; one finding a system and outcome."""
    months = max(0, int(limit(project.settings, "valve-exercised-months")))
    isolating = [valve for valve in project.records.valves if valve.kind == "isolating"]
    blank, old = [], []
    for valve in isolating:
        if valve.exercised_on is None:
            blank.append((valve, "exercised_on"))
        elif _ran_out(valve, months, project):
            old.append((valve, "exercised_on"))
    ago = f"last exercised more than {months} months before the issue"
    findings = told_by_system(RULE, project, old, lambda n: f"{'was' if n == 1 else 'were'} {ago}", Outcome.FAIL)
    findings += told_by_system(
        RULE,
        project,
        blank,
        lambda n: f"{'has' if n == 1 else 'have'} no day on which {'it was' if n == 1 else 'they were'} exercised",
    )
    return Answer(len(isolating), tuple(findings))


def _ran_out(valve: Valve, months: int, project: Project) -> bool:
    if valve.exercised_on is None:
        return False
    try:
        return add_term(valve.exercised_on, Term(months=months)) < project.settings.issue.date
    except BeyondCalendarError:
        return False


CHECK = Check(RULE, run)
