"""A witness came from an organisation that may not send one."""

from collections import defaultdict

from witnessmark.checks.by_system import GapsBySystem
from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.testing.witnessed_stages import systems_of, witnessed_stages
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import TestStage
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="witness-of-another-organisation",
    question="Did every witness come from an organisation that may send one?",
    severity=Severity.WEAKENS,
    closes="Correct the organisation from the certificate, or add it to 'witness' in project.yml if the client agreed to it; "
    "else test again with the right witness.",
    whose="the contractor handing over",
    what="The organisation of the witness against those that project.yml lists under 'witness'. Where none is listed, nothing "
    "is asked; tests without a witness are another question.",
    why="A witness of the firm that was tested is no witness.",
    example="The witness of 3 tests came from 'MECH-1', the first of them PT-014; project.yml lists 'Client, clerk of works'.",
    passes="PT-014 was witnessed by 'Client, clerk of works', which project.yml lists.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every witnessed stage; one finding an organisation, gaps once a system."""
    listed = {name.strip().casefold() for name in project.settings.witness.organisations}
    if not listed:
        return Answer(0, ())
    gaps = GapsBySystem(RULE, project, "test")
    others: dict[str, list[TestStage]] = defaultdict(list)
    examined = 0
    for stage in witnessed_stages(project):
        if not stage.witness:
            continue
        examined += 1
        if not stage.witness_organisation:
            place = stage.source.place("witness_organisation")
            gaps.add(
                systems_of(project, stage), stage.test_id, ["the organisation of the witness"], stage.section_ids, place
            )
        elif stage.witness_organisation.strip().casefold() not in listed:
            others[stage.witness_organisation.strip()].append(stage)
    findings = [_finding(project, name, stages) for name, stages in sorted(others.items())]
    return Answer(examined, (*findings, *gaps.findings()))


def _finding(project: Project, organisation: str, stages: list[TestStage]) -> Finding:
    tests = sorted({stage.test_id for stage in stages})
    who = f"test {tests[0]}" if len(tests) == 1 else f"{len(tests)} tests"
    first = "" if len(tests) == 1 else f", the first of them {tests[0]}"
    allowed = " and ".join(f"'{name}'" for name in project.settings.witness.organisations)
    places = [stage.source.place("witness_organisation") for stage in stages]
    return Finding(
        RULE,
        Outcome.FAIL,
        f"The witness of {who} came from '{organisation}'{first}; project.yml lists {allowed}.",
        RULE.closes,
        Subject("organisation", organisation),
        places[0],
        tuple(places[1:20]),
        RULE.whose,
        tuple(sorted({name for stage in stages for name in stage.section_ids})),
    )


CHECK = Check(RULE, run)
