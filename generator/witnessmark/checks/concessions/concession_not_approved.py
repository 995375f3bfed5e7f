"""A concession was not accepted by a role that may, on a day known."""

from witnessmark.checks.concession_book import may_accept
from witnessmark.checks.concessions.decided import concession_finding
from witnessmark.checks.judgement import Answer, Check
from witnessmark.model.day_words import day_words
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Concession
from witnessmark.model.source import SourceLocation
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="concession-not-approved",
    question="Was every concession accepted by a role that may accept it, on a day that is recorded?",
    severity=Severity.BREAKS,
    closes="Have the concession decided by a role that project.yml lists under 'concession_approvers', and write decision, "
    "role and day into its row.",
    whose="the client's side",
    what="Concessions with the decision 'accepted', or with none: role and day of approval, the role among those of "
    "project.yml, the day not after the issue. One that is asked for or refused waives nothing and is not asked.",
    why="A departure that nobody with the authority accepted is a fault with a number.",
    example="Concession CN-004 is accepted, and its row does not say by which role.",
    passes="Concession CN-004 was accepted on 12 March 2026 by the client's engineer, whom project.yml lists.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every concession that is not asked for or refused; a list of roles that is missing is told once."""
    asked = [
        row
        for row in sorted(project.records.concessions, key=lambda row: row.concession_id)
        if row.decision not in ("asked", "refused")
    ]
    findings = [finding for row in asked if (finding := _judged(project, row)) is not None]
    if any(row.decision == "accepted" for row in asked) and not project.settings.concession_approvers:
        findings.append(_no_roles(project))
    return Answer(len(asked), tuple(findings))


def _judged(project: Project, row: Concession) -> Finding | None:
    name, issue = f"Concession {row.concession_id}", project.settings.issue.date
    if row.decision is None:
        message = f"{name} does not say whether it was asked for, accepted or refused."
        return concession_finding(RULE, Outcome.CANNOT_TELL, row, message, "decision")
    if not row.approved_by_role:
        message = f"{name} is accepted, and its row does not say by which role."
        return concession_finding(RULE, Outcome.CANNOT_TELL, row, message, "approved_by_role")
    roles = project.settings.concession_approvers
    if not may_accept(project.settings, row.approved_by_role):
        message = (
            f"{name} was accepted by a role that is not among those that may: project.yml lists {', '.join(roles)}."
        )
        return concession_finding(
            RULE, Outcome.FAIL, row, message, "approved_by_role", (SourceLocation("project.yml"),)
        )
    if row.approved_on is None:
        message = f"{name} is accepted, and its row does not say on which day."
        return concession_finding(RULE, Outcome.CANNOT_TELL, row, message, "approved_on")
    if row.approved_on > issue:
        message = f"{name} was accepted on {day_words(row.approved_on)}, after the issue of {day_words(issue)}."
        return concession_finding(RULE, Outcome.FAIL, row, message, "approved_on")
    return None


def _no_roles(project: Project) -> Finding:
    return Finding(
        RULE,
        Outcome.CANNOT_TELL,
        "project.yml does not list the roles that may accept a departure, so nobody can tell whether the concessions were "
        "accepted by one of them.",
        "List the roles in project.yml under 'concession_approvers'.",
        Subject("project", project.settings.id),
        SourceLocation("project.yml"),
        (),
        "the contractor handing over",
    )


CHECK = Check(RULE, run)
