"""A reproducible audit sample, by chance after ISO 2859-1 and by risk: a seed draws the same joints anywhere."""

import csv
import datetime
import hashlib
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache

from witnessmark.checks.joint_groups import asked
from witnessmark.engineering.acceptance_sampling import LetterRow, PlanRow, SamplingPlan, plan_for
from witnessmark.model.bundled import shared_path
from witnessmark.model.project import Project
from witnessmark.model.records import Joint

MOST_OF_A_RISK = 5
"""How many joints stand for a risk that many joints share."""
BY_CHANCE = "drawn by chance"
_DIGITS = re.compile(r"([0-9]{1,9})")


@dataclass(frozen=True, slots=True)
class SampledJoint:
    """A joint to look at, and why it is in the sample."""

    joint: Joint
    why: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class AuditSample:
    """What an auditor walks to. ``chance`` follows the plan; ``risk`` comes on top and is no part of its figures."""

    seed: str
    level: str
    aql: str
    lot: int
    system_id: str
    """'' for the whole project."""
    plan: SamplingPlan | None
    """``None`` where there are fewer than two joints to choose from."""
    chance: tuple[SampledJoint, ...]
    risk: tuple[SampledJoint, ...]

    walk: tuple[SampledJoint, ...]
    """Every joint once, with all reasons, in the order of a walk: level, section, joint."""


@cache
def letter_rows() -> tuple[LetterRow, ...]:
    """Sample size code letters, from ``shared/reference/sampling_letters.csv``."""
    with shared_path("reference/sampling_letters.csv").open(encoding="utf-8", newline="") as file:
        return tuple(
            LetterRow(
                int(row["lot_from"]),
                int(row["lot_to"]) if row["lot_to"] else None,
                (row["level_I"], row["level_II"], row["level_III"]),
            )
            for row in csv.DictReader(file)
        )


@cache
def plan_rows() -> tuple[PlanRow, ...]:
    """Sampling plans, from ``shared/reference/sampling_plans.csv``."""
    with shared_path("reference/sampling_plans.csv").open(encoding="utf-8", newline="") as file:
        return tuple(
            PlanRow(row["letter"], row["aql"], row["arrow"], int(row["size"]), int(row["accept"]), int(row["reject"]))
            for row in csv.DictReader(file)
        )


def draw(project: Project, seed: str, level: str = "II", aql: str = "2.5", system_id: str = "") -> AuditSample:
    """Draw a sample of the joints that are in the pipework, of one system or of all.

    Raises NoSamplingPlan for a level or AQL that the tables do not hold.
    """
    lot = [joint for joint in project.records.joints if asked(joint) and _in_system(project, joint, system_id)]
    lot.sort(key=lambda joint: (_place(seed, joint), _name(joint)))
    plan = plan_for(letter_rows(), plan_rows(), len(lot), level, aql) if len(lot) > 1 else None
    size = plan.size if plan is not None else len(lot)
    chance = tuple(SampledJoint(joint, (BY_CHANCE,)) for joint in lot[:size])
    risk = tuple(_by_risk(project, lot))
    return AuditSample(seed, level, aql, len(lot), system_id, plan, chance, risk, _walk(project, (*chance, *risk)))


def _walk(project: Project, drawn: Iterable[SampledJoint]) -> tuple[SampledJoint, ...]:
    reasons: dict[int, tuple[Joint, list[str]]] = {}
    for sampled in drawn:
        reasons.setdefault(id(sampled.joint), (sampled.joint, []))[1].extend(sampled.why)
    joints = [SampledJoint(joint, tuple(dict.fromkeys(why))) for joint, why in reasons.values()]

    def stop(sampled: SampledJoint) -> tuple[object, ...]:
        joint = sampled.joint
        section = project.sections.get(joint.section_id or "")
        level = joint.level or (section.level if section else None) or ""
        return _counted(level), _counted(joint.section_id or ""), _counted(joint.joint_id), _name(joint)

    return tuple(sorted(joints, key=stop))


def _counted(text: str) -> tuple[tuple[int, int, str], ...]:
    """Sorts level 10 after level 9."""
    parts = _DIGITS.split(text)
    return tuple((0, int(part), "") if part.isascii() and part.isdigit() else (1, 0, part) for part in parts if part)


def _in_system(project: Project, joint: Joint, system_id: str) -> bool:
    if not system_id:
        return True
    section = project.sections.get(joint.section_id or "")
    return section is not None and section.system_id == system_id


def _name(joint: Joint) -> tuple[str, str]:
    return joint.joint_id, str(joint.source.location)


def _place(seed: str, joint: Joint) -> bytes:
    # A hash needs no generator whose order could change with the version of a language or library.
    return hashlib.sha256(f"{seed}\0{joint.joint_id}".encode("utf-8", "surrogatepass")).digest()


def _by_risk(project: Project, lot: list[Joint]) -> Iterator[SampledJoint]:
    """Risks in the order of the auditor's questions; ``lot`` stands in the order of chance."""
    altered = {joint for record in project.records.alterations for joint in record.joint_ids if record.kind != "void"}
    concealed = {section.section_id for section in project.records.sections if section.concealed}
    sized = sorted((j for j in lot if j.od_mm is not None), key=lambda j: -(j.od_mm or 0.0))
    dated = sorted((j for j in lot if j.press_date), key=lambda j: j.press_date or datetime.date.min, reverse=True)
    risks: tuple[tuple[str, Iterable[Joint]], ...] = (
        ("among the largest", sized),
        ("among the last pressed", dated),
        (
            "reworked or altered",
            [j for j in lot if j.status == "reworked" or j.replaces_joint or j.joint_id in altered],
        ),
        ("concealed", [j for j in lot if j.section_id in concealed]),
        ("at the boundary of a test", [j for j in lot if j.boundary]),
    )
    for why, joints in risks:
        for joint in list(joints)[:MOST_OF_A_RISK]:
            yield SampledJoint(joint, (why,))
    for noun, field in (("operative", "operative_id"), ("tool", "tool_id"), ("batch", "fitting_batch_id")):
        seen: dict[str, Joint] = {}
        for joint in lot:
            key = getattr(joint, field)
            if key is not None:
                seen.setdefault(key, joint)
        for key in sorted(seen):
            yield SampledJoint(seen[key], (f"one of {noun} {key}",))
