"""A batch has a lesser certificate than the guarantee asks for."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.materials.batch_use import BatchUse, batch_finding, batch_gaps, batches_in_use, unread
from witnessmark.model.finding import Outcome, Rule, Severity
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="certificate-below-type-asked",
    question="Has every batch the type of certificate that the guarantee asks for?",
    severity=Severity.BREAKS,
    closes="Get the certificate of the type asked from the supplier, or the guarantor's consent in writing.",
    whose="the contractor handing over",
    what="Type of inspection document of every batch in use against the type that the guarantee terms of its material "
    "ask for, in the order of EN 10204: 2.1, 2.2, 3.1, 3.2. Terms that name no type ask nothing here.",
    why="Terms that ask for a test of the very batch are not met by a declaration that all goods are alike.",
    example="Batch B-17, used for joint J014, has a certificate 2.1; the guarantee for copper asks for 3.1.",
    passes="Batch B-17 has a certificate 3.1, as the guarantee for copper asks.",
)

ORDER = ("none", "2.1", "2.2", "3.1", "3.2")
"""EN 10204:2004, the types of inspection document, each more than the one before."""


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every batch in use whose material has terms that ask for a type."""
    asked = {
        material: terms.certificate_type
        for material, terms in project.settings.guarantee.items()
        if terms.certificate_type in ORDER[1:]
    }
    if not asked:
        return Answer(0, ())
    findings, no_type, no_material, examined = [], [], [], 0
    for use in batches_in_use(project):
        if use.batch.item in ("seal", "other"):
            continue
        needed = {asked[material] for material in _materials(use) if material in asked}
        if not _materials(use):
            no_material.append(use)
        if not needed:
            continue
        examined += 1
        type_asked, held = max(needed, key=ORDER.index), use.batch.certificate_type
        if held is None:
            no_type.append(use)
        elif held not in ORDER or ORDER.index(held) < ORDER.index(type_asked):
            has = "no certificate" if held == "none" else f"a certificate {held}"
            message = (
                f"Batch {use.batch.batch_id}, used for {use.words}, has {has}; the guarantee for "
                f"{' and '.join(sorted(m for m in _materials(use) if m in asked)).replace('_', ' ')} asks for {type_asked}."
            )
            findings.append(batch_finding(RULE, Outcome.FAIL, use, message, "certificate_type"))
    gaps = [
        *batch_gaps(RULE, project, no_type, "certificate_type", "what type of certificate there is"),
        *batch_gaps(RULE, project, no_material, "material", "its material"),
    ]
    told = unread(no_type, "certificate_type") + unread(no_material, "material")
    return Answer(examined + len(no_material) - told, (*findings, *gaps))


def _materials(use: BatchUse) -> set[str]:
    """The batch's own material; where it names none, that of the tube that its joints hold."""
    if use.batch.material is not None:
        return {use.batch.material}
    return {joint.material_tube for joint in use.joints if joint.material_tube is not None}


CHECK = Check(RULE, run)
