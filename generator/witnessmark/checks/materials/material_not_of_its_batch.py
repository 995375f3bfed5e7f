"""A joint or a tube length is recorded in another material than the batch it names."""

from witnessmark.checks.joint_groups import named
from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.materials.batch_use import BatchUse, batch_finding, batch_gaps, batches_in_use, unread
from witnessmark.model.finding import Finding, Outcome, Rule, Severity
from witnessmark.model.project import Project
from witnessmark.model.records import Joint
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="material-not-of-its-batch",
    question="Is every joint made of the material of the batches that it names?",
    severity=Severity.BREAKS,
    closes="Look at the joint: correct the material or the batch in the records, or cut the joint out.",
    whose="the subcontractor who made the joints",
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
    gaps = batch_gaps(RULE, project, unknown, "material", "its material")
    return Answer(examined - unread(unknown, "material"), (*findings, *gaps))


def _judged(use: BatchUse) -> Finding | None:
    batch = use.batch
    material = (batch.material or "").replace("_", " ")
    as_tube, as_fitting, misplaced = _at_fault(use)
    lengths = tuple(t for t in use.tubes if None not in (t.material, batch.material) and t.material != batch.material)
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
    at_fault = list({id(joint): joint for joint in (*as_tube, *as_fitting, *misplaced)}.values())
    field = "material" if said else "item"
    return batch_finding(RULE, Outcome.FAIL, BatchUse(batch, at_fault, lengths), message, field)


def _at_fault(use: BatchUse) -> tuple[list[Joint], list[Joint], list[Joint]]:
    """Joints on tube of another material, with a fitting of another material, and with a batch of another kind of part."""
    batch_id, material, item = use.batch.batch_id, use.batch.material, use.batch.item
    no_tube, no_fitting = item not in ("tube", None), item in ("tube", "seal")
    as_tube, as_fitting, misplaced = [], [], []
    for joint in use.joints:
        if joint.tube_batch_id == batch_id:
            if no_tube:
                misplaced.append(joint)
            if joint.material_tube != material and None not in (joint.material_tube, material):
                as_tube.append(joint)
        if joint.fitting_batch_id == batch_id:
            made_of = joint.material_fitting
            if no_fitting:
                misplaced.append(joint)
            if made_of != material and item != "tube" and _another(made_of, material):
                as_fitting.append(joint)
    return as_tube, as_fitting, misplaced


def _another(made_of: str | None, material: str | None) -> bool:
    """Whether a fitting of ``made_of`` cannot be of a batch of ``material``."""
    if made_of in _CAST:
        return material == "carbon_steel"
    return made_of in _TUBE_METALS and material is not None and made_of != material


CHECK = Check(RULE, run)
