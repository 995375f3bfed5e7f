"""A batch came to the site after joints were pressed with it."""

from witnessmark.checks.joint_groups import named
from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.materials.batch_use import BatchUse, batch_finding, batch_gaps, batches_in_use, unread
from witnessmark.model.day_words import day_words
from witnessmark.model.finding import Finding, Outcome, Rule, Severity
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="batch-received-after-press",
    question="Had every batch arrived before it was used?",
    severity=Severity.WEAKENS,
    closes="Correct the day of delivery, the day of pressing or the batch, whichever is wrong, and say which.",
    whose="the subcontractor who made the joints",
    what="The day on which a batch was received against the press dates of the joints that name it. The same day is "
    "in order.",
    why="A joint cannot hold what was not there: batch or date is wrong, and with it the trace to the certificate.",
    example="Batch B-17 was received on 14 May 2026; joint J014 was pressed with it on 12 May 2026.",
    passes="Batch B-17 was received on 4 May 2026; the first joint with it was pressed on 5 May 2026.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every batch that a dated joint names."""
    uses = [use for use in batches_in_use(project) if any(joint.press_date is not None for joint in use.joints)]
    findings = [finding for use in uses if (finding := _finding(use)) is not None]
    unknown = [use for use in uses if use.batch.received_on is None]
    return Answer(
        len(uses) - unread(unknown, "received_on"),
        (*findings, *batch_gaps(RULE, project, unknown, "received_on", "when it was received")),
    )


def _finding(use: BatchUse) -> Finding | None:
    received = use.batch.received_on
    if received is None:
        return None
    early = [joint for joint in use.joints if (day := joint.press_date) is not None and day < received]
    if not early:
        return None
    days = [joint.press_date for joint in early if joint.press_date is not None]
    first, last = min(days), max(days)
    when = f"on {day_words(first)}" if first == last else f"between {day_words(first)} and {day_words(last)}"
    who = named(early)
    message = (
        f"Batch {use.batch.batch_id} was received on {day_words(received)}; {who[0].lower()}{who[1:]} "
        f"{'was' if len(early) == 1 else 'were'} pressed with it {when}."
    )
    return batch_finding(RULE, Outcome.FAIL, BatchUse(use.batch, early, ()), message, "received_on")


CHECK = Check(RULE, run)
