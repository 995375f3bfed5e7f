"""States of chains worked out a second time, by SQL over a copy of the records in SQLite, and compared."""

import sqlite3
from collections.abc import Callable
from typing import Any

from hypothesis import HealthCheck, given
from hypothesis import settings as hypothesis_settings
from hypothesis import strategies as st

from witnessmark.checks.judgement import Judgement, collect
from witnessmark.evidence.chain import ChainBook
from witnessmark.model.finding import Finding
from witnessmark.model.project import Project

TABLES = """
CREATE TABLE systems (id TEXT);
CREATE TABLE sections (id TEXT, system TEXT);
CREATE TABLE joints (id TEXT, section TEXT, there INT);
CREATE TABLE findings (n INT, severity TEXT, outcome TEXT, kind TEXT, subject TEXT);
CREATE TABLE names_section (n INT, section TEXT);
CREATE TABLE names_joint (n INT, joint TEXT);
CREATE VIEW bad AS
    SELECT n, kind, subject, CASE
        WHEN outcome = 'waived' THEN 1
        WHEN severity = 'weakens' THEN 2
        WHEN outcome = 'fail' THEN 4
        ELSE 3 END AS badness
    FROM findings WHERE severity <> 'tidy' AND outcome <> 'pass';
CREATE VIEW its_joints AS
    SELECT n, joint FROM names_joint
    UNION SELECT n, subject FROM bad
        WHERE kind = 'joint' AND subject IN (SELECT id FROM joints) AND n NOT IN (SELECT n FROM names_joint);
CREATE VIEW its_sections AS
    SELECT n, section FROM names_section
    UNION SELECT n, joints.section FROM its_joints JOIN joints ON joints.id = its_joints.joint
        WHERE joints.section IS NOT NULL
    UNION SELECT n, subject FROM bad WHERE kind = 'section'
        AND n NOT IN (SELECT n FROM names_section) AND n NOT IN (SELECT n FROM its_joints);
CREATE VIEW joint_bad AS
    SELECT n, joint FROM its_joints
    UNION SELECT its_sections.n, joints.id FROM its_sections JOIN joints ON joints.section = its_sections.section
        WHERE its_sections.n NOT IN (SELECT n FROM its_joints);
CREATE VIEW empty_section AS
    SELECT id FROM sections WHERE id NOT IN (SELECT section FROM joints WHERE there AND section IS NOT NULL);
CREATE VIEW joint_state AS
    SELECT joints.id AS id, MAX(COALESCE(badness, 0)) AS badness FROM joints
    LEFT JOIN joint_bad ON joint_bad.joint = joints.id LEFT JOIN bad ON bad.n = joint_bad.n GROUP BY joints.id;
CREATE VIEW section_state AS
    SELECT sections.id AS id, MAX(COALESCE(badness, 0), CASE WHEN sections.id IN empty_section THEN 3 ELSE 0 END)
        AS badness
    FROM sections LEFT JOIN
        (SELECT section, MAX(badness) AS badness FROM its_sections JOIN bad ON bad.n = its_sections.n GROUP BY section)
        AS worst ON worst.section = sections.id;
CREATE VIEW system_state AS
    SELECT systems.id AS id, MAX(
        COALESCE((SELECT MAX(section_state.badness) FROM section_state JOIN sections ON sections.id = section_state.id
            WHERE sections.system = systems.id), 3),
        COALESCE((SELECT MAX(badness) FROM bad WHERE kind = 'system' AND subject = systems.id), 0)) AS badness
    FROM systems;
CREATE VIEW pack_state AS
    SELECT MAX(COALESCE((SELECT MAX(badness) FROM bad), 0), COALESCE((SELECT MAX(badness) FROM section_state), 3),
        COALESCE((SELECT MAX(badness) FROM system_state), 0)) AS badness;
"""
NAMES = ["complete", "complete with concessions", "weak", "unproven", "broken"]
GONE = ("void", "planned", "cut_out")


def by_sql(project: Project, judgement: Judgement) -> dict[str, dict[str, str]]:
    """States by SQL: kind of thing to id to state."""
    base = sqlite3.connect(":memory:")
    base.executescript(TABLES)
    records = project.records
    base.executemany("INSERT INTO systems VALUES (?)", [(s.system_id,) for s in records.systems])
    base.executemany("INSERT INTO sections VALUES (?, ?)", [(s.section_id, s.system_id) for s in records.sections])
    base.executemany(
        "INSERT INTO joints VALUES (?, ?, ?)",
        [(joint.joint_id, joint.section_id, joint.status not in GONE) for joint in records.joints],
    )
    for n, finding in enumerate(judgement.findings):
        row = (n, finding.rule.severity.value, finding.outcome.value, finding.subject.kind, finding.subject.id)
        base.execute("INSERT INTO findings VALUES (?, ?, ?, ?, ?)", row)
        base.executemany("INSERT INTO names_section VALUES (?, ?)", [(n, section) for section in finding.section_ids])
        base.executemany("INSERT INTO names_joint VALUES (?, ?)", [(n, joint) for joint in finding.joint_ids])
    found = {
        kind: {name: NAMES[badness] for name, badness in base.execute(f"SELECT id, badness FROM {kind}_state")}
        for kind in ("joint", "section", "system")
    }
    found["pack"] = {"": NAMES[base.execute("SELECT badness FROM pack_state").fetchone()[0]]}
    base.close()
    return found


NAMES_OF_JOINTS = ["J1", "J2", "J3", "J4", "J5", "J6"]
JOINTS = st.lists(
    st.tuples(
        st.sampled_from(NAMES_OF_JOINTS),
        st.sampled_from(["S1", "S2", "S3", None]),
        st.sampled_from([None, "checked", "void"]),
    ),
    max_size=10,
)
FINDINGS = st.lists(
    st.tuples(
        st.sampled_from(["breaks", "weakens", "tidy"]),
        st.sampled_from(["fail", "cannot tell", "waived"]),
        st.sampled_from(
            [
                ("joint", "J1"),
                ("joint", "J9"),
                ("section", "S2"),
                ("system", "CWS"),
                ("file", "x.csv"),
                ("tool", "PT-1"),
            ]
        ),
        st.lists(st.sampled_from(["S1", "S2", "S3", "S9"]), max_size=3, unique=True).map(tuple),
        st.lists(st.sampled_from([*NAMES_OF_JOINTS, "J9"]), max_size=3, unique=True).map(tuple),
    ),
    max_size=5,
)


@hypothesis_settings(max_examples=200, suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)
@given(JOINTS, FINDINGS)
def test_states_are_those_that_sql_finds(
    make_project: Callable[..., Project], make_finding: Callable[..., Finding], joints: Any, parts: Any
) -> None:
    """Joints without a section, two rows with one id, void rows and names of nothing among them."""
    project = make_project(
        systems=[{"system_id": "HTG"}, {"system_id": "CWS"}],
        sections=[
            {"section_id": "S1", "system_id": "HTG"},
            {"section_id": "S2", "system_id": "CWS"},
            {"section_id": "S3", "system_id": None},
        ],
        joints=[{"joint_id": j, "section_id": section, "status": status} for j, section, status in joints],
    )
    judgement = collect(
        (),
        [make_finding(severity, outcome, subject=about, sections=sections, joints=named)
         for severity, outcome, about, sections, named in parts],
    )  # fmt: skip
    book = ChainBook(project, judgement)
    assert {
        "joint": book.joint_states,
        "section": book.section_states,
        "system": book.system_states,
        "pack": {"": book.pack.state},
    } == by_sql(project, judgement)
    for joint_id in book.joint_states:
        assert book.joint(joint_id).state == book.joint_states[joint_id]
    for section_id in book.section_states:
        assert book.section(section_id).state == book.section_states[section_id]
