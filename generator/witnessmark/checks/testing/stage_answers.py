"""From the questions of test verdicts to findings: failures one by one, gaps once a system."""

from collections.abc import Callable, Sequence

from witnessmark.checks.by_system import GapsBySystem
from witnessmark.checks.judgement import Answer
from witnessmark.model.finding import Finding, Outcome, Rule, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import TestStage
from witnessmark.workings.stage_point import Point
from witnessmark.workings.test_verdict import StageVerdict
from witnessmark.workings.work import Workings

PREFIX = "It cannot be told: missing is "


def stage_words(stage: TestStage) -> str:
    """A stage in words, such as 'Test PT-014, attempt 2, strength stage'."""
    attempt = f", attempt {stage.attempt}" if stage.attempt is not None else ""
    name = f", {stage.stage} stage" if stage.stage is not None else ""
    return f"Test {stage.test_id}{attempt}{name}"


def reasons_of(sentence: str) -> list[str]:
    """What is missing, out of a sentence that says so; the sentence itself where it says something else."""
    if not sentence.startswith(PREFIX):
        return [sentence.rstrip(".")]
    return sentence.removeprefix(PREFIX).rstrip(".").split("; ")


def pressures_read(verdict: StageVerdict) -> bool:
    """Whether both pressures are recorded; where one is not, the question on readings tells it."""
    return verdict.stage.start_pressure_bar is not None and verdict.stage.end_pressure_bar is not None


def answers(
    rule: Rule,
    project: Project,
    workings: Workings,
    keys: Sequence[str],
    applies: Callable[[StageVerdict], bool] = lambda _: True,
    remedy: str = "",
) -> Answer:
    """Findings of the questions ``keys`` over all stages that claim a pass, of known sections, and that apply.

    ``remedy`` where more than the record that is missing would close a gap.
    """
    gaps = GapsBySystem(rule, project, "test stage", remedy)
    failed: list[Finding] = []
    examined = 0
    for verdict in workings.verdicts.values():
        if not verdict.counts or not verdict.scope.sections or not applies(verdict):
            continue
        points = [point for key in keys if (point := verdict.answer(key)) is not None]
        if not points:
            continue
        examined += 1
        bad = [point for point in points if point.outcome is Outcome.FAIL]
        if bad:
            failed.append(_failure(rule, verdict.stage, bad))
            continue
        unknown = [point for point in points if point.outcome is Outcome.CANNOT_TELL]
        if unknown:
            gaps.add(
                verdict.scope.system_ids,
                f"{verdict.stage.test_id} ({verdict.stage.stage or 'no stage named'})",
                [reason for point in unknown for reason in reasons_of(point.sentence)],
                verdict.stage.section_ids,
                unknown[0].location,
            )
    return Answer(examined, (*failed, *gaps.findings()))


def _failure(rule: Rule, stage: TestStage, points: list[Point]) -> Finding:
    return Finding(
        rule,
        Outcome.FAIL,
        f"{stage_words(stage)}: {' '.join(point.sentence for point in points)}",
        rule.closes,
        Subject("test", stage.test_id),
        points[0].location or stage.source.location,
        tuple(point.location for point in points[1:] if point.location is not None),
        rule.whose,
        stage.section_ids,
    )
