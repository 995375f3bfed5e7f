"""Ask every check. One that crashes becomes a finding that names it, and the others are asked all the same."""

from collections import Counter

from witnessmark.checks.concession_book import ConcessionBook
from witnessmark.checks.judgement import Check, CheckRun, Judgement, collect
from witnessmark.checks.registry import CHECKS, CRASHED
from witnessmark.model.finding import Finding, Outcome, Subject
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings


def judge(project: Project, workings: Workings, checks: tuple[Check, ...] = CHECKS) -> Judgement:
    """Ask all checks and add what intake found."""
    runs: list[CheckRun] = []
    findings: list[Finding] = list(project.findings)
    broken: set[str] = set()
    concessions = ConcessionBook(project)
    for check in checks:
        if check.awaits:
            runs.append(CheckRun(check.rule, 0, 0, 0, 0, f"it needs {check.awaits}"))
            continue
        blocked = sorted(check.requires & broken)
        if blocked:
            runs.append(CheckRun(check.rule, 0, 0, 0, 0, f"it stands on {', '.join(blocked)}, which failed"))
            continue
        try:
            answer = check.run(project, workings)
        except Exception as error:
            broken.add(check.rule.slug)
            runs.append(CheckRun(check.rule, 0, 0, 0, 0, "it could not run"))
            findings.append(_crashed(check, error))
            continue
        answered = [concessions.applied(finding) for finding in answer.findings]
        counts = Counter(finding.outcome for finding in answered)
        if counts[Outcome.FAIL]:
            broken.add(check.rule.slug)
        runs.append(
            CheckRun(
                check.rule, answer.examined, counts[Outcome.FAIL], counts[Outcome.CANNOT_TELL], counts[Outcome.WAIVED]
            )
        )
        findings.extend(answered)
    return collect(runs, findings)


def _crashed(check: Check, error: Exception) -> Finding:
    return Finding(
        CRASHED,
        Outcome.CANNOT_TELL,
        f"Check {check.rule.slug} could not run: {type(error).__name__}.",
        CRASHED.closes,
        Subject("check", check.rule.slug),
        whose=CRASHED.whose,
    )
