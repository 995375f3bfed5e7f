"""The shortest list of acts that would close what is open: one act often closes several findings."""

import heapq
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from witnessmark.evidence.action_words import remedy_words, retest_words
from witnessmark.evidence.chain_state import ChainState, link_state
from witnessmark.model.finding import Finding, Outcome
from witnessmark.model.project import Project
from witnessmark.model.records import RECORD_CLASSES
from witnessmark.model.source import SourceLocation

RETEST = frozenset(
    {
        "checked-after-strength-test",
        "required-stage-not-passed",
        "test-stages-out-of-order",
        "pressed-after-the-last-test",
        "altered-after-the-last-test",
        "boundary-joint-not-tested",
        "test-pressure-not-reached",
        "hold-too-short",
        "drop-beyond-tolerance",
        "zero-drop-with-temperature-change",
        "test-could-not-see-one-joint",
        "gauge-not-in-calibration",
        "gauge-unfit",
        "joints-not-looked-at",
        "test-not-witnessed",
        "snag-without-retest",
    }
)
"""Checks whose failures a new test of the sections closes, whatever else would."""
TESTER = "the contractor handing over"


@dataclass(frozen=True, slots=True)
class Action:
    """One act, whose job it is, and what it would close."""

    words: str
    whose: str
    findings: tuple[Finding, ...]
    """Those that it closes and no act before it does, in the order in which to act on them."""
    section_ids: tuple[str, ...]
    broken: int
    """Findings among them that break the chain."""
    unproven: int
    weak: int

    @property
    def joint_ids(self) -> tuple[str, ...]:
        """Joints that the findings name, each once; those of whole sections are not listed."""
        return tuple(dict.fromkeys(joint for finding in self.findings for joint in _joints(finding)))


@dataclass(frozen=True, slots=True)
class _Act:
    """What may close findings: two findings with one act are closed together."""

    kind: str
    words: str
    """The remedy, the column to be filled in, or the systems to be tested again."""
    whose: str
    place: SourceLocation | None = None


def shortest_list(project: Project, findings: Iterable[Finding]) -> tuple[Action, ...]:
    """Acts that together close every open finding that keeps the chain from being complete.

    Found greedily: the act that closes most of what is left comes next, so the list is short but not proved the
    shortest. The acts are then put in the order of what they bring: broken links closed, then unproven, then weak ones.
    """
    left = [f for f in findings if link_state(f) not in (None, ChainState.CONCEDED)]
    offers = _offers(project, left)
    closes: dict[_Act, list[int]] = defaultdict(list)
    for place, acts in enumerate(offers):
        for act in acts:
            closes[act].append(place)
    order = {act: number for number, act in enumerate(closes)}
    heap = [(-len(places), order[act]) for act, places in closes.items()]
    heapq.heapify(heap)
    by_number = list(closes)
    done = [False] * len(left)
    actions: list[Action] = []
    while heap:
        promised, number = heapq.heappop(heap)
        act = by_number[number]
        fresh = [place for place in closes[act] if not done[place]]
        if len(fresh) < -promised:
            # Others have closed part of it since: it waits for its turn again.
            if fresh:
                heapq.heappush(heap, (-len(fresh), number))
            continue
        for place in fresh:
            done[place] = True
        actions.append(_action(project, act, [left[place] for place in fresh]))
    return tuple(sorted(actions, key=_what_it_brings))


def _offers(project: Project, findings: Sequence[Finding]) -> list[tuple[_Act, ...]]:
    blank = _blank_cells(project, findings)
    offers: list[tuple[_Act, ...]] = []
    for finding in findings:
        acts = [_Act("remedy", finding.remedy or finding.rule.closes, finding.whose or finding.rule.whose)]
        place = finding.location
        if finding.outcome is Outcome.FAIL and finding.rule.slug in RETEST:
            systems = dict.fromkeys(
                section.system_id or "no system" for s in finding.section_ids if (section := project.sections.get(s))
            )
            acts.append(_Act("retest", ", ".join(systems), TESTER))
        elif finding.outcome is Outcome.CANNOT_TELL and place is not None and place in blank:
            column = SourceLocation(place.file, place.sheet, 0, place.column, place.heading)
            words = f"Fill in column '{place.heading}' of {place.file}" + (
                f", sheet {place.sheet}" if place.sheet else ""
            )
            acts.append(_Act("column", words + ".", acts[0].whose, column))
        offers.append(tuple(acts))
    return offers


def _blank_cells(project: Project, findings: Sequence[Finding]) -> set[SourceLocation]:
    """Those places that findings name which are cells of the records without a text."""
    wanted: dict[tuple[str, str, int], list[SourceLocation]] = defaultdict(list)
    for finding in findings:
        place = finding.location
        if finding.outcome is Outcome.CANNOT_TELL and place is not None and place.heading:
            wanted[(place.file, place.sheet, place.row)].append(place)
    blank: set[SourceLocation] = set()
    if not wanted:
        return blank
    rows: dict[str, set[int]] = defaultdict(set)
    for file, sheet, row in wanted:
        rows[f"{file}\n{sheet}"].add(row)
    for table in RECORD_CLASSES:
        for record in project.records.table(table):
            source = record.source
            if source.row not in rows.get(f"{source.table.file}\n{source.table.sheet}", ()):
                continue
            for place in wanted[(source.table.file, source.table.sheet, source.row)]:
                cells = [c for c in source.table.columns.values() if c.letter == place.column]
                if cells and not (source.raw[cells[0].index] if cells[0].index < len(source.raw) else "").strip():
                    blank.add(place)
    return blank


def _action(project: Project, act: _Act, findings: Sequence[Finding]) -> Action:
    states = [link_state(finding) for finding in findings]
    words = act.words
    if act.kind == "retest":
        words = retest_words(project, act.words, findings)
    elif act.kind == "remedy":
        words = remedy_words(act.words, findings)
    return Action(
        words,
        act.whose,
        tuple(findings),
        tuple(dict.fromkeys(section for finding in findings for section in finding.section_ids)),
        states.count(ChainState.BROKEN),
        states.count(ChainState.UNPROVEN),
        states.count(ChainState.WEAK),
    )


def _joints(finding: Finding) -> tuple[str, ...]:
    return finding.joint_ids or ((finding.subject.id,) if finding.subject.kind == "joint" else ())


def _what_it_brings(action: Action) -> tuple[int, int, int, int, str, str]:
    return (-action.broken, -action.unproven, -action.weak, -len(action.section_ids), action.words, action.whose)
