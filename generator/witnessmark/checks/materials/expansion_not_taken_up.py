"""A section moves by heat, and nothing shows what takes the movement up."""

from collections import defaultdict

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.materials.movement import Movement, movement_of
from witnessmark.checks.materials.section_service import sections_in_place
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Section, Support
from witnessmark.model.threshold import limit
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="expansion-not-taken-up",
    question="Is the movement by heat of every long section taken up?",
    severity=Severity.WEAKENS,
    closes="Have the designer say where the section is held and what takes its movement up; fit and inspect what is "
    "missing, and write it into the supports table.",
    whose="the designer",
    what="Change of length of all tube of a section between its lowest and highest temperature. Where it is more than the "
    "threshold, the supports table needs an anchor and loops, bellows or flexibles that together take up at least as "
    "much, all inspected. Bends that take up movement are entered as a loop.",
    why="Pipe that cannot move pulls at its joints with every heating, until one leaks.",
    example="Section H-2: 30 m of copper between 10 and 80 °C moves 35 mm; the records show devices that take up 20 mm.",
    passes="Section H-2: 30 m of copper between 10 and 80 °C moves 35 mm; an anchor and a loop of 40 mm are inspected.",
    thresholds=("expansion-movement-mm",),
)

DEVICES = frozenset({"expansion_loop", "expansion_bellows", "flexible"})


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every section in place whose movement can be worked out: what lacks for that, other checks tell."""
    most = limit(project.settings, "expansion-movement-mm")
    findings: list[Finding] = []
    gaps: dict[str, list[tuple[Section, Movement, str]]] = defaultdict(list)
    examined = 0
    for section, system in sections_in_place(project):
        movement = movement_of(project, section, system)
        if movement is None:
            continue
        examined += 1
        if movement.mm <= most:
            continue
        rows = sorted(project.supports_of_section.get(section.section_id, ()), key=lambda row: row.support_id)
        wrong = _wrong(movement, rows)
        missing = "" if wrong is not None else _missing(rows)
        if wrong is not None:
            findings.append(
                _finding(
                    section, Outcome.FAIL, f"Section {section.section_id}: {movement.words}; {wrong[1]}.", wrong[0]
                )
            )
        elif missing:
            gaps[section.system_id or "no system"].append((section, movement, missing))
    return Answer(examined, (*findings, *(_gap(name, lacking) for name, lacking in gaps.items())))


def _wrong(movement: Movement, rows: list[Support]) -> tuple[Support, str] | None:
    for row in rows:
        if row.result == "fail" and (row.kind in DEVICES or row.kind == "anchor"):
            return row, f"{(row.kind or '').replace('_', ' ')} {row.support_id} failed its inspection"
    devices = [row for row in rows if row.kind in DEVICES]
    known = [row.takes_up_mm for row in devices if row.takes_up_mm is not None]
    if devices and len(known) == len(devices) and sum(known) < movement.mm:
        return devices[0], f"the records show devices that take up {sum(known):.3g} mm"
    return None


def _missing(rows: list[Support]) -> str:
    parts = []
    if not any(row.kind == "anchor" for row in rows):
        parts.append("an anchor")
    devices = [row for row in rows if row.kind in DEVICES]
    if not devices:
        parts.append("a loop, bellows or flexible")
    for row in rows:
        if row.kind not in DEVICES and row.kind != "anchor":
            continue
        if row.kind in DEVICES and row.takes_up_mm is None:
            parts.append(f"what {row.support_id} takes up")
        if row.inspected_on is None or row.result is None:
            parts.append(f"the inspection of {row.support_id}")
    return ", ".join(parts)


def _finding(section: Section, outcome: Outcome, message: str, row: Support | None) -> Finding:
    return Finding(
        RULE,
        outcome,
        message,
        RULE.closes,
        Subject("section", section.section_id),
        row.source.place("takes_up_mm") if row is not None else section.source.location,
        (section.source.location,) if row is not None else (),
        RULE.whose,
        (section.section_id,),
    )


def _gap(system: str, lacking: list[tuple[Section, Movement, str]]) -> Finding:
    lacking = sorted(lacking, key=lambda each: (-each[1].mm, each[0].section_id))
    section, movement, missing = lacking[0]
    words = f"{movement.words}; missing from the supports table: {missing}"
    if len(lacking) == 1:
        return _finding(section, Outcome.CANNOT_TELL, f"Section {section.section_id}: {words}.", None)
    return Finding(
        RULE,
        Outcome.CANNOT_TELL,
        f"System {system}: for {len(lacking):,} sections that move by heat it cannot be told what takes it up. The "
        f"longest way is that of section {section.section_id}: {words}.",
        RULE.closes,
        Subject("system", system),
        section.source.location,
        tuple(each.source.location for each, _, _ in lacking[1:20]),
        RULE.whose,
        tuple(each.section_id for each, _, _ in lacking),
    )


CHECK = Check(RULE, run)
