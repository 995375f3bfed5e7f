"""Records that speak of a condition of a guarantee, counted for one material."""

from collections.abc import Callable

from witnessmark.checks.joint_groups import asked
from witnessmark.evidence.material_joints import MaterialJoints
from witnessmark.model.project import Project
from witnessmark.workings.section_rating import GASES
from witnessmark.workings.work import Workings

Counted = tuple[int, tuple[str, ...]]


def records_behind(need: str, project: Project, workings: Workings, joints: MaterialJoints) -> Counted:
    """How many records speak of the condition, and what they are in words. 0 where none does."""
    count = _COUNTS.get(need)
    return count(project, workings, joints) if count is not None else (0, ())


def _number(number: int, noun: str, plural: str = "") -> str:
    return f"{number:,} {noun if number == 1 else plural or noun + 's'}"


def _parts(project: Project, _workings: Workings, joints: MaterialJoints) -> Counted:
    pressed = [joint for joint in joints.joints if asked(joint)]
    used = {joint.fitting_batch_id for joint in pressed} | {joint.tube_batch_id for joint in pressed}
    batches = [project.batches[batch] for batch in used if batch in project.batches]
    certified = sum(1 for batch in batches if batch.document_id is not None)
    named = sum(1 for joint in pressed if joint.system_family is not None)
    return len(batches) + named, (
        f"{named:,} of {_number(len(pressed), 'pressed joint')} name the system family.",
        f"{_number(len(batches), 'batch', 'batches')} of tube and fittings, {certified:,} with a certificate.",
    )


def _operatives(project: Project, _workings: Workings, joints: MaterialJoints) -> Counted:
    operatives = {joint.operative_id for joint in joints.joints if asked(joint) and joint.operative_id is not None}
    trainings = [t for t in project.records.trainings if t.operative_id in operatives]
    trained = len({training.operative_id for training in trainings})
    words = f"{_number(len(trainings), 'training record')} of {_number(trained, 'operative')}"
    return len(trainings), (f"{words}; {_number(len(operatives), 'operative')} pressed the joints.",)


def _tools(project: Project, _workings: Workings, joints: MaterialJoints) -> Counted:
    pressed = [joint for joint in joints.joints if asked(joint)]
    tools = {tool for joint in pressed for tool in (joint.tool_id, joint.jaw_id, joint.adapter_id) if tool is not None}
    services = [service for service in project.records.tool_services if service.tool_id in tools]
    served = len({service.tool_id for service in services})
    words = f"{_number(len(services), 'service record')} of {served:,} of the {len(tools):,} tools, jaws and adapters"
    return len(services), (f"{words} that pressed the joints.",)


def _tests(project: Project, workings: Workings, joints: MaterialJoints) -> Counted:
    tests = {
        test.source.location: test
        for section_id in joints.section_ids
        for test in project.tests_of_section.get(section_id, ())
    }
    passed = [test for test in tests.values() if test.result == "pass"]
    covered = {section_id for test in passed for section_id in test.section_ids} & set(joints.section_ids)
    traces = sum(1 for place in tests if place in workings.traces)
    words = f"{_number(len(passed), 'test stage')} recorded as passed, of {len(tests):,}, over {len(covered):,} of "
    more = (f"{_number(traces, 'logger trace')} beside them.",) if traces else ()
    return len(passed), (words + f"{_number(len(joints.section_ids), 'section')}.", *more)


def _envelope(_project: Project, workings: Workings, joints: MaterialJoints) -> Counted:
    ratings = [workings.ratings[s] for s in joints.section_ids if s in workings.ratings]
    whole = sum(1 for rating in ratings if rating.complete)
    words = f"{whole:,} of {_number(len(joints.section_ids), 'section')} with the envelope of every part recorded."
    return whole, (words,)


def _water(project: Project, _workings: Workings, joints: MaterialJoints) -> Counted:
    sections, systems = set(joints.section_ids), set(joints.system_ids)
    media = {project.systems[system_id].medium for system_id in systems}
    if media and media <= GASES:
        carried = ", ".join(sorted(medium.replace("_", " ") for medium in media if medium is not None))
        return 1, (f"No section of this material carries water: {carried}.",)
    flushed = [f for f in project.records.flushings if sections & set(f.section_ids)]
    treated = [t for t in project.records.treatments if t.system_id in systems or sections & set(t.section_ids)]
    samples = sum(1 for treatment in treated if treatment.kind == "sample")
    return len(flushed) + len(treated), (
        f"{_number(len(flushed), 'flushing record')}.",
        f"{_number(len(treated), 'record')} of water treatment, {_number(samples, 'sample')} among them.",
    )


_COUNTS: dict[str, Callable[[Project, Workings, MaterialJoints], Counted]] = {
    "system_parts_only": _parts,
    "trained_operatives": _operatives,
    "serviced_tools": _tools,
    "tested": _tests,
    "inside_envelope": _envelope,
    "water_treated": _water,
}
