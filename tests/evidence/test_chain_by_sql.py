"""States of the evidence chain, worked out a second time by plain SQL over the CSV texts, equal to the program's own.

The links that are put to both, and nothing else: every press end is in the log; operative, tool, jaw and batches of every end are
recorded and were right on the day of the press; a second person checked it, before the strength test; every required stage was passed;
nothing was pressed or altered after the last test; the gauge was in calibration on the day; a departure is accepted by a concession in
force. The SQL is written from these questions and from the rule that a contradiction breaks, a gap leaves unproven, and a weak link is
weak. Common practice of press-jointed pipework, no published source.
"""

# ruff: noqa: E501  # a question in SQL is kept as a whole

import importlib.util
import random
import sqlite3
import sys
from collections.abc import Callable
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

from witnessmark.checks.judgement import collect
from witnessmark.checks.registry import CHECKS
from witnessmark.checks.run import judge
from witnessmark.evidence.chain import ChainBook
from witnessmark.intake.project_reader import read_project
from witnessmark.model.contract import contract
from witnessmark.workings.work import work

CHECKS_FOLDER = Path(__file__).resolve().parents[1] / "checks"
LINKS = frozenset({
    "ends-do-not-add-up", "operative-unknown", "operative-not-trained", "press-tool-unknown", "tool-out-of-service", "jaw-unknown",
    "jaw-of-another-size", "batch-not-recorded", "batch-received-after-press", "quarantined-batch-used", "joint-not-checked", "checker-unknown",
    "checked-by-the-presser", "check-not-dated", "checked-after-strength-test", "required-stage-not-passed", "pressed-after-the-last-test",
    "altered-after-the-last-test", "gauge-not-in-calibration",
})  # fmt: skip
RANKS = ("complete", "complete with concessions", "weak", "unproven", "broken")
Tables = dict[str, list[dict[str, str]]]

VIEWS = """
CREATE VIEW made AS SELECT * FROM joints
    WHERE coalesce(status, '') NOT IN ('void', 'planned', 'cut_out') AND coalesce(joint_type, 'press') IN ('press', 'two_stage_press', 'transition');
CREATE VIEW passed AS SELECT t.*, s.section_id FROM tests t JOIN test_sections s ON s.row = t.rowid WHERE t.result = 'pass';
CREATE VIEW conceded AS SELECT c.*, s.section_id FROM concessions c JOIN concession_sections s ON s.row = c.rowid
    WHERE c.decision = 'accepted' AND c.approved_by_role IN (SELECT role FROM approvers) AND c.approved_on <= (SELECT day FROM issue)
    AND (c.expires_on IS NULL OR c.expires_on >= (SELECT day FROM issue)) AND (c.guarantee_effect <> 'needs_consent' OR c.guarantor_consent = 'yes');
CREATE VIEW batches_used AS
    SELECT section_id, press_date, fitting_batch_id AS batch_id FROM made UNION ALL SELECT section_id, press_date, tube_batch_id FROM made;
"""
# Each gives (section, rank): 0 right, 2 weak, 3 unproven, 4 broken.
QUESTIONS = {
    "all ends are in the log": """
        SELECT s.section_id, CASE WHEN s.expected_ends IS NULL THEN 3
            WHEN CAST(s.expected_ends AS INTEGER) = (SELECT count(*) FROM made j WHERE j.section_id = s.section_id) THEN 0
            WHEN EXISTS (SELECT 1 FROM conceded c WHERE c.section_id = s.section_id AND c."check" = 'ends-do-not-add-up') THEN 1 ELSE 4 END
        FROM sections s""",
    "the operative is recorded": "SELECT section_id, CASE WHEN operative_id IN (SELECT operative_id FROM operatives) THEN 0 ELSE 3 END FROM made",
    "the operative was trained for family and size on the day": """
        SELECT j.section_id, CASE WHEN j.press_date IS NULL OR NOT EXISTS (SELECT 1 FROM trainings t WHERE t.operative_id = j.operative_id) THEN 3
            WHEN EXISTS (SELECT 1 FROM trainings t WHERE t.operative_id = j.operative_id AND instr('; ' || t.system_family || ';', '; ' || j.system_family || ';')
                AND CAST(t.max_od_mm AS REAL) >= CAST(j.od_mm AS REAL) AND t.trained_on <= j.press_date AND (t.expires_on IS NULL OR t.expires_on >= j.press_date)) THEN 0
            ELSE 4 END
        FROM made j WHERE j.operative_id IN (SELECT operative_id FROM operatives)""",
    "the tool is recorded": "SELECT section_id, CASE WHEN tool_id IN (SELECT tool_id FROM tools) THEN 0 ELSE 3 END FROM made",
    "the tool was in service on the day": """
        SELECT j.section_id, CASE WHEN j.press_date IS NULL OR NOT EXISTS (SELECT 1 FROM tool_services s WHERE s.tool_id = j.tool_id) THEN 3
            WHEN EXISTS (SELECT 1 FROM tool_services s WHERE s.tool_id = j.tool_id AND s.serviced_on <= j.press_date AND s.due_on >= j.press_date) THEN 0
            WHEN EXISTS (SELECT 1 FROM tool_services s WHERE s.tool_id = j.tool_id AND s.serviced_on <= j.press_date AND s.due_on IS NULL) THEN 3
            ELSE 4 END
        FROM made j WHERE j.tool_id IN (SELECT tool_id FROM tools)""",
    "the jaw is recorded": "SELECT section_id, CASE WHEN jaw_id IN (SELECT tool_id FROM tools) THEN 0 ELSE 3 END FROM made",
    "the jaw is of the size": """
        SELECT j.section_id, CASE WHEN t.od_mm IS NULL OR j.od_mm IS NULL THEN 3 WHEN CAST(t.od_mm AS REAL) = CAST(j.od_mm AS REAL) THEN 0 ELSE 4 END
        FROM made j JOIN tools t ON t.tool_id = j.jaw_id""",
    "the batches are recorded": "SELECT section_id, CASE WHEN batch_id IN (SELECT batch_id FROM batches) THEN 0 ELSE 2 END FROM batches_used",
    "the batches were there before the press": """
        SELECT u.section_id, CASE WHEN u.press_date IS NULL OR b.received_on IS NULL OR b.received_on > u.press_date THEN 2 ELSE 0 END
        FROM batches_used u JOIN batches b USING (batch_id)""",
    "no batch was withdrawn": "SELECT u.section_id, CASE WHEN b.quarantined = 'yes' THEN 4 WHEN b.quarantined IS NULL THEN 3 ELSE 0 END FROM batches_used u JOIN batches b USING (batch_id)",
    "a second look says pressed": "SELECT section_id, CASE pressed_check WHEN 'yes' THEN 0 WHEN 'no' THEN 4 ELSE 3 END FROM made",
    "the checker is recorded": "SELECT section_id, CASE WHEN checker_id IN (SELECT operative_id FROM operatives) THEN 0 ELSE 3 END FROM made",
    "the checker is another person": "SELECT section_id, CASE WHEN checker_id = operative_id THEN 4 ELSE 0 END FROM made",
    "the check has a day": "SELECT section_id, CASE WHEN check_date IS NULL THEN 3 ELSE 0 END FROM made",
    "the check came before the strength test": """
        SELECT j.section_id, CASE WHEN j.check_date > (SELECT max(p.date) FROM passed p WHERE p.section_id = j.section_id AND p.stage = 'strength') THEN 4 ELSE 0 END
        FROM made j""",
    "every required stage was passed": """
        SELECT s.section_id, CASE WHEN EXISTS (SELECT 1 FROM passed p WHERE p.section_id = s.section_id AND p.stage = r.stage) THEN 0 ELSE 4 END
        FROM sections s JOIN systems y USING (system_id) JOIN required r ON r.service = y.service""",
    "nothing was pressed after the last test": """
        SELECT j.section_id, CASE WHEN j.press_date IS NULL THEN 3
            WHEN j.press_date > (SELECT max(p.date) FROM passed p WHERE p.section_id = j.section_id AND p.stage = 'strength') THEN 4 ELSE 0 END
        FROM made j""",
    "nothing was altered after the last test": """
        SELECT x.section_id, CASE WHEN a.date IS NULL THEN 3
            WHEN a.date > (SELECT max(p.date) FROM passed p WHERE p.section_id = x.section_id AND p.stage = 'strength') THEN 4 ELSE 0 END
        FROM alterations a JOIN alteration_sections x ON x.row = a.rowid""",
    "the gauge was in calibration": """
        SELECT p.section_id, CASE WHEN p.date IS NULL OR g.instrument_id IS NULL OR NOT EXISTS (SELECT 1 FROM calibrations c WHERE c.instrument_id = g.instrument_id) THEN 3
            WHEN EXISTS (SELECT 1 FROM calibrations c WHERE c.instrument_id = g.instrument_id AND c.serial_on_certificate = g.serial AND c.calibrated_on <= p.date
                AND c.due_on >= p.date AND c.result <> 'fail') THEN 0 ELSE 4 END
        FROM passed p LEFT JOIN instruments g ON g.instrument_id = p.instrument_id WHERE p.stage <> 'visual'""",
}
LISTS = {"tests": "test_sections", "alterations": "alteration_sections", "concessions": "concession_sections"}


def copied(tables: Tables, settings: dict[str, Any]) -> sqlite3.Connection:
    """The texts of the tables in SQLite: a blank cell is NULL, lists of sections are tables of their own."""
    base = sqlite3.connect(":memory:")
    for name, described in contract().items():
        columns = [field.name for field in described.fields]
        described_in_sql = ", ".join(f'"{column}" TEXT' for column in columns)
        base.execute(f"CREATE TABLE {name} ({described_in_sql})")
        marks = ", ".join("?" * len(columns))
        base.executemany(
            f"INSERT INTO {name} VALUES ({marks})",
            [[row.get(c) or None for c in columns] for row in tables.get(name, [])],
        )
    for name, pairs in LISTS.items():
        base.execute(f"CREATE TABLE {pairs} (row INTEGER, section_id TEXT)")
        for row, sections in base.execute(
            f"SELECT rowid, section_ids FROM {name} WHERE section_ids IS NOT NULL"
        ).fetchall():
            base.executemany(
                f"INSERT INTO {pairs} VALUES (?, ?)", [(row, section.strip()) for section in sections.split(";")]
            )
    base.execute("CREATE TABLE required (service TEXT, stage TEXT)")
    for service, procedure in settings["testing"].items():
        base.executemany(
            "INSERT INTO required VALUES (?, ?)",
            [(service, stage["stage"]) for stage in settings["procedures"][procedure]["stages"]],
        )
    base.execute("CREATE TABLE approvers (role TEXT)")
    base.executemany("INSERT INTO approvers VALUES (?)", [(role,) for role in settings["concession_approvers"]])
    base.execute("CREATE TABLE issue (day TEXT)")
    base.execute("INSERT INTO issue VALUES (?)", (settings["issue"]["date"],))
    base.executescript(VIEWS)
    return base


def states_by_sql(base: sqlite3.Connection) -> tuple[dict[str, str], dict[str, str], str]:
    """State of every section, of every system and of the pack."""
    base.execute("CREATE TABLE link (question TEXT, section_id TEXT, rank INTEGER)")
    for question, asked in QUESTIONS.items():
        base.execute(f"INSERT INTO link SELECT '{question}', * FROM ({asked})")
    worst = "SELECT {0}, max(l.rank) FROM link l JOIN sections s USING (section_id) GROUP BY {0}"
    sections = {name: RANKS[rank] for name, rank in base.execute(worst.format("s.section_id"))}
    systems = {name: RANKS[rank] for name, rank in base.execute(worst.format("s.system_id"))}
    (pack,) = base.execute("SELECT max(rank) FROM link").fetchone()
    return sections, systems, RANKS[pack]


def states_by_program(folder: Path) -> tuple[dict[str, str], dict[str, str], str]:
    """The same by the program, told to ask the same links alone."""
    project = read_project(folder)
    judgement = judge(project, work(project), tuple(check for check in CHECKS if check.rule.slug in LINKS))
    chains = ChainBook(project, collect(judgement.runs, [f for f in judgement.findings if f.rule.slug in LINKS]))
    sections = {name: state.value for name, state in chains.section_states.items()}
    systems = {name: state.value for name, state in chains.system_states.items()}
    return sections, systems, chains.pack.state.value


def _loaded(name: str, path: Path) -> ModuleType:
    if name not in sys.modules:
        spec = importlib.util.spec_from_file_location(name, path)
        assert spec is not None
        assert spec.loader is not None
        sys.modules[name] = importlib.util.module_from_spec(spec)
        spec.loader.exec_module(sys.modules[name])
    return sys.modules[name]


def _breaks() -> dict[str, Callable[..., set[str]]]:
    found = {}
    for path in sorted((CHECKS_FOLDER / "breaks").glob("*.py")):
        found |= {
            slug: case[0] for slug, case in _loaded(f"sql_breaks_{path.stem}", path).BREAKS.items() if slug in LINKS
        }
    return found


def _blank(table: str, field: str) -> Callable[..., set[str]]:
    def change(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
        rng.choice([row for row in tables[table] if row.get(field)])[field] = ""
        return set()

    return change


def _set(table: str, field: str, value: str) -> Callable[..., set[str]]:
    def change(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
        rng.choice(tables[table])[field] = value
        return set()

    return change


def _lose(table: str) -> Callable[..., set[str]]:
    def change(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
        tables[table].remove(rng.choice(tables[table]))
        return set()

    return change


def _concede(tables: Tables, _settings: dict[str, Any], rng: random.Random) -> set[str]:
    """A section short of an end, accepted by a concession that is in force, has expired, or was only asked for."""
    section = rng.choice(tables["sections"])
    section["expected_ends"] = str(int(section["expected_ends"] or 0) + 1)
    given = {"check": "ends-do-not-add-up", "section_ids": section["section_id"], "subject": ""}
    other = rng.choice(({}, {}, {"decision": "asked"}, {"expires_on": "2025-01-01"}, {"approved_by_role": "Passer-by"}))
    tables["concessions"].append(
        {**tables["concessions"][0], **given, **other, "concession_id": f"CN-{len(tables['concessions']) + 1:03d}"}
    )
    return set()


OWN = (
    *(_blank("joints", field) for field in ("operative_id", "tool_id", "jaw_id", "checker_id", "check_date", "press_date", "fitting_batch_id", "pressed_check")),
    *(_blank(table, field) for table, field in (("tests", "instrument_id"), ("tools", "od_mm"), ("batches", "received_on"), ("batches", "quarantined"))),
    *(_lose(table) for table in ("trainings", "tool_services", "calibrations")),
    _set("joints", "pressed_check", "no"), _set("joints", "status", "void"), _set("sections", "expected_ends", ""), _concede,
)  # fmt: skip


@pytest.mark.parametrize("case", range(40))
def test_sql_over_the_records_gives_the_same_states(case: int, tmp_path: Path) -> None:
    sound = _loaded("sound_project.sound", CHECKS_FOLDER / "sound.py")
    rng = random.Random(f"by sql {case}")
    tables, settings = sound.sound_records(60 + case % 10)
    changes = [*_breaks().items(), *((f"own {n}", change) for n, change in enumerate(OWN))]
    done = []
    if case % 3 == 0:
        _concede(tables, settings, rng)
    for name, change in rng.sample(changes, case % 5):
        try:
            change(tables, settings, rng)
        except (IndexError, KeyError, StopIteration, ValueError):
            continue  # what it would break was broken before
        done.append(name)
    sound.write_project(tmp_path, tables, settings)
    by_sql = states_by_sql(base := copied(tables, settings))
    links = base.execute("SELECT DISTINCT section_id, question, rank FROM link WHERE rank > 0 ORDER BY 1, 2").fetchall()
    assert states_by_program(tmp_path) == by_sql, (done, links)


def test_the_links_exist() -> None:
    """A link renamed would silently not be asked."""
    assert {check.rule.slug for check in CHECKS} >= LINKS
    assert len(_breaks()) >= 15
