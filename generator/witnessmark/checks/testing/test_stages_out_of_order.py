"""A stage of a test came before the one that has to come first."""

from collections import defaultdict
from itertools import pairwise

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.testing.proving_tests import NOT_IN_PLACE, is_after, proving_tests
from witnessmark.checks.testing.stage_answers import stage_words
from witnessmark.model.day_words import day_words
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import TestStage
from witnessmark.workings.test_drop import GASES
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="test-stages-out-of-order",
    question="Was every section looked at before the leak test, and tested for leaks before the strength test?",
    severity=Severity.BREAKS,
    closes="Correct the day or time that is wrong, from the certificate; else test again in the right order.",
    whose="the tester",
    what="Stages in the order of the procedure that the service needs: before every passed stage a section must have passed "
    "the one that comes first. Days decide, and on one day the times, where both are recorded; a stage that was passed "
    "nowhere is another question.",
    why="An end that was not pressed shows at low pressure and can fly apart at high pressure, above all with gas. The order "
    "protects people, and an unpressed end can hold at strength pressure for a while. Local codes and licensed practice decide.",
    example="Test PT-014, attempt 1, strength stage, of section S1 was on 8 May 2026; its first passed leak stage was on "
    "9 May 2026.",
    passes="Section S1 passed the leak stage at 09:10 and the strength stage at 10:05 of 9 May 2026.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every passed stage of every section; one finding a stage of a test."""
    proving = proving_tests(project)
    early: dict[tuple[str, int, str], list[tuple[TestStage, TestStage, str]]] = defaultdict(list)
    examined = 0
    for section_id in sorted(proving.passes):
        section, procedure = project.sections.get(section_id), proving.procedure(section_id)
        if section is None or section.status in NOT_IN_PLACE or procedure is None:
            continue
        by_stage = proving.passes.get(section_id, {})
        order = [name for name in dict.fromkeys(each.stage for each in procedure.stages) if name in by_stage]
        for before, name in pairwise(order):
            first = by_stage[before][0]
            for stage in by_stage[name]:
                examined += 1
                if is_after(first, stage.date, stage.start_time):
                    early[stage.test_id, stage.attempt or 0, name].append((stage, first, section_id))
    return Answer(examined, tuple(_finding(group) for group in early.values()))


def _finding(group: list[tuple[TestStage, TestStage, str]]) -> Finding:
    stage, first, _ = group[0]
    names = [section_id for _, _, section_id in group]
    more = f" and {len(names) - 4} more" if len(names) > 4 else ""
    sections = f"section {names[0]}" if len(names) == 1 else f"sections {', '.join(names[:4])}{more}"
    gas = ""
    if stage.medium in GASES:
        gas = " It was a test with gas, which stores far more energy than water: the low pressure comes first to protect people."
    return Finding(
        RULE,
        Outcome.FAIL,
        f"{stage_words(stage)}, of {sections} was on {_moment(stage)}; the first passed {first.stage} stage there was on "
        f"{_moment(first)}.{gas}",
        RULE.closes,
        Subject("test", stage.test_id),
        stage.source.place("date" if stage.date != first.date else "start_time"),
        (first.source.place("date" if stage.date != first.date else "start_time"),),
        RULE.whose,
        tuple(names),
    )


def _moment(stage: TestStage) -> str:
    day = day_words(stage.date) if stage.date is not None else "a day that is not recorded"
    return f"{day} at {stage.start_time:%H:%M}" if stage.start_time is not None else day


CHECK = Check(RULE, run)
