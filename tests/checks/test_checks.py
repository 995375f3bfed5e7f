"""The list of checks is whole, every rule is documented, and no check can crash, change a record or pass for want of data."""

import ast
import copy
import re
from collections.abc import Callable
from pathlib import Path
from types import ModuleType

import pytest

import witnessmark.checks as checks_package
from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.registry import CHECKS, CRASHED, RULES
from witnessmark.checks.run import judge
from witnessmark.intake.project_reader import read_project
from witnessmark.intake.rules import INFORMATION
from witnessmark.intake.rules import RULES as INTAKE_RULES
from witnessmark.model.finding import Outcome, Rule
from witnessmark.model.threshold import thresholds
from witnessmark.pipeline import Outcome as Pack

Judged = Callable[..., Pack]


def test_every_file_with_a_check_is_in_the_list() -> None:
    root = Path(checks_package.__path__[0])
    with_check = {
        path.relative_to(root)
        for path in root.rglob("*.py")
        if any(
            isinstance(node, ast.Assign) and any(getattr(t, "id", "") == "CHECK" for t in node.targets)
            for node in ast.parse(path.read_text(encoding="utf-8")).body
        )
    }
    listed = {Path(*check.run.__module__.split(".")[2:]).with_suffix(".py") for check in CHECKS}
    assert with_check == listed


def test_a_file_holds_one_check_and_is_named_for_its_fault() -> None:
    """So that whoever reads a slug in a finding finds its file."""
    named = {check.rule.slug: Path(*check.run.__module__.split(".")).name.replace("_", "-") for check in CHECKS}
    assert {slug: file for slug, file in named.items() if slug != file} == {}


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.slug)
def test_every_rule_is_documented_in_plain_sentences(rule: Rule) -> None:
    for part in ("question", "closes", "whose", "what", "why", "example"):
        text = getattr(rule, part)
        assert len(text) > 3, part
        assert text == text.strip(), part
    assert rule.question.endswith("?")
    assert rule.question[0].isupper()
    assert re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", rule.slug)


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.rule.slug)
def test_every_check_shows_an_example_that_passes_and_thresholds_that_exist(check: Check) -> None:
    assert len(check.rule.passes) > 10
    assert check.rule.passes.rstrip().endswith(".")
    assert check.rule.passes != check.rule.example
    for part in ("closes", "what", "why", "example"):
        assert getattr(check.rule, part)[-1] in ".?", part
    assert set(check.rule.thresholds) <= set(thresholds())


def test_every_threshold_is_used_by_a_check() -> None:
    assert set(thresholds()) - {name for check in CHECKS for name in check.rule.thresholds} == set()


def test_slugs_are_used_once() -> None:
    slugs = [rule.slug for rule in RULES]
    assert len(slugs) == len(set(slugs))
    assert not set(slugs) & INFORMATION


FOLDERS = (
    "identity", "structure", "drawing", "sizes", "description", "making", "materials", "rating", "testing", "rework", "water", "valves",
    "handover", "concessions", "documents", "guarantee", "anomalies",
)  # fmt: skip


def test_checks_stand_in_the_order_in_which_a_chain_is_read() -> None:
    """Identity and structure before making, making before materials and testing, the anomalies last; the first broken link is the first in this order."""
    folders = list(dict.fromkeys(check.run.__module__.split(".")[2] for check in CHECKS))
    assert set(folders) <= set(FOLDERS)
    order = [folder for folder in FOLDERS if folder in folders]
    first = {
        folder: next(n for n, c in enumerate(CHECKS) if c.run.__module__.split(".")[2] == folder) for folder in folders
    }
    for earlier, later in (
        ("identity", "making"),
        ("structure", "making"),
        ("making", "testing"),
        ("testing", "water"),
        ("testing", "guarantee"),
    ):
        if earlier in order and later in order:
            assert first[earlier] < first[later], (earlier, later)
    if "anomalies" in folders:
        assert folders[-1] == "anomalies"


def test_every_fault_that_reading_names_is_documented() -> None:
    """A kind that intake names in its code has a rule, or is listed as information."""
    intake = Path(read_project.__code__.co_filename).parent
    named = set()
    makers = {"Fault", "Remark", "UnreadableFile", "FileProblem", "PendingFinding", "TableProblem", "Note", "UnitFault"}
    for path in intake.glob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call):
                name = getattr(node.func, "id", getattr(node.func, "attr", ""))
                if name in makers or name in ("_tell", "refuse"):
                    named |= {
                        a.value
                        for a in node.args
                        if isinstance(a, ast.Constant)
                        and isinstance(a.value, str)
                        and a.value.count("-")
                        and " " not in a.value
                    }
    documented = {rule.slug for rule in INTAKE_RULES} | INFORMATION
    assert len(named) > 60
    assert named - documented == set()


def test_a_check_that_crashes_becomes_a_finding_and_the_others_run(sound: ModuleType, judged: Judged) -> None:
    pack = judged(1, *sound.sound_records(1))

    def crash(_project: object, _workings: object) -> Answer:
        raise RuntimeError("boom")

    broken = Check(CHECKS[0].rule, crash)
    standing_on_it = Check(CHECKS[1].rule, CHECKS[1].run, frozenset({CHECKS[0].rule.slug}))
    judgement = judge(pack.project, pack.workings, (broken, standing_on_it, CHECKS[2]))
    (finding,) = judgement.findings
    assert (finding.rule.slug, finding.subject.id) == (CRASHED.slug, CHECKS[0].rule.slug)
    assert [run.outcome for run in judgement.runs[:2]] == [Outcome.CANNOT_TELL, Outcome.CANNOT_TELL]
    assert judgement.runs[1].skipped


def test_no_check_changes_the_records(sound: ModuleType, judged: Judged) -> None:
    pack = judged(2, *sound.sound_records(2))
    before = copy.deepcopy(pack.project.records)
    judge(pack.project, pack.workings)
    assert pack.project.records == before


def test_asking_twice_gives_the_same_answers(sound: ModuleType, judged: Judged) -> None:
    tables, settings = sound.sound_records(3)
    for row in tables["joints"][::3]:
        row["tool_id"] = row["checker_id"] = ""
    pack = judged(3, tables, settings)
    assert pack.judgement.findings
    assert judge(pack.project, pack.workings).findings == pack.judgement.findings


def test_a_check_with_nothing_to_look_at_is_no_pass(sound: ModuleType, judged: Judged) -> None:
    """A project of one section and nothing else: no check that looked at nothing may show green."""
    tables, settings = sound.sound_records(4)
    pack = judged(4, {"systems": tables["systems"][:1], "sections": tables["sections"][:1]}, settings)
    passed = {run.rule.slug for run in pack.judgement.runs if run.outcome is Outcome.PASS and not run.examined}
    assert passed == set()
    runs = {run.rule.slug: run for run in pack.judgement.runs}
    assert runs["test-without-section"].examined == 0
    assert runs["test-without-section"].outcome is Outcome.CANNOT_TELL


def test_no_finding_names_a_person(sound: ModuleType, judged: Judged) -> None:
    """Findings are passed around: they name operatives by code alone."""
    tables, settings = sound.sound_records(5)
    names = {word for row in tables["operatives"] for word in row["name"].split()}
    for name in ("trainings", "tool_services", "calibrations", "tests", "flushings"):
        del tables[name]
    pack = judged(5, tables, settings)
    words = {
        word for f in pack.judgement.findings for word in re.findall(r"\w+", f"{f.message} {f.remedy} {f.subject.id}")
    }
    assert len(pack.judgement.findings) > 5
    assert words & names == set()
