"""A section was opened after its last test."""

from collections.abc import Sequence

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.rework.openings import DONE, WATCHED_MIN, Opening, Openings, unwatched, watched
from witnessmark.checks.testing.proving_tests import ProvingTests, in_time_order, proving_tests
from witnessmark.model.day_words import day_words
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Alteration
from witnessmark.model.source import SourceLocation
from witnessmark.model.threshold import limit
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="altered-after-the-last-test",
    question="Was every section tested again after each change that opened it?",
    severity=Severity.BREAKS,
    closes="Test the section again; or watch the joints of the change under service pressure and record it.",
    whose="the contractor handing over",
    what="Alterations that open the pipe: a joint cut out, replaced or pressed again, a valve changed, a section split, "
    "merged or taken out, a closure joint. Every section in place that each touches needs a passed strength test after it, "
    "or a record that the joints were watched under service pressure and seen dry. On one day the times decide.",
    why="Whatever was made or moved after the test has never been under its pressure.",
    example="A valve was changed on 14 May 2026 (alteration AL-03) in section S1, whose last strength test, PT-014, was on "
    "9 May 2026.",
    passes="A valve was changed in section S1 on 14 May 2026 (alteration AL-03); strength test PT-021 was on 15 May 2026.",
    thresholds=(WATCHED_MIN,),
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every alteration that opens the pipe; one finding an alteration and outcome."""
    proving = proving_tests(project)
    openings = Openings(project, proving)
    findings: list[Finding] = []
    for change in openings.changes:
        touched = openings.by_alteration[change.alteration_id]
        if not touched:
            if not _all_taken_out(project, change):
                findings.append(_of_nothing(change))
            continue
        # A section without any passed test is asked for by another question.
        tested = [opening for opening in touched if proving.of(opening.section_id)]
        for outcome in (Outcome.FAIL, Outcome.CANNOT_TELL):
            group = [opening for opening in tested if opening.outcome is outcome]
            if group:
                findings.append(_finding(project, proving, group, outcome))
    return Answer(len(openings.changes), tuple(findings))


def _all_taken_out(project: Project, change: Alteration) -> bool:
    named = (*change.section_ids, *change.into_section_ids)
    return any(name in project.sections for name in named)


def _of_nothing(change: Alteration) -> Finding:
    return Finding(
        RULE,
        Outcome.CANNOT_TELL,
        f"{DONE[change.kind or '']} (alteration {change.alteration_id}), and its row names no section, joint or valve that is "
        "in the records: it cannot be told what has to be tested again.",
        "Write the sections and joints that it touches in the row of the alteration.",
        Subject("alteration", change.alteration_id),
        change.source.place("section_ids"),
        (),
        "whoever keeps the records",
    )


def _finding(project: Project, proving: ProvingTests, group: Sequence[Opening], outcome: Outcome) -> Finding:
    change = group[0].alteration
    names = sorted(opening.section_id for opening in group)
    more = f" and {len(names) - 4} more" if len(names) > 4 else ""
    sections = f"section {names[0]}" if len(names) == 1 else f"sections {', '.join(names[:4])}{more}"
    on = f" on {day_words(change.date)}" if change.date is not None else ""
    done = f"{DONE[change.kind or '']}{on} (alteration {change.alteration_id}) in {sections}"
    tests = in_time_order({id(test): test for opening in group for test in opening.tests}.values())
    stage = proving.stage_name(names[0])
    place = change.source.place("date")
    remedy = RULE.closes
    if not tests:
        words = f"no passed {stage} test there covers its joints"
    else:
        day = day_words(tests[-1].date) if tests[-1].date is not None else "a day that is not recorded"
        words = f"the last {stage} test there, {tests[-1].test_id}, was on {day}"
    if outcome is Outcome.FAIL:
        message = f"{done}; {words}.{_watch_words(project, change)}"
    else:
        missing, place, remedy = _missing(change, tests[-1].date is None if tests else False)
        message = f"{done}; {words}. It cannot be told whether that is enough: the records do not give {missing}."
    return Finding(
        RULE,
        outcome,
        message,
        remedy,
        Subject("alteration", change.alteration_id),
        place,
        tuple(test.source.place("date") for test in tests[-20:]),
        RULE.whose,
        tuple(names),
        tuple(dict.fromkeys(change.joint_ids)),
    )


def _watch_words(project: Project, change: Alteration) -> str:
    if watched(project, change) is None:
        return " No later test is recorded."
    if change.seen_dry is False:
        return " While it was watched its joints were not all seen dry."
    if change.watched_bar == 0:
        return " It was watched without pressure."
    asked = limit(project.settings, WATCHED_MIN)
    return f" It was watched for {change.watched_min:g} min; asked for are {asked:g} min, or a test."


def _missing(change: Alteration, test_undated: bool) -> tuple[str, SourceLocation, str]:
    source = change.source
    if change.date is None:
        return "the day of the work", source.place("date"), "Write the day of the work, or test the section again."
    gaps = unwatched(change)
    if gaps and (change.kind == "closure_joint" or len(gaps) < 3):
        field = (
            "watched_bar" if change.watched_bar is None else "watched_min" if change.watched_min is None else "seen_dry"
        )
        return (
            " and ".join(gaps),
            source.place(field),
            "Write it in the row of the alteration, or test the section again.",
        )
    if test_undated:
        return "the day of that test", source.place("date"), "Write the day of the test, from its certificate."
    return (
        "both times, of the work and of the start of the test, which were on one day",
        source.place("time"),
        "Write both times, from day sheet and certificate, or test the section again.",
    )


CHECK = Check(RULE, run)
