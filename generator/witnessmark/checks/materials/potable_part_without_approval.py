"""A part that drinking water touches has no approval on record."""

from witnessmark.checks.by_system import GapsBySystem
from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.materials.batch_use import BatchUse, batch_finding, batch_gaps, batches_in_use, unread
from witnessmark.checks.materials.section_service import CARRIES_WATER, is_potable
from witnessmark.model.finding import Outcome, Rule, Severity
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="potable-part-without-approval",
    question="Is every part that drinking water touches approved for it?",
    severity=Severity.BREAKS,
    closes="Write the reference of the approval into the batch register, or replace the part.",
    whose="the contractor handing over",
    what="The approval reference of every batch of tube, fittings, seals or valves in sections that carry drinking "
    "water. Which approval counts is for local regulations to say.",
    why="Metals and rubber give off into the water that people drink what an approval has tested.",
    example="Batch B-17, used for joint J014, is recorded as not approved for drinking water.",
    passes="Batch B-17 names approval PA-2025-118.",
)

NONE = frozenset({"none", "no", "not approved", "-", "nil", "n/a"})
"""Words for no approval, in small letters."""


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every batch in sections that carry drinking water."""
    potable, unknown = set(), GapsBySystem(RULE, project, "section")
    for section in project.records.sections:
        system = project.systems.get(section.system_id) if section.system_id is not None else None
        if system is None:
            continue
        drunk = is_potable(system)
        if drunk:
            potable.add(section.section_id)
        elif drunk is None and system.medium in CARRIES_WATER:
            unknown.add(
                (system.system_id,),
                section.section_id,
                ("whether people may drink it, in the systems table",),
                (section.section_id,),
                system.source.place("potable"),
            )
    uses = [part for use in batches_in_use(project) if (part := _within(use, potable)) is not None]
    findings = [
        batch_finding(
            RULE,
            Outcome.FAIL,
            use,
            f"Batch {use.batch.batch_id}, used for {use.words}, is recorded as not approved for drinking water.",
            "potable_approval",
        )
        for use in uses
        if (use.batch.potable_approval or "").strip().lower() in NONE
    ]
    lacking = [use for use in uses if use.batch.potable_approval is None]
    gaps = batch_gaps(RULE, project, lacking, "potable_approval", "which approval for drinking water it has")
    return Answer(
        len(uses) - unread(lacking, "potable_approval") + unknown.subjects, (*findings, *gaps, *unknown.findings())
    )


def _within(use: BatchUse, sections: set[str]) -> BatchUse | None:
    joints = [joint for joint in use.joints if joint.section_id in sections]
    tubes = [tube for tube in use.tubes if tube.section_id in sections]
    return BatchUse(use.batch, joints, tubes) if joints or tubes else None


CHECK = Check(RULE, run)
