"""A joint or a tube length is recorded in another material than the batch it names."""

from witnessmark.checks.joint_groups import named
from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.materials.batch_use import BatchUse, batch_finding, batch_gaps, batches_in_use, unread
from witnessmark.model.finding import Finding, Outcome, Rule, Severity
from witnessmark.model.project import Project
from witnessmark.model.records import Batch, Joint
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="material-not-of-its-batch",
    question="Is every joint made of the material of the batches that it names?",
    severity=Severity.BREAKS,
    closes="Look at the joint: correct the material or the batch in the records, or cut the joint out.",
    whose="the subcontractor who pressed the joint",
    what="Material of tube and fitting of every joint, and of every tube length, against the material of its batches; and "
    "that a tube batch is one of tube, a fitting batch not.",
    why="Either the trace to the certificate leads to something else, or the wrong metal is in the pipe.",
    example="Batch B-03 is of stainless steel; joint J014 is recorded with it as copper tube.",
    passes="Batch B-03 is of copper, and every joint and tube length that names it is of copper.",
)

_TUBE_METALS = frozenset({"copper", "stainless_steel", "carbon_steel"})
_CAST = frozenset({"gunmetal", "brass", "cupronickel"})
"""Fittings of these are sold within a copper family; a batch register has no word of its own for them."""


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every batch in use."""
    findings = []
    unknown = []
    examined = 0
    for use in batches_in_use(project):
        if use.batch.material is not None or use.batch.item in ("tube", None):
            examined += 1
        if use.batch.material is None and use.batch.item in ("tube", None):
            unknown.append(use)
        finding = _judged(use)
        if finding is not None:
            findings.append(finding)
    gaps = batch_gaps(RULE, project, unknown, "material", "the material")
    return Answer(examined - unread(unknown, "material"), (*findings, *gaps))


def _judged(use: BatchUse) -> Finding | None:
    batch = use.batch
    material = (batch.material or "").replace("_", " ")
    as_tube = tuple(joint for joint in use.joints if _tube_differs(joint, batch))
    as_fitting = tuple(joint for joint in use.joints if _fitting_differs(joint, batch))
    lengths = tuple(t for t in use.tubes if None not in (t.material, batch.material) and t.material != batch.material)
    misplaced = tuple(joint for joint in use.joints if _misplaced(joint, batch))
    said = []
    for joints, words in (
        (as_tube, "with it on tube of another material"),
        (as_fitting, "with it as a fitting of another material"),
    ):
        if joints:
            others = {(j.material_tube if joints is as_tube else j.material_fitting) or "" for j in joints}
            in_words = " and ".join(sorted(others)).replace("_", " ")
            who = named(joints)
            said.append(f"{who[0].lower()}{who[1:]} {'is' if len(joints) == 1 else 'are'} recorded {words}, {in_words}")
    if lengths:
        sections = sorted({tube.section_id or "" for tube in lengths})
        others = {tube.material or "" for tube in lengths}
        said.append(
            f"the tube of section {', '.join(sections[:4])} is recorded as {' and '.join(sorted(others)).replace('_', ' ')}"
        )
    if said:
        message = f"Batch {batch.batch_id} is of {material}; {'; '.join(said)}."
    elif misplaced:
        message = f"Batch {batch.batch_id} is of {batch.item}s; {BatchUse(batch, misplaced, ()).words} names it for another part."
    else:
        return None
    joints = tuple({id(joint): joint for joint in (*as_tube, *as_fitting, *misplaced)}.values())
    field = "material" if said else "item"
    return batch_finding(RULE, Outcome.FAIL, BatchUse(batch, joints, lengths), message, field)


def _tube_differs(joint: Joint, batch: Batch) -> bool:
    return (
        joint.tube_batch_id == batch.batch_id
        and joint.material_tube is not None
        and batch.material is not None
        and joint.material_tube != batch.material
    )


def _fitting_differs(joint: Joint, batch: Batch) -> bool:
    made_of = joint.material_fitting
    if joint.fitting_batch_id != batch.batch_id or made_of is None or batch.material is None or batch.item == "tube":
        return False
    return (made_of in _TUBE_METALS and made_of != batch.material) or (
        made_of in _CAST and batch.material == "carbon_steel"
    )


def _misplaced(joint: Joint, batch: Batch) -> bool:
    if joint.tube_batch_id == batch.batch_id and batch.item not in ("tube", None):
        return True
    return joint.fitting_batch_id == batch.batch_id and batch.item in ("tube", "seal")


CHECK = Check(RULE, run)
