"""Traces as CSV: the links of one joint, or every joint that a batch, tool, operative or gauge touched."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from witnessmark.pack.csv_writer import Cell, write_csv

if TYPE_CHECKING:
    from witnessmark.evidence.joint_trace import TraceLink
    from witnessmark.evidence.reverse_trace import Touched
    from witnessmark.pipeline import Outcome

LINK_HEADER = (
    "joint", "joint_row", "link", "record", "detail", "state", "reason", "file", "sheet", "row", "column", "heading",
)  # fmt: skip
TOUCHED_HEADER = (
    "kind", "id", "how", "joint", "section", "system", "level", "location", "rooms", "tag", "size_mm", "material",
    "guarantor", "guarantee_ends_on", "chain", "file", "sheet", "row",
)  # fmt: skip


def write_links(traces: Sequence[tuple[str, str, Sequence[TraceLink]]], path: Path) -> int:
    """Write the links of joints, given as (joint id, its row in words, links); returns the number of rows."""
    return write_csv(path, LINK_HEADER, _links(traces), byte_order_mark=True)


def _links(traces: Sequence[tuple[str, str, Sequence[TraceLink]]]) -> Iterator[tuple[Cell, ...]]:
    for joint_id, row, links in traces:
        for link in links:
            place = link.place
            yield (
                joint_id,
                row,
                link.words,
                link.record_id or None,
                link.detail or None,
                link.state.value,
                link.reason or None,
                place.file if place else None,
                place.sheet or None if place else None,
                place.row or None if place else None,
                place.column or None if place else None,
                place.heading or None if place else None,
            )


def write_touched(outcome: Outcome, touched: Touched, path: Path) -> int:
    """Write every joint touched, with section, tag and guarantee; returns the number of joints.

    Sections touched without a joint, as by a batch of tube, get a row without one.
    """
    return write_csv(path, TOUCHED_HEADER, _touched(outcome, touched), byte_order_mark=True)


def _touched(outcome: Outcome, touched: Touched) -> Iterator[tuple[Cell, ...]]:
    project, tags = outcome.project, outcome.workings.tags.by_section
    states = outcome.evidence.chain.joint_states
    seen = set()
    for each in touched.joints:
        joint = each.joint
        seen.add(joint.section_id)
        section = project.sections.get(joint.section_id or "")
        place = joint.source.location
        guarantees = outcome.workings.sections[section.section_id].guarantees if section else ()
        guarantee = next((g for g in guarantees if g.material == joint.material_tube), None)
        yield (
            touched.kind,
            touched.record_id,
            "; ".join(each.how),
            joint.joint_id,
            joint.section_id,
            section.system_id if section else None,
            joint.level or (section.level if section else None),
            joint.location or (section.location if section else None),
            section.rooms if section else None,
            tags.get(joint.section_id or ""),
            joint.od_mm,
            joint.material_tube,
            guarantee.terms.guarantor if guarantee and guarantee.terms else None,
            guarantee.ends_on if guarantee else None,
            states[joint.joint_id].value,
            place.file,
            place.sheet or None,
            place.row,
        )
    for section in touched.sections:
        if section.section_id not in seen:
            place, state = section.source.location, outcome.evidence.chain.section(section.section_id).state
            yield (
                touched.kind, touched.record_id, "section", None, section.section_id, section.system_id, section.level,
                section.location, section.rooms, tags.get(section.section_id), None, None, None, None,
                state.value, place.file, place.sheet or None, place.row,
            )  # fmt: skip
