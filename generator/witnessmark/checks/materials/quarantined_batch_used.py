"""A batch that was withdrawn is in the pipework."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.materials.batch_use import batch_finding, batch_gaps, batches_in_use, unread
from witnessmark.model.finding import Outcome, Rule, Severity
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="quarantined-batch-used",
    question="Is every batch in the pipework one that was not withdrawn?",
    severity=Severity.BREAKS,
    closes="Replace what was made of the batch and test again, or record the maker's clearance of the batch.",
    whose="the contractor handing over",
    what="Batches marked as withdrawn in the batch register against the joints and tube lengths that name them. One "
    "finding a batch carries every joint.",
    why="A batch is withdrawn because parts of it failed; which ones, nobody sees from outside.",
    example="Batch B-17 is marked as withdrawn and was used for 12 joints, the first of them J014.",
    passes="Batch B-17 is marked as withdrawn; no joint and no tube length names it.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every batch in use."""
    uses = batches_in_use(project)
    findings = [
        batch_finding(
            RULE,
            Outcome.FAIL,
            use,
            f"Batch {use.batch.batch_id} is marked as withdrawn and was used for {use.words}.",
            "quarantined",
        )
        for use in uses
        if use.batch.quarantined
    ]
    unknown = [use for use in uses if use.batch.quarantined is None]
    gaps = batch_gaps(RULE, project, unknown, "quarantined", "whether it was withdrawn")
    return Answer(len(uses) - unread(unknown, "quarantined"), (*findings, *gaps))


CHECK = Check(RULE, run)
