"""The last flush, clean or disinfection of a section did not pass."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.water.water_log import flushings_of_section, listed, wet_sections
from witnessmark.model.day_words import day_words
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Flushing
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="flush-failed",
    question="Did the last flush, clean and disinfection of every section end with a pass?",
    severity=Severity.WEAKENS,
    closes="Do it again and record the result; where it did pass, write so in its row.",
    whose="the contractor handing over",
    what="The result of the last record of each kind for each section that carries water. An earlier failure that a later "
    "pass follows is in order and stays in the records.",
    why="A flush that did not run clear has left its dirt where it was.",
    example="Flush FL-003 of section LTHW-F-R2 failed on 9 March 2026, and no later one is recorded.",
    passes="Flush FL-003 failed on 9 March 2026, and flush FL-004 of the same section passed on 10 March 2026.",
)
_KINDS = {"flush": "Flush", "chemical_clean": "Chemical clean", "disinfection": "Disinfection"}


def run(project: Project, _workings: Workings) -> Answer:
    """Look at the last record of each kind for every section; one finding a record."""
    sections = wet_sections(project)
    last: dict[str, tuple[Flushing, list[str]]] = {}
    for kind in _KINDS:
        of_section = flushings_of_section(project, (kind,))
        for wet in sections:
            if wet.id in of_section:
                row = of_section[wet.id][-1]
                last.setdefault(row.flushing_id, (row, []))[1].append(wet.id)
    findings = tuple(_finding(row, names) for row, names in last.values() if row.result != "pass")
    return Answer(len(last), findings)


def _finding(row: Flushing, sections: list[str]) -> Finding:
    what = f"{_KINDS[row.kind or 'flush']} {row.flushing_id} of {'section' if len(sections) == 1 else 'sections'}"
    on = f"on {day_words(row.date)}" if row.date else ""
    failed = row.result == "fail"
    said = f"failed {on}, and no later one is recorded." if failed else f"{on} has no result in its row."
    return Finding(
        RULE,
        Outcome.FAIL if failed else Outcome.CANNOT_TELL,
        f"{what} {listed(sections)} {said}",
        RULE.closes,
        Subject("flushing", row.flushing_id),
        row.source.place("result"),
        (),
        RULE.whose,
        tuple(sections),
    )


CHECK = Check(RULE, run)
