"""The days from which guarantees run contradict each other or the records."""

from collections import defaultdict
from itertools import pairwise

from witnessmark.checks.judgement import Answer, Check
from witnessmark.model.day_words import day_words
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Section
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="guarantee-start-contradicted",
    question="Do delivery, installation and commissioning of every section follow each other?",
    severity=Severity.WEAKENS,
    closes="Look at delivery notes and the commissioning record, and correct the day that is wrong in the sections table.",
    whose="the contractor handing over",
    what="Days of delivery, installation and commissioning of each section, where two of them are recorded: delivery is not "
    "after installation, installation not after commissioning.",
    why="A guarantee runs from one of these days; where they contradict each other its start can be disputed.",
    example="Section LTHW-F-R2 was commissioned on 2 March 2026, before it was installed on 9 March 2026.",
    passes="Section LTHW-F-R2 was delivered on 12 January, installed on 2 March and commissioned on 4 May 2026.",
)
_STEPS = (("delivered_on", "delivered"), ("installed_on", "installed"), ("commissioned_on", "commissioned"))


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every section with two of the days; one finding for each pair of days."""
    examined = 0
    groups: dict[tuple[str, str, str], list[Section]] = defaultdict(list)
    for section in sorted(project.records.sections, key=lambda row: row.section_id):
        known = [(day, field, words) for field, words in _STEPS if (day := getattr(section, field)) is not None]
        if len(known) < 2:
            continue
        examined += 1
        for (early, first, first_words), (late, second, second_words) in pairwise(known):
            if late < early:
                said = f"{second_words} on {day_words(late)}, before {{}} {first_words} on {day_words(early)}"
                groups[said, second, first].append(section)
    return Answer(examined, tuple(_finding(*key, group) for key, group in groups.items()))


def _finding(said: str, field: str, other: str, group: list[Section]) -> Finding:
    names = [section.section_id for section in group]
    shown = ", ".join(names[:5]) + (f" and {len(names) - 5} more" if len(names) > 5 else "")
    one = len(names) == 1
    return Finding(
        RULE,
        Outcome.FAIL,
        f"{'Section' if one else 'Sections'} {shown} {'was' if one else 'were'} "
        f"{said.format('it was' if one else 'they were')}.",
        RULE.closes,
        Subject("section", names[0]),
        group[0].source.place(field),
        (group[0].source.place(other), *(section.source.place(field) for section in group[1:20])),
        RULE.whose,
        tuple(names),
    )


CHECK = Check(RULE, run)
