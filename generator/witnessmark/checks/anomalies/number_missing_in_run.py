"""A number is missing in the run of a section's joint numbers."""

import re
from collections import Counter, defaultdict

from witnessmark.checks.joint_number import fitting_of, joint_number
from witnessmark.checks.judgement import Answer, Check
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Joint
from witnessmark.model.threshold import limit
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="number-missing-in-run",
    question="Is every number of a section's run of joint numbers accounted for?",
    severity=Severity.WEAKENS,
    closes="Say what became of each number: log the joint, or add its row with the state 'void' and the reason.",
    whose="the subcontractor who made the joints",
    what="Joint numbers of one section that count up with the same beginning. A number counts as accounted for where any row of "
    "the log has it, void ones too, or an alteration or a later joint names it. A few numbers, or a run with many gaps, "
    "are no run.",
    why="A row that is gone may be a joint that leaked, was cut out and deleted, or one that nobody logged.",
    example="Section LTHW-F-R2 runs from J001 to J012, and J003 is in no row. Please say what became of it.",
    passes="Section LTHW-F-R2 runs from J001 to J012; J003 is void, 'fitting turned the wrong way'.",
    thresholds=("numbering-run-at-least", "numbering-gap-share"),
)

Run = dict[int, Joint]


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every run of numbers within a section, and answer once a section and run."""
    least = limit(project.settings, "numbering-run-at-least")
    share = limit(project.settings, "numbering-gap-share")
    runs, everywhere, unnumbered = _runs(project)
    named: set[str] | None = None
    examined, findings = 0, []
    for (section_id, key), numbers in sorted(runs.items()):
        if len(numbers) < least or unnumbered[section_id] > share * len(numbers):
            continue
        examined += 1
        first, last = min(numbers), max(numbers)
        if last - first + 1 == len(numbers):
            continue
        if last - first + 1 > len(numbers) * (1 + share) + 1:
            continue
        gone = [number for number in range(first, last) if number not in everywhere[key]]
        if not gone or _skips_tens(gone, numbers):
            continue
        if named is None:
            named = _named_elsewhere(project)
        ids = {number: _as_written(numbers, number) for number in gone}
        unexplained = [number for number in gone if ids[number].casefold() not in named]
        if unexplained and len(unexplained) <= max(1, share * len(numbers)):
            findings.append(_finding(section_id, numbers, [ids[number] for number in unexplained], unexplained))
    return Answer(examined, tuple(findings))


def _runs(project: Project) -> tuple[dict[tuple[str, str], Run], dict[str, set[int]], Counter[str]]:
    """Numbers by section and run, numbers by run in the whole log, and joints without a number by section."""
    runs: dict[tuple[str, str], Run] = defaultdict(dict)
    everywhere: dict[str, set[int]] = defaultdict(set)
    unnumbered: Counter[str] = Counter()
    numbers: Run = {}
    of_run: set[int] = set()
    written: str | None = None
    before: str | None = None
    in_section: str | None = None
    for joint in project.records.joints:
        fitting, section_id = fitting_of(joint.joint_id)[0], joint.section_id
        if fitting == before and section_id == in_section:
            continue
        if section_id != in_section:
            written = None
        before, in_section = fitting, section_id
        parts = joint_number(fitting)
        if parts is None:
            unnumbered[section_id or ""] += 1
            continue
        if parts.run != written:
            written = parts.run
            key = written.casefold()
            of_run = everywhere[key]
            numbers = runs[section_id, key] if section_id is not None else {}
        of_run.add(parts.number)
        numbers.setdefault(parts.number, joint)
    return runs, everywhere, unnumbered


def _skips_tens(gone: list[int], numbers: Run) -> bool:
    """Whether only full tens are missing and none is there: 11 to 19, 21 to 29 is a way of numbering."""
    return all(number % 10 == 0 for number in gone) and not any(number % 10 == 0 for number in numbers)


def _as_written(numbers: Run, number: int) -> str:
    near = next(numbers[other] for other in range(number, min(numbers) - 1, -1) if other in numbers)
    parts = joint_number(near.joint_id)
    return f"{parts.run}{number:0{len(parts.digits)}d}" if parts is not None else str(number)


def _named_elsewhere(project: Project) -> set[str]:
    """Every word, with and without the letter of an end, by which another row could account for a joint."""
    texts = [joint.replaces_joint or "" for joint in project.records.joints if joint.replaces_joint]
    texts += [aside.raw for aside in project.set_aside if aside.table == "joints"]
    for alteration in project.records.alterations:
        cells = (alteration.source.cell(field) for field in ("joint_ids", "reason", "remarks"))
        texts += [cell.raw for cell in cells if cell is not None]
    words: set[str] = set()
    for text in texts:
        for word in re.split(r"[;,|\s]+", text.casefold()):
            plain = word.strip(".:()'\"")
            words.update((plain, re.sub(r"(?<=[0-9])[-./]?[a-z]$", "", plain)))
    return words


def _finding(section_id: str, numbers: Run, ids: list[str], gone: list[int]) -> Finding:
    first, last = (fitting_of(numbers[number].joint_id)[0] for number in (min(numbers), max(numbers)))
    shown = ", ".join(ids[:5]) + (f" and {len(ids) - 5} more" if len(ids) > 5 else "")
    verb, what = ("is", "it") if len(ids) == 1 else ("are", "them")
    message = (
        f"Section {section_id} runs from {first} to {last}, and {shown} {verb} in no row. "
        f"Please say what became of {what}."
    )
    places = [numbers[number - 1].source.place("joint_id") for number in gone if number - 1 in numbers]
    return Finding(
        RULE,
        Outcome.FAIL,
        message,
        RULE.closes,
        Subject("section", section_id),
        places[0],
        tuple(places[1:20]),
        RULE.whose,
        (section_id,),
    )


CHECK = Check(RULE, run)
