"""A concession does not say to what it applies, or names what is not in the records."""

from witnessmark.checks.concessions.decided import concession_finding
from witnessmark.checks.judgement import Answer, Check
from witnessmark.model.contract import contract
from witnessmark.model.finding import Finding, Outcome, Rule, Severity
from witnessmark.model.project import Project
from witnessmark.model.records import Concession
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="concession-applies-to-nothing",
    question="Does every concession say to what it applies?",
    severity=Severity.WEAKENS,
    closes="Write the sections, the joints or the subject into the row of the concession, as its finding names them.",
    whose="whoever keeps the records",
    what="Concessions without section, joint or subject, and those whose subject is no id of the records. A section or joint "
    "that is not in the records is told by the reading.",
    why="A concession for nothing in particular would be quoted for everything.",
    example="Concession CN-004 names no section, no joint and no subject.",
    passes="Concession CN-004 applies to test PT-014.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every concession."""
    rows = sorted(project.records.concessions, key=lambda row: row.concession_id)
    known = _known_ids(project) if any(row.subject for row in rows) else set()
    findings = [finding for row in rows if (finding := _judged(row, known)) is not None]
    return Answer(len(rows), tuple(findings))


def _judged(row: Concession, known: set[str]) -> Finding | None:
    if row.subject:
        if row.subject in known:
            return None
        message = f"Concession {row.concession_id} applies to '{row.subject}', which is no id of the records."
        return concession_finding(RULE, Outcome.FAIL, row, message, "subject")
    written = any(
        (cell := row.source.cell(name)) is not None and cell.raw.strip() for name in ("section_ids", "joint_ids")
    )
    if row.section_ids or row.joint_ids or written:
        return None
    message = f"Concession {row.concession_id} names no section, no joint and no subject."
    return concession_finding(RULE, Outcome.CANNOT_TELL, row, message, "section_ids")


def _known_ids(project: Project) -> set[str]:
    """Everything that a finding can be about: ids of all tables, materials, the project itself."""
    known = {project.settings.id, *(row.material for row in project.records.tubes if row.material)}
    for name, table in contract().items():
        if table.key:
            known.update(str(getattr(row, table.key[0])) for row in project.records.table(name))
    return known


CHECK = Check(RULE, run)
