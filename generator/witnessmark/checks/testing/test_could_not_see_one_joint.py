"""A test could not have seen one unpressed joint."""

from collections import defaultdict

from witnessmark.checks.by_system import GapsBySystem
from witnessmark.checks.judgement import Answer, Check
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.workings.section_rating import worst
from witnessmark.workings.test_sensitivity import TestSensitivity
from witnessmark.workings.test_verdict import StageVerdict
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="test-could-not-see-one-joint",
    question="Could every test have seen one unpressed joint?",
    severity=Severity.WEAKENS,
    closes="Test again: hold longer, test less at once, use a finer gauge, or vent the air; the test's page says how much.",
    whose="the contractor handing over",
    what="The smallest leak that the best stage of each test could show, by content, wall, trapped air, hold and the "
    "smallest drop that its gauge and procedure can tell from none, against one drop a second.",
    why="A large section with trapped air gives way to a leak without the gauge moving. Eyes on every joint during the "
    "hold might see it; the record does not.",
    example="1 200 L held for 15 min on a gauge with steps of 0.2 bar: nothing under 7 mL/min shows, and a joint that "
    "drips once a second loses 3.",
    passes="61 L held for 60 min on a gauge with steps of 0.05 bar: a joint that drips once a second shows.",
)


def run(project: Project, workings: Workings) -> Answer:
    """Look at every attempt that claims a pass: its best stage counts."""
    attempts: dict[tuple[str, int | None], list[tuple[StageVerdict, TestSensitivity]]] = defaultdict(list)
    for place, sensitivity in workings.sensitivities.items():
        verdict = workings.verdicts[place]
        if verdict.counts and verdict.scope.sections:
            attempts[verdict.stage.test_id, verdict.stage.attempt].append((verdict, sensitivity))
    failed_attempts = {
        (verdict.stage.test_id, verdict.stage.attempt) for verdict in workings.verdicts.values() if not verdict.counts
    }
    gaps = GapsBySystem(RULE, project, "test")
    findings: list[Finding] = []
    examined = 0
    for key, stages in attempts.items():
        if key in failed_attempts:
            continue
        examined += 1
        outcomes = [sensitivity.outcome for _, sensitivity in stages]
        if Outcome.PASS in outcomes:
            continue
        best = Outcome.CANNOT_TELL if Outcome.CANNOT_TELL in outcomes else worst(outcomes)
        verdict, sensitivity = next(pair for pair in reversed(stages) if pair[1].outcome is best)
        stage = verdict.stage
        if best is Outcome.CANNOT_TELL and not sensitivity.remedies:
            missing = [*sensitivity.smallest_leak_vented.missing, *sensitivity.smallest_leak_with_air.missing]
            gaps.add(verdict.scope.system_ids, stage.test_id, missing, stage.section_ids, stage.source.location)
            continue
        able = " ".join(remedy.sentence for remedy in sensitivity.remedies)
        findings.append(
            Finding(
                RULE,
                best,
                f"Test {stage.test_id}, attempt {stage.attempt}: {sensitivity.sentence} Any one of these would do: {able}",
                RULE.closes,
                Subject("test", stage.test_id),
                stage.source.location,
                (),
                RULE.whose,
                stage.section_ids,
            )
        )
    return Answer(examined, (*findings, *gaps.findings()))


CHECK = Check(RULE, run)
