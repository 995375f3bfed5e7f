"""A disinfection was too weak, too short, or left in the pipe."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.water.water_log import flushings_of_section, listed, wet_sections
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Flushing
from witnessmark.model.threshold import limit
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="disinfection-too-weak",
    question="Was every disinfection strong and long enough, and was it rinsed out?",
    severity=Severity.BREAKS,
    closes="Disinfect again by the local rules and record strength, time and rinsing; or complete the row of the record.",
    whose="the contractor handing over",
    what="The last disinfection of every section of a potable system: concentration and contact time against the thresholds, "
    "and whether the water was made harmless and rinsed out. Local rules and the product's data sheet outrank the "
    "thresholds: write theirs into project.yml.",
    why="Too weak or too short leaves the germs; what is left in harms whoever drinks it.",
    example="Disinfection FL-009 of section BCW-R1: 20 mg/L, where at least 50 mg/L is asked.",
    passes="Disinfection FL-009 held 50 mg/L for 60 min, and was neutralised and rinsed out.",
    thresholds=("disinfection-mg-l", "disinfection-contact-min"),
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at the last disinfection of every potable section; one finding a record and outcome."""
    strength, minutes = (limit(project.settings, name) for name in RULE.thresholds)
    treated = flushings_of_section(project, ("disinfection",))
    last: dict[str, tuple[Flushing, list[str]]] = {}
    for wet in wet_sections(project):
        if wet.potable and wet.id in treated:
            row = treated[wet.id][-1]
            last.setdefault(row.flushing_id, (row, []))[1].append(wet.id)
    findings = []
    for row, names in last.values():
        findings += _judged(row, names, strength, minutes)
    return Answer(len(last), tuple(findings))


def _judged(row: Flushing, names: list[str], strength: float, minutes: float) -> list[Finding]:
    wrong: list[tuple[str, str]] = []
    blank: list[tuple[str, str]] = []
    for field, words, asked, unit in (
        ("concentration_mg_l", "the concentration", strength, "mg/L"),
        ("contact_min", "the contact time", minutes, "min"),
    ):
        value: float | None = getattr(row, field)
        if value is None:
            blank.append((field, words))
        elif value < asked:
            wrong.append((field, f"{value:g} {unit}, where at least {asked:g} {unit} is asked"))
    if row.neutralised is None:
        blank.append(("neutralised", "whether it was made harmless and rinsed out"))
    elif not row.neutralised:
        wrong.append(("neutralised", "it was not made harmless and rinsed out"))
    name = f"Disinfection {row.flushing_id} of {'section' if len(names) == 1 else 'sections'} {listed(names)}"
    findings = []
    if wrong:
        findings.append(
            _finding(row, names, Outcome.FAIL, f"{name}: {'; '.join(words for _, words in wrong)}.", wrong[0][0])
        )
    if blank:
        missing = f"{name} does not say {' nor '.join(words for _, words in blank)}."
        findings.append(_finding(row, names, Outcome.CANNOT_TELL, missing, blank[0][0]))
    return findings


def _finding(row: Flushing, names: list[str], outcome: Outcome, message: str, field: str) -> Finding:
    return Finding(
        RULE,
        outcome,
        message,
        RULE.closes,
        Subject("flushing", row.flushing_id),
        row.source.place(field),
        (),
        RULE.whose,
        tuple(names),
    )


CHECK = Check(RULE, run)
