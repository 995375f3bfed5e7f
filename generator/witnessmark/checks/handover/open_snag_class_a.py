"""A snag of class A is open."""

from witnessmark.checks.handover.snag_state import claims_closed
from witnessmark.checks.judgement import Answer, Check
from witnessmark.model.day_words import day_words
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Snag
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="open-snag-class-a",
    question="Is every snag of class A closed?",
    severity=Severity.BREAKS,
    closes="Put it right, have the role that raised it see it, and write action, day and role into the row of the snag.",
    whose="the owner of the snag",
    what="Snags of class A that no row says to be closed. An open snag without a class cannot be told apart from one. Where "
    "the snags table has no row at all, nobody can tell that anybody looked: a walk that found nothing is written as a "
    "closed row.",
    why="Class A means that nothing is handed over with it open.",
    example="Snag SN-012 of class A is open since 4 March 2026: Weep at the elbow below the riser valve.",
    passes="Snag SN-012 of class A was closed on 5 March 2026.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every snag; an empty table is told once."""
    snags = sorted(project.records.snags, key=lambda row: row.snag_id)
    if not snags:
        return _no_table(project)
    findings = []
    for snag in snags:
        if claims_closed(snag) or snag.snag_class not in ("A", None):
            continue
        since = f" since {day_words(snag.raised_on)}" if snag.raised_on else ""
        what = f": {snag.description.rstrip('.')}" if snag.description else ""
        if snag.snag_class == "A":
            message, outcome, field = f"Snag {snag.snag_id} of class A is open{since}{what}.", Outcome.FAIL, "closed_on"
        else:
            message = f"Snag {snag.snag_id} is open{since} and has no class{what}."
            outcome, field = Outcome.CANNOT_TELL, "snag_class"
        findings.append(_finding(snag, outcome, message, field))
    return Answer(len(snags), tuple(findings))


def _finding(snag: Snag, outcome: Outcome, message: str, field: str) -> Finding:
    unclassed = outcome is Outcome.CANNOT_TELL
    return Finding(
        RULE,
        outcome,
        message,
        "Write the class A, B or C into the row of the snag, or close it." if unclassed else RULE.closes,
        Subject("snag", snag.snag_id),
        snag.source.place(field),
        (),
        snag.owner_role or RULE.whose,
        snag.section_ids,
        snag.joint_ids,
    )


def _no_table(project: Project) -> Answer:
    if not project.records.sections:
        return Answer(0, ())
    finding = Finding(
        RULE,
        Outcome.CANNOT_TELL,
        "The snags table has no row, so it cannot be told whether anybody walked the pipework and what was found.",
        "Walk the pipework, and write what was found, or one closed row for a walk that found nothing, into the snags table.",
        Subject("project", project.settings.id),
        None,
        (),
        "the contractor handing over",
    )
    return Answer(1, (finding,))


CHECK = Check(RULE, run)
