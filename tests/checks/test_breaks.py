"""Every check finds the one thing that was broken in a random sound project, and nothing else fires that should not.

``breaks/*.py`` hold ``BREAKS``: slug -> (function, outcome, slugs that rightly fire along). The function changes one thing
in ``tables`` and ``settings`` and returns the ids of the subjects that the check must name.
"""

import importlib.util
import random
from collections.abc import Callable
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

from witnessmark.checks.registry import CHECKS
from witnessmark.evidence.chain import ChainBook
from witnessmark.pipeline import Outcome

Break = tuple[Callable[..., set[str]], str, set[str]]
Judged = Callable[..., Outcome]
POOL = 8
"""Seeds of the projects that get broken."""


def _loaded() -> dict[str, list[Break]]:
    found: dict[str, list[Break]] = {}
    for path in sorted(Path(__file__).with_name("breaks").glob("*.py")):
        spec = importlib.util.spec_from_file_location(f"breaks_{path.stem}", path)
        assert spec is not None
        assert spec.loader is not None
        module = importlib.util.module_from_spec(spec)
        spec.loader.exec_module(module)
        for slug, case in module.BREAKS.items():
            found.setdefault(slug, []).append(case)
    return found


BREAKS = _loaded()
CASES = [
    pytest.param(slug, seed, id=f"{slug}-{seed}")
    for slug in BREAKS
    for seed in sorted(random.Random(slug).sample(range(POOL), 3))
]


def told(outcome: Outcome) -> list[tuple[str, str, str, str]]:
    """Findings as (slug, outcome, subject, message)."""
    return [(f.rule.slug, f.outcome.value, f.subject.id, f.message) for f in outcome.judgement.findings]


@pytest.mark.parametrize(("slug", "seed"), CASES)
def test_a_check_finds_the_one_thing_that_was_broken(slug: str, seed: int, sound: ModuleType, judged: Judged) -> None:
    break_it, expected, along = BREAKS[slug][0]
    tables, settings = sound.sound_records(seed)
    subjects = break_it(tables, settings, random.Random(f"{slug} {seed}"))
    assert subjects, "a break names the subjects that the check must find"
    findings = told(judged(seed, tables, settings))
    own = [finding for finding in findings if finding[0] == slug]
    assert {(outcome, subject) for _, outcome, subject, _ in own} == {(expected, subject) for subject in subjects}, own
    others = [finding for finding in findings if finding[0] != slug and finding[0] not in along]
    assert others == []


def test_every_check_has_one_break() -> None:
    asked = {check.rule.slug for check in CHECKS if not check.awaits}
    assert {slug for slug, cases in BREAKS.items() if len(cases) > 1} == set()
    assert asked - BREAKS.keys() == set()
    assert BREAKS.keys() - asked == set()


def test_along_names_only_rules_that_exist() -> None:
    from witnessmark.checks.registry import RULES

    known = {rule.slug for rule in RULES}
    assert {slug: along - known for slug, [(_, _, along), *_] in BREAKS.items() if along - known} == {}


def test_records_in_which_everything_is_right_give_no_finding(sound: ModuleType, judged: Judged) -> None:
    found, looked_at = {}, set()
    for seed in range(100, 120):
        outcome = judged(seed, *sound.sound_records(seed))
        if told(outcome):
            found[seed] = told(outcome)
        looked_at |= {run.rule.slug for run in outcome.judgement.runs if run.examined}
    assert found == {}
    asked = {check.rule.slug for check in CHECKS if not check.awaits}
    assert asked - looked_at == set(), "checks that had nothing to look at were not tried"


@pytest.mark.parametrize("seed", range(100, 103))
@pytest.mark.parametrize("state", ["sound", "broken"])
def test_the_order_of_rows_changes_nothing(state: str, seed: int, sound: ModuleType, judged: Judged) -> None:
    tables, settings = sound.sound_records(seed)
    rng = random.Random(seed)
    if state == "broken":
        break_many(tables, settings, rng)
    before = fingerprint(judged(seed, tables, settings))
    for rows in tables.values():
        rng.shuffle(rows)
    after = fingerprint(judged(seed, tables, settings))
    assert after == before


# Of two rows that contradict each other under one id the first is taken and the finding says so: there order matters.
ORDER_MATTERS = frozenset({"joint-id-used-twice"})


def break_many(tables: dict[str, Any], settings: dict[str, Any], rng: random.Random) -> list[str]:
    """Break twenty things at once, passing over breaks that find no row left to break; the slugs broken."""
    done = []
    for slug in rng.sample(sorted(BREAKS.keys() - ORDER_MATTERS), min(20, len(BREAKS))):
        try:
            BREAKS[slug][0][0](tables, settings, rng)
        except (IndexError, KeyError, StopIteration, ValueError):
            continue
        done.append(slug)
    return done


def fingerprint(outcome: Outcome) -> dict[str, Any]:
    """All that must not depend on the order of rows."""
    chains = ChainBook(outcome.project, outcome.judgement)
    return {
        "findings": sorted(
            (
                f.rule.slug,
                f.outcome.value,
                f.subject.kind,
                f.subject.id,
                f.message,
                f.remedy,
                sorted(f.section_ids),
                sorted(f.joint_ids),
            )
            for f in outcome.judgement.findings
        ),
        "joints": chains.joint_states,
        "sections": chains.section_states,
        "systems": chains.system_states,
        "pack": chains.pack.state,
    }
