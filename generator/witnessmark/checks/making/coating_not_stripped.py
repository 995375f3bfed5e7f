"""The plastic coating of a tube was not stripped off before it was inserted."""

from collections import defaultdict

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.making.coating import plastic_coated
from witnessmark.checks.making.log_gap import log_gaps
from witnessmark.checks.making.marks import by_section
from witnessmark.checks.making.pressed_joints import METHOD, in_id_order, pressed_joints
from witnessmark.model.finding import Rule, Severity
from witnessmark.model.project import Project
from witnessmark.model.records import Joint
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="coating-not-stripped",
    question="Was the plastic coating stripped off every coated tube before it was inserted?",
    severity=Severity.WEAKENS,
    closes="Cut the joint out, strip the tube over the insertion depth, make the joint anew under a new id and test it; where the tube has no plastic coating, empty the cell 'Coating stripped'.",
    whose="the subcontractor who made the joints",
    what="The column 'Coating stripped' of pressed joints in carbon-steel tube (by the joint method by size and material, an editable table, common practice without a published source). A blank is asked about where the description or standard of the tube batch says that the tube is plastic-coated.",
    why="The seal then sits on plastic, which creeps away under it.",
    example="Joint J501 of section S8: the plastic coating of the tube was not stripped off.",
    passes="The tube batch of J501 is 'carbon steel, plastic-coated', and its row says 'yes' under 'Coating stripped'.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every pressed joint in tube that may be coated."""
    pressed = pressed_joints(project)
    coated = {batch.batch_id for batch in project.records.batches if batch.item == "tube" and plastic_coated(batch)}
    of_section = _coated_sections(project, coated)
    concerned: list[Joint] = []
    for lot in pressed.lots(*METHOD, "tube_batch_id"):
        if lot.method is None or not lot.method.coating_stripped:
            continue
        for joint in lot.joints:
            known = lot.tube_batch_id in coated or (
                lot.tube_batch_id is None and (joint.section_id, lot.od_mm) in of_section
            )
            if joint.coating_stripped is not None or known:
                concerned.append(joint)
    wrong = in_id_order([[joint for joint in concerned if joint.coating_stripped is False]])
    blank = in_id_order([[joint for joint in concerned if joint.coating_stripped is None]])
    findings = by_section(RULE, wrong, "the plastic coating of the tube was not stripped off", "coating_stripped")
    words = "whether the plastic coating of the tube was stripped off"
    findings += log_gaps(RULE, pressed, blank, concerned, "coating_stripped", words)
    return Answer(len(concerned), tuple(findings))


def _coated_sections(project: Project, coated: set[str]) -> set[tuple[str | None, float | None]]:
    """Sections and sizes whose tube is of coated batches only."""
    tubes: dict[tuple[str | None, float | None], list[bool]] = defaultdict(list)
    for tube in project.records.tubes:
        tubes[tube.section_id, tube.od_mm].append(tube.batch_id in coated)
    return {place for place, all_coated in tubes.items() if all(all_coated)}


CHECK = Check(RULE, run)
