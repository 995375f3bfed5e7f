"""The command that traces: a joint to all behind it, or a batch, tool, operative or gauge to all it touched."""

from __future__ import annotations

from collections.abc import Iterator
from difflib import get_close_matches
from pathlib import Path
from typing import TYPE_CHECKING

from witnessmark.cli.finding_lines import one_line
from witnessmark.evidence.reverse_trace import KINDS, Touched
from witnessmark.model.finding import Outcome as Answer
from witnessmark.pack.refusal import CannotWrite

if TYPE_CHECKING:
    from witnessmark.evidence.joint_trace import TraceLink
    from witnessmark.pipeline import Outcome

JOINT = "joint"
_SHOWN = 40
_WORDS = {Answer.PASS: "recorded", Answer.FAIL: "FAIL", Answer.CANNOT_TELL: "CANNOT TELL", Answer.WAIVED: "waived"}


class CannotTrace(Exception):
    """No record has the id, or records of several kinds have it."""


def trace_lines(outcome: Outcome, record_id: str, kind: str, table: Path | None) -> Iterator[str]:
    """The trace as lines, and as a CSV file where a path is given.

    Raises CannotTrace or CannotWrite.
    """
    kind = kind or _kind_of(outcome, record_id)
    try:
        if kind == JOINT:
            yield from _joint(outcome, record_id, table)
        else:
            yield from _touched(outcome, kind, record_id, table)
    except OSError as error:
        raise CannotWrite(f"{table}: the trace cannot be written ({error.strerror}); name another file.") from error


def _kind_of(outcome: Outcome, record_id: str) -> str:
    joints = [joint.joint_id for joint in outcome.project.records.joints]
    ids = {kind: outcome.evidence.reverse_trace.ids(kind) for kind in KINDS} | {JOINT: tuple(joints)}
    found = [kind for kind, known in ids.items() if record_id in known]
    if len(found) == 1:
        return found[0]
    if found:
        raise CannotTrace(f"'{record_id}' is the id of a {' and of a '.join(found)}; say which with --kind.")
    near = get_close_matches(record_id, dict.fromkeys(each for known in ids.values() for each in known), n=3)
    hint = (
        f"did you mean {' or '.join(near)}?"
        if near
        else "give the id of a joint, batch, tool, jaw, operative or gauge."
    )
    raise CannotTrace(f"no joint, batch, tool, operative or gauge is called '{record_id}'; {hint}")


def _joint(outcome: Outcome, joint_id: str, table: Path | None) -> Iterator[str]:
    from witnessmark.pack.trace_table import write_links

    rows = [joint for joint in outcome.project.records.joints if joint.joint_id == joint_id]
    if not rows:
        raise CannotTrace(f"no joint is called '{joint_id}'; the joint register lists them.")
    traces = [(joint_id, joint.source.location.words, outcome.evidence.joint_trace.trace(joint)) for joint in rows]
    chain = outcome.evidence.chain.joint(joint_id)
    yield one_line(f"Joint {joint_id}: {chain.state.value}. {chain.sentence}")
    for _, row, links in traces:
        yield one_line(f"{row}")
        for link in links:
            yield from _link(link)
    if table is not None:
        yield f"Wrote {table}: {write_links(traces, table):,} links."


def _link(link: TraceLink) -> Iterator[str]:
    what = " – ".join(part for part in (link.record_id, link.detail) if part) or "nothing recorded"
    place = f"  ({link.place})" if link.place else ""
    yield one_line(f"  {_WORDS[link.state]:<12} {link.words}: {what}{place}")
    if link.reason:
        yield one_line(f"               {link.reason}")


def _touched(outcome: Outcome, kind: str, record_id: str, table: Path | None) -> Iterator[str]:
    from witnessmark.pack.trace_table import write_touched

    touched = outcome.evidence.reverse_trace.touched(kind, record_id)
    if touched.record is None and not touched.joints and not touched.test_ids:
        raise CannotTrace(f"no {kind} is called '{record_id}'; its register lists them.")
    yield from summary(touched)
    for each in touched.joints[:_SHOWN]:
        joint = each.joint
        where = f"section {joint.section_id or 'not recorded'}"
        yield one_line(f"  {joint.joint_id}: {', '.join(each.how)}; {where}  ({joint.source.location})")
    if len(touched.joints) > _SHOWN:
        yield f"  … and {len(touched.joints) - _SHOWN:,} more (--csv FILE writes them all)"
    if table is not None:
        yield f"Wrote {table}: {write_touched(outcome, touched, table):,} rows."


def summary(touched: Touched) -> Iterator[str]:
    """What was touched, in counts and names."""
    counts = f"{len(touched.joints):,} joints, {len(touched.sections):,} sections, {len(touched.test_ids):,} tests"
    yield one_line(f"{touched.kind.capitalize()} {touched.record_id} touched {counts}.")
    for words, names in (
        ("Sections", [section.section_id for section in touched.sections]),
        ("Rooms", list(touched.rooms)),
        ("Tags", list(touched.tag_codes)),
        ("Tests", list(touched.test_ids)),
    ):
        if names:
            more = f" and {len(names) - _SHOWN:,} more" if len(names) > _SHOWN else ""
            yield one_line(f"{words}: {', '.join(names[:_SHOWN])}{more}")
    for guarantee in touched.guarantees:
        by = f" by {guarantee.guarantor}" if guarantee.guarantor else ""
        number = len(guarantee.section_ids)
        yield one_line(f"Guarantee for {guarantee.material.replace('_', ' ')}{by}: in {number:,} of these sections")
