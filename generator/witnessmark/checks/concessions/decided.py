"""Concessions that are said to be accepted, in the order of their ids."""

from witnessmark.model.finding import Finding, Outcome, Rule, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Concession
from witnessmark.model.source import SourceLocation


def accepted(project: Project) -> list[Concession]:
    """Concessions whose decision is 'accepted'; one asked for or refused waives nothing, and its finding stands."""
    rows = (row for row in project.records.concessions if row.decision == "accepted")
    return sorted(rows, key=lambda row: row.concession_id)


def concession_finding(
    rule: Rule,
    outcome: Outcome,
    concession: Concession,
    message: str,
    field: str,
    related: tuple[SourceLocation, ...] = (),
) -> Finding:
    """A finding about one concession; ``field`` is the cell to look at first."""
    return Finding(
        rule,
        outcome,
        message,
        rule.closes,
        Subject("concession", concession.concession_id),
        concession.source.place(field),
        related,
        rule.whose,
        concession.section_ids,
        concession.joint_ids,
    )
