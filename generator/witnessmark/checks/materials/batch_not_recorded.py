"""It is not recorded from which batch a fitting or its tube came."""

from collections import defaultdict

from witnessmark.checks.joint_groups import asked, finding_of, named
from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.materials.batch_use import written
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Joint
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="batch-not-recorded",
    question="Is it recorded from which batches the fitting and the tube of every joint came?",
    severity=Severity.WEAKENS,
    closes="Write the batches as marked on bag, label or tube into the joint log; of tube, the tubes table will do.",
    whose="the subcontractor who made the joints",
    what="Fitting batch and tube batch of every pressed joint. A tube length of the same section and size that names "
    "its batch stands for the tube batch of its joints. One batch for the whole job is no fault.",
    why="When a batch turns out to be bad, only this tells which joints to open and which to leave alone.",
    example="System LTHW-F: the fitting batch of 40 joints, the first of them J001, is not recorded.",
    passes="Joint J001 names fitting batch B-17; the 22 mm tube of its section names batch B-03.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every pressed joint of a known section."""
    known_tube = {
        (tube.section_id, tube.od_mm)
        for tube in project.records.tubes
        if tube.batch_id is not None or written(tube, "batch_id")
    }
    fittings: dict[str, list[Joint]] = defaultdict(list)
    tubes: dict[str, list[Joint]] = defaultdict(list)
    examined = 0
    for joint in project.records.joints:
        section = project.sections.get(joint.section_id) if joint.section_id is not None else None
        if section is None or not asked(joint):
            continue
        examined += 1
        system = section.system_id or "no system"
        if joint.fitting_batch_id is None and not written(joint, "fitting_batch_id"):
            fittings[system].append(joint)
        if (
            joint.tube_batch_id is None
            and (joint.section_id, joint.od_mm) not in known_tube
            and not written(joint, "tube_batch_id")
        ):
            tubes[system].append(joint)
    return Answer(examined, tuple(_finding(name, fittings[name], tubes[name]) for name in sorted({*fittings, *tubes})))


def _finding(system: str, fittings: list[Joint], tubes: list[Joint]) -> Finding:
    parts = []
    for word, lacking in (("fitting", fittings), ("tube", tubes)):
        if lacking:
            who = named(lacking)
            parts.append(f"the {word} batch of {who[0].lower()}{who[1:]} is not recorded")
    fields = ("fitting_batch_id", "tube_batch_id") if fittings else ("tube_batch_id",)
    joints = {id(joint): joint for joint in (*fittings, *tubes)}
    return finding_of(
        RULE,
        Outcome.CANNOT_TELL,
        list(joints.values()),
        Subject("system", system),
        f"System {system}: {', and '.join(parts)}.",
        fields[0],
    )


CHECK = Check(RULE, run)
