"""A section has no passed test of a stage that its procedure asks for."""

from collections import defaultdict

from witnessmark.checks.by_system import GapsBySystem
from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.testing.proving_tests import NOT_IN_PLACE, proving_tests
from witnessmark.checks.testing.stage_answers import stage_words
from witnessmark.model.day_words import day_words
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Section, TestStage
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="required-stage-not-passed",
    question="Did every section pass every stage of test that its service asks for?",
    severity=Severity.BREAKS,
    closes="Add the test that was made to the tests table, from its certificate; where there was none, test the section.",
    whose="the contractor handing over",
    what="For every section in place, each stage of the procedure that project.yml asks of its service: a row that names "
    "the section and records a pass. Where only failed or broken-off attempts are recorded, the records show that it did not "
    "pass; where nothing is recorded, it cannot be told.",
    why="A look finds the joint that was forgotten, low pressure the one that was not pressed, strength the one that would "
    "part. None stands for another.",
    example="Test PT-014, attempt 1, strength stage, failed on 9 May 2026; no passed strength stage of section S1 is recorded.",
    passes="Section S1 passed the visual, leak and strength stages of PT-014 on 9 May 2026, as its procedure asks.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every section in place; failures once a test, gaps once a system."""
    proving = proving_tests(project)
    gaps = GapsBySystem(RULE, project, "section", RULE.closes)
    failed: dict[tuple[str, int, str], list[tuple[TestStage, str]]] = defaultdict(list)
    examined = 0
    for section in sorted(project.records.sections, key=lambda row: row.section_id):
        if section.status in NOT_IN_PLACE:
            continue
        stages, passes = proving.stages.get(section.section_id, {}), proving.passes.get(section.section_id, {})
        procedure = proving.procedure(section.section_id)
        if procedure is None and passes.keys() - {None, "visual"}:
            continue  # which procedure it needs is another question, and the stages hang on it
        examined += 1
        if not stages:
            _add(gaps, section, ["a row in the tests table that names it"])
            continue
        required = [stage.stage for stage in procedure.stages] if procedure is not None else ["strength"]
        missing = []
        for name in dict.fromkeys(required):
            if name in passes:
                continue
            of_stage = stages.get(name, [])
            claimed = [stage for stage in of_stage if stage.result is not None]
            if claimed and len(claimed) == len(of_stage):
                last = claimed[-1]
                failed[last.test_id, last.attempt or 0, name].append((last, section.section_id))
            elif of_stage:
                missing.append(f"the result of {stage_words(next(s for s in of_stage if s.result is None))}")
            else:
                missing.append(f"a {name} stage in the tests table")
        if missing:
            _add(gaps, section, missing)
    findings = [_failure(group) for group in failed.values()]
    return Answer(examined, (*findings, *gaps.findings()))


def _add(gaps: GapsBySystem, section: Section, reasons: list[str]) -> None:
    system = [section.system_id] if section.system_id is not None else []
    gaps.add(system, section.section_id, reasons, [section.section_id], section.source.place("section_id"))


def _failure(group: list[tuple[TestStage, str]]) -> Finding:
    stage = group[0][0]
    names = [section_id for _, section_id in group]
    more = f" and {len(names) - 4} more" if len(names) > 4 else ""
    sections = f"section {names[0]}" if len(names) == 1 else f"sections {', '.join(names[:4])}{more}"
    what = "failed" if stage.result == "fail" else "was broken off"
    on = f" on {day_words(stage.date)}" if stage.date is not None else ""
    return Finding(
        RULE,
        Outcome.FAIL,
        f"{stage_words(stage)}, {what}{on}; no passed {stage.stage} stage of {sections} is recorded.",
        f"Find what made it fail, put it right, test {sections} again and record every attempt.",
        Subject("test", stage.test_id),
        stage.source.place("result"),
        (),
        RULE.whose,
        tuple(names),
    )


CHECK = Check(RULE, run)
