"""The clean twin gives no finding; each fault alone is found by the checks that planted.csv names, and no other."""

from __future__ import annotations

import csv
import io
import pickle
import sys
from pathlib import Path

import pytest

from witnessmark.checks.registry import RULES
from witnessmark.model.finding import Finding
from witnessmark.pipeline import Outcome, run

DEMO = Path(__file__).resolve().parents[2] / "demo_project"
sys.path.insert(0, str(DEMO))

from maker import write  # noqa: E402

# What a demo of such records has to hold; common practice, no published source.
WANTED = {
    "strength-test-before-last-press", "no-low-pressure-stage", "tee-logged-as-one-row", "dn20-without-material",
    "date-could-be-two", "merged-section-cell", "gauge-due-between-two-tests", "gauge-range-too-wide",
    "jaw-of-another-profile", "trained-the-day-after", "initials-of-two-people", "copper-upstream-of-carbon-steel",
    "epdm-on-compressed-air", "riser-tested-at-the-base-only", "same-readings-on-five-certificates",
    "one-photo-on-two-joints", "pressed-again-as-repair", "rework-after-test-without-retest",
    "boundary-joint-in-no-test",
    "valve-swapped-after-completion", "guarantee-registered-late", "name-and-signature-for-facilities",
    "tag-code-missing-in-later-issue", "vapour-barrier-never-inspected", "filled-seven-weeks-before-treatment",
    "concession-out-of-date", "snag-closed-without-retest",
}  # fmt: skip


class Workplace:
    """A project folder that is written again and again: only what changed."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.clean = pickle.dumps(write.clean_building())
        self.there: dict[str, bytes] = {}

    def with_fault(self, name: str | None) -> tuple[Outcome, list[dict[str, str]]]:
        """What the program says of the clean twin with one fault, and what planted.csv says of the fault."""
        building = pickle.loads(self.clean)
        if name is not None:
            write.plant(building, name)
        files = write.faulty_files(building) | {"records/tags.csv": write.CODES.read_bytes()}
        for gone in self.there.keys() - files.keys():
            (self.folder / gone).unlink()
        for path, content in files.items():
            if self.there.get(path) != content:
                (self.folder / path).parent.mkdir(parents=True, exist_ok=True)
                (self.folder / path).write_bytes(content)
        self.there = files
        return run(self.folder), list(csv.DictReader(io.StringIO(files["planted.csv"].decode())))


@pytest.fixture(scope="module")
def workplace(tmp_path_factory: pytest.TempPathFactory) -> Workplace:
    return Workplace(tmp_path_factory.mktemp("faults"))


@pytest.fixture(scope="module")
def planted() -> list[dict[str, str]]:
    with (DEMO / "planted.csv").open(encoding="utf-8", newline="") as handle:
        return list(csv.DictReader(handle))


def slugs(text: str) -> set[str]:
    """The checks in a cell of planted.csv."""
    return {slug.strip() for slug in text.split(";") if slug.strip()}


def places(finding: Finding) -> set[tuple[str, int]]:
    """File and row of every place that a finding names."""
    locations = (finding.location, *finding.related)
    return {(place.file, place.row) for place in locations if place is not None and place.row is not None}


def test_the_clean_twin_gives_no_finding(workplace: Workplace) -> None:
    outcome, _ = workplace.with_fault(None)
    assert [(finding.rule.slug, finding.message) for finding in outcome.judgement.findings] == []
    unasked = [run.rule.slug for run in outcome.judgement.runs if "could not" in (run.skipped or "")]
    assert unasked == []


@pytest.mark.parametrize("name", write.fault_names())
def test_a_fault_alone_is_found_by_its_checks_and_by_no_other(workplace: Workplace, name: str) -> None:
    outcome, rows = workplace.with_fault(name)
    assert {row["fault"] for row in rows} == {name}
    findings = outcome.judgement.findings
    told = [(finding.rule.slug, finding.message) for finding in findings]
    assert {finding.rule.slug for finding in findings} == slugs(rows[0]["checks"]), told
    named = {place for finding in findings for place in places(finding)}
    subjects = {finding.subject.id for finding in findings}
    for row in rows:
        if row["row"]:
            assert (row["file"], int(row["row"])) in named or _ids(workplace, row) & subjects, (row, told)
        else:
            assert any(finding.location and finding.location.file == row["file"] for finding in findings), told


def _ids(workplace: Workplace, row: dict[str, str]) -> set[str]:
    lines = list(csv.reader(io.StringIO(workplace.there[row["file"]].decode())))
    return {lines[int(row["row"]) - 1][0]}


@pytest.fixture(scope="module")
def untidy() -> Outcome:
    return run(DEMO)


def test_every_planted_fault_is_found_in_the_site_files(untidy: Outcome, planted: list[dict[str, str]]) -> None:
    found = {finding.rule.slug for finding in untidy.judgement.findings}
    assert {row["fault"]: slugs(row["checks"]) - found for row in planted if slugs(row["checks"]) - found} == {}
    assert WANTED - {row["fault"] for row in planted} == set()


def test_planted_checks_are_rules_of_the_program(planted: list[dict[str, str]]) -> None:
    known = {rule.slug for rule in RULES}
    assert {slug for row in planted for slug in slugs(row["checks"])} - known == set()


def test_a_cell_that_nobody_may_guess_is_told_where_it_stands(untidy: Outcome, planted: list[dict[str, str]]) -> None:
    alone = set(write.fault_names())
    cells = [row for row in planted if row["fault"] not in alone and row["checks"] and row["row"]]
    assert len({row["fault"] for row in cells}) >= 12
    told: dict[tuple[str, int], set[str]] = {}
    for finding in untidy.judgement.findings:
        for place in places(finding):
            told.setdefault(place, set()).add(finding.rule.slug)
    missed = {
        (row["fault"], row["row"])
        for row in cells
        if not slugs(row["checks"]) & told.get((row["file"], int(row["row"])), set())
    }
    assert missed == set()


def test_one_fault_can_be_written_from_the_command_line(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    import make_demo

    assert make_demo.main([str(tmp_path / "one"), "--fault", "concession-out-of-date"]) == 0
    rows = list(csv.DictReader(io.StringIO((tmp_path / "one" / "planted.csv").read_text(encoding="utf-8"))))
    assert [row["fault"] for row in rows] == ["concession-out-of-date"]
    assert make_demo.main([str(tmp_path / "two"), "--fault", "no-such-fault"]) == 2
    assert "There is no fault no-such-fault" in capsys.readouterr().err
    assert not (tmp_path / "two").exists()
