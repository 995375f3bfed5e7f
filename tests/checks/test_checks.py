"""Every check finds its fault and leaves sound records alone; the records under test stand beside the check."""

import ast
import copy
from pathlib import Path

import pytest

import witnessmark.checks as checks_package
from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.registry import CHECKS, RULES
from witnessmark.checks.run import judge
from witnessmark.intake.project_reader import read_project
from witnessmark.intake.rules import INFORMATION
from witnessmark.intake.rules import RULES as INTAKE_RULES
from witnessmark.model.finding import Outcome
from witnessmark.workings.work import work

SETTINGS = """\
project: {id: T-1, name: Test project, time_zone: Europe/London, completion_date: 2026-06-12}
issue: {number: P01, date: 2026-05-15}
tags: {host: tags.example}
guarantee: {copper: {years: 30, basis: completion}}
testing: {heating_flow: wet}
procedures:
  wet:
    title: Water test at 1.5 times the maximum operating pressure
    source: Invented specification
    stages:
      - {stage: strength, medium: water, basis: mop, factor: 1.5, cap_bar: 16, settle_min: 30, hold_min: 60,
         allowed_drop_bar: 0}
"""
SYSTEMS = (
    "system_id,name,service,medium,max_operating_pressure_bar,max_temperature_c,max_design_pressure_bar,"
    "min_temperature_c,upset_temperature_c\n"
    "H,Heating,heating_flow,treated_water,3,80,6,10,95\n"
)
_SECTION_COLUMNS = "section_id,system_id,expected_ends,system_family,seal,elevation_low_m,elevation_high_m\n"
SECTIONS = _SECTION_COLUMNS + "S1,H,2,FAM-C,EPDM,0,20\n"
TUBES = "section_id,material,od_mm,wall_mm,length_m\nS1,copper,22,0.9,4\n"
JOINTS = (
    "joint_id,section_id,unit_of_count,fitting_kind,od_mm,material_tube\n"
    "J1-A,S1,end,elbow,22,copper\nJ1-B,S1,end,elbow,22,copper\n"
)
RATINGS = (
    "rating_id,component,applies_to,temperature_c,pressure_bar\n"
    "R-F,fitting,FAM-C,-20,16\nR-F,fitting,FAM-C,110,10\nR-S,seal,EPDM,-20,16\nR-S,seal,EPDM,110,16\n"
)
TESTS = (
    "test_id,attempt,stage,section_ids,procedure,medium,required_pressure_bar,start_pressure_bar,end_pressure_bar,date,"
    "start_time,end_time,settle_min,hold_min,pipe_start_c,pipe_end_c,instrument_id,gauge_elevation_m,topped_up,"
    "joints_inspected,result\n"
    "PT-1,1,strength,S1,wet,water,4.5,6.5,6.5,2026-03-02,10:00,11:00,30,60,12,12,G-1,0,no,yes,pass\n"
)
INSTRUMENTS = "instrument_id,serial,range_min_bar,range_max_bar,class_percent,resolution_bar\nG-1,GA-1,0,10,1.0,0.1\n"
CALIBRATIONS = "instrument_id,serial_on_certificate,calibrated_on,due_on,result\nG-1,GA-1,2026-01-05,2027-01-05,pass\n"
SOUND = {
    "systems": SYSTEMS,
    "sections": SECTIONS,
    "tubes": TUBES,
    "joints": JOINTS,
    "ratings": RATINGS,
    "tests": TESTS,
    "instruments": INSTRUMENTS,
    "calibrations": CALIBRATIONS,
}

# slug -> (tables that differ from the sound records, what project.yml adds, subjects found, outcome)
CASES: dict[str, tuple[dict[str, str], str, list[str], Outcome]] = {
    "joint-id-used-twice": ({"joints": JOINTS + "J1-B,S1,end,elbow,28,copper\n"}, "", ["J1-B"], Outcome.FAIL),
    "ids-differ-only-in-case": ({"sections": SECTIONS + "s1,H,0,FAM-C,EPDM,0,20\n"}, "", ["s1"], Outcome.FAIL),
    "tag-code-miswritten": ({"tags": "code,section_id,first_issue\nF7KX2MR,S1,P01\n"}, "", ["F7KX2MR"], Outcome.FAIL),
    "joint-without-section": ({"joints": JOINTS + "J2-A,S9,end,cap,22,copper\n"}, "", ["J2-A"], Outcome.CANNOT_TELL),
    "section-without-system": ({"sections": SECTIONS + "S2,,0,FAM-C,EPDM,0,20\n"}, "", ["S2"], Outcome.CANNOT_TELL),
    "section-without-joints": ({"sections": SECTIONS + "S2,H,8,FAM-C,EPDM,0,20\n"}, "", ["S2"], Outcome.CANNOT_TELL),
    "test-without-section": (
        {"tests": "test_id,attempt,stage,section_ids\nPT-1,1,strength,all L3\n"}, "", ["PT-1"], Outcome.CANNOT_TELL,
    ),
    "ends-do-not-add-up": ({"sections": SECTIONS.replace("S1,H,2", "S1,H,3")}, "", ["S1"], Outcome.FAIL),
    "fitting-end-missing": ({"joints": JOINTS + "J2-A,S1,end,tee,22,copper\n"}, "", ["J2-A"], Outcome.FAIL),
    "ends-not-recorded-one-by-one": (
        {"joints": JOINTS.replace("J1-B,S1,end", "J1-B,S1,")}, "", ["S1"], Outcome.CANNOT_TELL,
    ),
    "joint-size-unknown": ({"joints": JOINTS.replace("B,S1,end,elbow,22", "B,S1,end,elbow,")}, "", ["J1-B"], Outcome.CANNOT_TELL),
    "tube-content-unknown": ({"tubes": "section_id,material,od_mm,length_m\nS1,copper,22,4\n"}, "", ["S1"], Outcome.CANNOT_TELL),
    "system-not-described": ({"systems": SYSTEMS.replace("3,80", "3,")}, "", ["H"], Outcome.CANNOT_TELL),
    "pressure-above-rating": ({"ratings": RATINGS.replace("110,10", "110,4")}, "", ["S1"], Outcome.FAIL),
    "seal-not-for-medium": (
        {"systems": SYSTEMS.replace("treated_water", "natural_gas")}, "", ["S1"], Outcome.FAIL,
    ),
    "test-procedure-not-declared": (
        {"tests": TESTS.replace(",wet,", ",as usual,")}, "", ["H"], Outcome.CANNOT_TELL,
    ),
    # The gauge at the foot of 20 m of water: 4.6 bar there is 2.6 bar at the top.
    "test-pressure-not-reached": ({"tests": TESTS.replace("6.5,6.5", "4.6,4.6")}, "", ["PT-1"], Outcome.FAIL),
    "test-pressure-above-rating": ({"ratings": RATINGS.replace("16\n", "6\n")}, "", ["PT-1"], Outcome.FAIL),
    "test-readings-missing": ({"tests": TESTS.replace("6.5,6.5", "6.5,")}, "", ["PT-1"], Outcome.FAIL),
    "hold-too-short": ({"tests": TESTS.replace("11:00", "10:20")}, "", ["PT-1"], Outcome.FAIL),
    "drop-beyond-tolerance": ({"tests": TESTS.replace("6.5,6.5", "6.5,6.1")}, "", ["PT-1"], Outcome.FAIL),
    "zero-drop-with-temperature-change": (
        {"tests": TESTS.replace(",12,12,", ",12,18,")}, "", ["PT-1"], Outcome.FAIL,
    ),
    "test-could-not-see-one-joint": (
        {"tubes": TUBES.replace("22,0.9,4", "108,1.5,5000")}, "", ["PT-1"], Outcome.FAIL,
    ),
    "gauge-not-in-calibration": (
        {"calibrations": CALIBRATIONS.replace("2027-01-05", "2026-02-05")}, "", ["G-1"], Outcome.FAIL,
    ),
    "gauge-unfit": ({"instruments": INSTRUMENTS.replace("0,10,1.0,0.1", "0,40,1.6,0.5")}, "", ["PT-1"], Outcome.FAIL),
    "certificate-differs-from-trace": (
        {
            "tests": TESTS.replace("result\n", "result,document_id\n").replace(",pass\n", ",pass,D-1\n"),
            "documents": "document_id,file,title,kind\nD-1,trace.csv,Trace,logger_file\n",
        },
        "", ["PT-1"], Outcome.FAIL,
    ),
    "guarantee-dates-unknown": ({"tubes": TUBES.replace("copper", "carbon_steel")}, "", ["S1"], Outcome.CANNOT_TELL),
}  # fmt: skip


# A section that held 5.1 bar, where the certificate says 6.5 bar.
TRACE = "Time,Pressure (bar)\n" + "".join(
    f"2026-03-02 {10 + minute // 60}:{minute % 60:02d}:00,5.1\n" for minute in range(70)
)


def judged(folder: Path, tables: dict[str, str], yml: str) -> list[tuple[str, str, Outcome]]:
    (folder / "records").mkdir()
    (folder / "documents").mkdir()
    (folder / "documents" / "trace.csv").write_text(TRACE, encoding="utf-8")
    (folder / "project.yml").write_text(SETTINGS + yml, encoding="utf-8")
    for name, text in {**SOUND, **tables}.items():
        (folder / "records" / f"{name}.csv").write_text(text, encoding="utf-8")
    project = read_project(folder)
    judgement = judge(project, work(project))
    checks = {check.rule.slug for check in CHECKS}
    return [(f.rule.slug, f.subject.id, f.outcome) for f in judgement.findings if f.rule.slug in checks]


@pytest.mark.parametrize("slug", CASES)
def test_a_check_finds_its_fault(slug: str, tmp_path: Path) -> None:
    tables, yml, subjects, outcome = CASES[slug]
    found = judged(tmp_path, tables, yml)
    assert [(s, o) for name, s, o in found if name == slug] == [(subject, outcome) for subject in subjects]


def test_sound_records_give_no_finding(tmp_path: Path) -> None:
    assert judged(tmp_path, {}, "") == []


def test_every_check_has_a_case() -> None:
    assert set(CASES) == {check.rule.slug for check in CHECKS}


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


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.slug)
def test_every_rule_is_documented_in_plain_sentences(rule: object) -> None:
    for part in ("question", "closes", "whose", "what", "why", "example"):
        text = getattr(rule, part)
        assert len(text) > 3, part
    assert getattr(rule, "question").endswith("?")  # noqa: B009  # the rule comes as an object so that ids stay readable
    slug = getattr(rule, "slug")  # noqa: B009  # the same
    assert slug == slug.lower()
    assert " " not in slug


def test_slugs_are_used_once() -> None:
    slugs = [rule.slug for rule in RULES]
    assert len(slugs) == len(set(slugs))
    assert not set(slugs) & INFORMATION


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


def test_a_check_that_crashes_becomes_a_finding_and_the_others_run(tmp_path: Path) -> None:
    judged(tmp_path, {}, "")
    project = read_project(tmp_path)

    def crash(_project: object, _workings: object) -> Answer:
        raise RuntimeError("boom")

    broken = Check(CHECKS[0].rule, crash)
    standing_on_it = Check(CHECKS[1].rule, CHECKS[1].run, frozenset({CHECKS[0].rule.slug}))
    judgement = judge(project, work(project), (broken, standing_on_it, CHECKS[2]))
    (finding,) = judgement.findings
    assert (finding.rule.slug, finding.subject.id) == ("check-could-not-run", CHECKS[0].rule.slug)
    assert [run.outcome for run in judgement.runs[:2]] == [Outcome.CANNOT_TELL, Outcome.CANNOT_TELL]
    assert judgement.runs[1].skipped


def test_no_check_changes_the_records(tmp_path: Path) -> None:
    judged(tmp_path, {}, "")
    project = read_project(tmp_path)
    before = copy.deepcopy(project.records)
    judge(project, work(project))
    assert project.records == before


def test_a_check_with_nothing_to_look_at_is_no_pass(tmp_path: Path) -> None:
    judged(tmp_path, {"tests": TESTS.partition("\n")[0] + "\n"}, "")
    project = read_project(tmp_path)
    runs = {run.rule.slug: run for run in judge(project, work(project)).runs}
    assert runs["test-without-section"].examined == 0
    assert runs["test-without-section"].outcome is Outcome.CANNOT_TELL
