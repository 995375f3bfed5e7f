"""Batches and everything they went into: a question about a batch is answered once, for all it touches."""

import weakref
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, replace

from witnessmark.checks.joint_groups import named
from witnessmark.checks.materials.section_service import in_place
from witnessmark.model.finding import Finding, Outcome, Rule, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Batch, Joint, Record, TubeLength

_PLACES = 20


@dataclass(frozen=True, slots=True)
class BatchUse:
    """A batch that is in the pipework, with the joints and tube lengths that name it."""

    batch: Batch
    joints: Sequence[Joint]
    tubes: Sequence[TubeLength]

    @property
    def section_ids(self) -> tuple[str, ...]:
        """Sections that it went into."""
        found = [*(joint.section_id for joint in self.joints), *(tube.section_id for tube in self.tubes)]
        return tuple(sorted({section_id for section_id in found if section_id is not None}))

    @property
    def joint_ids(self) -> tuple[str, ...]:
        """Joints that name it; none where only tube lengths do."""
        return tuple(sorted({joint.joint_id for joint in self.joints}))

    @property
    def words(self) -> str:
        """'joint J014', '212 joints, the first of them J014', 'the tube of section S1'."""
        if self.joints:
            words = named(self.joints).rstrip(",")
            return words[0].lower() + words[1:]
        sections = sorted(self.section_ids)
        if len(sections) == 1:
            return f"the tube of section {sections[0]}"
        return f"the tube of {len(sections):,} sections, the first of them {sections[0]}"


_latest: list[tuple[weakref.ref[Project], list[BatchUse]]] = []


def batches_in_use(project: Project) -> list[BatchUse]:
    """Every batch of the register that a joint or a tube length in place names, by id; gathered once for all questions."""
    if not _latest or _latest[0][0]() is not project:
        _latest[:] = [(weakref.ref(project), _in_use(project))]
    return _latest[0][1]


def _in_use(project: Project) -> list[BatchUse]:
    tubes: dict[str, list[TubeLength]] = defaultdict(list)
    for tube in project.records.tubes:
        section = project.sections.get(tube.section_id) if tube.section_id is not None else None
        if tube.batch_id is not None and section is not None and in_place(section):
            tubes[tube.batch_id].append(tube)
    uses = []
    for batch_id, batch in sorted(project.batches.items()):
        joints = project.joints_of_batch.get(batch_id, ())
        if joints or batch_id in tubes:
            uses.append(BatchUse(batch, joints, tubes.get(batch_id, ())))
    return uses


def written(record: Record, field: str) -> bool:
    """Whether the cell holds a text. Where the value is unknown all the same, reading it has told why."""
    source = record.source
    if source.overrides and field in source.overrides:
        return bool(source.overrides[field].raw.strip())
    column = source.table.columns.get(field)
    return column is not None and column.index < len(source.raw) and bool(source.raw[column.index].strip())


def batch_finding(rule: Rule, outcome: Outcome, use: BatchUse, message: str, field: str, whose: str = "") -> Finding:
    """One finding about a batch; ``field`` is the cell of the batch register to look at."""
    places = [each.source.location for each in (*use.joints[:_PLACES], *use.tubes[:_PLACES])]
    return Finding(
        rule,
        outcome,
        message,
        rule.closes,
        Subject("batch", use.batch.batch_id),
        use.batch.source.place(field),
        tuple(places[:_PLACES]),
        whose or rule.whose,
        use.section_ids,
        use.joint_ids,
    )


def unread(uses: Sequence[BatchUse], field: str) -> int:
    """How many of these batches have a cell that could not be read: told already, and no pass."""
    return sum(written(use.batch, field) for use in uses)


def batch_gaps(rule: Rule, project: Project, uses: Sequence[BatchUse], field: str, words: str) -> list[Finding]:
    """What cannot be told for want of a cell of the batch register: a blank column is one finding, not one a batch."""
    lacking = [use for use in uses if not written(use.batch, field)]
    if not lacking:
        return []
    remedy = f"Write into the batch register {words}; ask the supplier where nobody on site knows."
    if len(lacking) == 1:
        use = lacking[0]
        message = f"Batch {use.batch.batch_id} was used for {use.words}; the batch register does not tell {words}."
        return [replace(batch_finding(rule, Outcome.CANNOT_TELL, use, message, field), remedy=remedy)]
    names = ", ".join(use.batch.batch_id for use in lacking[:6]) + (
        f" and {len(lacking) - 6} more" if len(lacking) > 6 else ""
    )
    return [
        Finding(
            rule,
            Outcome.CANNOT_TELL,
            f"Of each of {len(lacking):,} batches in use the batch register does not tell {words}: {names}.",
            remedy,
            Subject("project", project.settings.id),
            lacking[0].batch.source.place(field),
            tuple(use.batch.source.place(field) for use in lacking[1:_PLACES]),
            rule.whose,
            tuple(sorted({section_id for use in lacking for section_id in use.section_ids})),
            tuple(sorted({joint_id for use in lacking for joint_id in use.joint_ids}))
            if all(use.joints for use in lacking)
            else (),
        )
    ]
