"""A test with gas was made without assessing its stored energy or keeping people away."""

from collections import defaultdict

from witnessmark.checks.by_system import GapsBySystem
from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.testing.proving_tests import in_time_order
from witnessmark.model.day_words import day_words
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import TestStage
from witnessmark.workings.test_drop import GASES
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="gas-test-without-precautions",
    question="Was the stored energy of every test with gas assessed before it, and a zone kept clear during it?",
    severity=Severity.BREAKS,
    closes="Add the assessment and the record of the zone as they were made on the day. What was not done cannot be made up "
    "for afterwards: say so, and have the way of testing reviewed before the next test with gas.",
    whose="the tester",
    what="Stages under pressure with air or nitrogen, failed attempts too: the cells 'energy assessed' and 'exclusion zone'.",
    why="A test with gas stores hundreds to thousands of times the energy of a test with water: a fitting that parts is thrown. "
    "Local codes, a written system of work and licensed practice decide whether and how it may be done; these records clear nothing.",
    example="Test PT-031 of 9 May 2026, with nitrogen: no zone was kept clear in the strength stage.",
    passes="PT-031, with nitrogen: energy assessed, yes; exclusion zone, yes, in every stage under pressure.",
)
_ASKED = (
    ("energy_assessed", "the stored energy was not assessed", "whether the stored energy was assessed"),
    ("exclusion_zone", "no zone was kept clear", "whether a zone was kept clear"),
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every stage under pressure with gas; failures once a test, gaps once a system."""
    gaps = GapsBySystem(RULE, project, "test", RULE.closes)
    tests: dict[str, list[TestStage]] = defaultdict(list)
    for stage in project.records.tests:
        if stage.medium in GASES and stage.stage != "visual":
            tests[stage.test_id].append(stage)
    findings = []
    for test_id, rows in sorted(tests.items()):
        stages = in_time_order(rows)
        faults: dict[str, list[TestStage]] = {}
        missing: dict[str, TestStage] = {}
        for stage in stages:
            for field, fault, gap in _ASKED:
                value = getattr(stage, field)
                if value is False:
                    faults.setdefault(fault, []).append(stage)
                elif value is None:
                    missing.setdefault(gap, stage)
        if faults:
            findings.append(_finding(test_id, faults))
        elif missing:
            names = tuple(sorted({name for stage in stages for name in stage.section_ids}))
            systems = {s.system_id for n in names if (s := project.sections.get(n)) is not None and s.system_id}
            field = "energy_assessed" if _ASKED[0][2] in missing else "exclusion_zone"
            place = next(iter(missing.values())).source.place(field)
            gaps.add(sorted(systems), test_id, list(missing), names, place)
    return Answer(len(tests), (*findings, *gaps.findings()))


def _finding(test_id: str, faults: dict[str, list[TestStage]]) -> Finding:
    first = next(iter(faults.values()))[0]
    on = f" of {day_words(first.date)}" if first.date is not None else ""
    clauses = []
    for fault, stages in faults.items():
        names = list(dict.fromkeys(stage.stage or "unnamed" for stage in stages))
        clauses.append(f"{fault} in the {' and the '.join(names)} stage")
    field = "energy_assessed" if first.energy_assessed is False else "exclusion_zone"
    concerned = [stage for stages in faults.values() for stage in stages]
    return Finding(
        RULE,
        Outcome.FAIL,
        f"Test {test_id}{on}, with {first.medium}: {'; '.join(clauses)}.",
        RULE.closes,
        Subject("test", test_id),
        first.source.place(field),
        tuple(dict.fromkeys(stage.source.place(field) for stage in concerned[1:20])),
        RULE.whose,
        tuple(sorted({name for stage in concerned for name in stage.section_ids})),
    )


CHECK = Check(RULE, run)
