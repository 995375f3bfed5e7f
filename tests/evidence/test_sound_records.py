"""Records in which everything is right amount to a complete chain, shown conditions and a full matrix."""

import importlib.util
import sys
from collections.abc import Callable
from pathlib import Path
from types import ModuleType

import pytest

from witnessmark.evidence.chain import ChainState
from witnessmark.evidence.completeness import CellState
from witnessmark.evidence.guarantee_evidence import ConditionState
from witnessmark.pipeline import Outcome, run


@pytest.fixture(scope="module")
def sound_outcome(tmp_path_factory: pytest.TempPathFactory) -> Callable[[int], Outcome]:
    """Reads, works out and judges the made-up project of a seed."""
    name = "sound_project.sound"
    if name not in sys.modules:
        place = Path(__file__).parents[1] / "checks" / "sound.py"
        spec = importlib.util.spec_from_file_location(name, place)
        assert spec is not None
        assert spec.loader is not None
        module: ModuleType = importlib.util.module_from_spec(spec)
        sys.modules[name] = module
        spec.loader.exec_module(module)
    sound = sys.modules[name]

    def make(seed: int) -> Outcome:
        folder = tmp_path_factory.mktemp(f"sound-{seed}")
        sound.write_project(folder, *sound.sound_records(seed))
        return run(folder)

    return make


@pytest.mark.parametrize("seed", [1, 2])
def test_sound_records_amount_to_complete_evidence(sound_outcome: Callable[[int], Outcome], seed: int) -> None:
    """Photos are the one kind of record that no question asks of every section."""
    outcome = sound_outcome(seed)
    evidence = outcome.evidence
    assert evidence.chain.pack.state in (ChainState.COMPLETE, ChainState.CONCEDED), evidence.chain.pack.sentence
    assert set(evidence.chain.system_states.values()) <= {ChainState.COMPLETE, ChainState.CONCEDED}
    assert evidence.readiness.supports
    assert evidence.readiness.actions == ()
    for material in evidence.guarantee.materials:
        assert material.rows
        assert {(row.need, row.state) for row in material.rows if row.state is not ConditionState.SHOWN} == set()
    gaps = {
        (cell.record_type, cell.words)
        for row in evidence.completeness.rows
        for cell in row.cells
        if cell.state not in (CellState.PRESENT, CellState.NOT_APPLICABLE) and cell.record_type != "photo"
    }
    assert gaps == set()


def test_parts_are_worked_out_only_when_asked_for(sound_outcome: Callable[[int], Outcome]) -> None:
    outcome = sound_outcome(1)
    assert set(vars(outcome.evidence)) == {"project", "workings", "judgement"}
    assert outcome.evidence.readiness is outcome.evidence.readiness
