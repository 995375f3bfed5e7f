"""A folder of records becomes records, repairs, rows set aside and findings: nothing is lost, nothing is guessed."""

from collections.abc import Callable
from pathlib import Path

import openpyxl
import openpyxl.utils.datetime
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from witnessmark.intake.errors import UnusableProject
from witnessmark.intake.project_reader import read_project
from witnessmark.model.finding import Finding, Outcome
from witnessmark.model.project import Project

Make = Callable[..., Path]


def of_kind(project: Project, slug: str) -> list[Finding]:
    return [finding for finding in project.findings if finding.rule.slug == slug]


def test_every_value_knows_its_cell_and_text(make_project: Make) -> None:
    project = read_project(make_project({"joints.csv": "Jt No,Section,Size,Material\nJ1,S1,22mm,Cu\n"}))
    (joint,) = project.records.joints
    cell = joint.source.cell("od_mm")
    assert joint.od_mm == 22.0
    assert cell is not None
    assert (str(cell.location), cell.raw, cell.location.heading) == ("records/joints.csv:2:C", "22mm", "Size")


def test_every_repair_is_a_row_of_the_ledger(make_project: Make) -> None:
    project = read_project(make_project({"joints.csv": "Jt No,Section,Size,Material\n J1 ,S1,22mm,Cu\n"}))
    repaired = {(r.field, r.raw, r.read) for r in project.repairs}
    assert {("od_mm", "22mm", "22"), ("material_tube", "Cu", "copper")} <= repaired
    assert any(r.field == "joint_id" and r.raw == " J1 " for r in project.repairs)


def test_a_date_that_could_be_two_is_a_finding_that_names_cell_and_answer(make_project: Make) -> None:
    records = {"joints.csv": "joint_id,section_id,press_date\nJ1,S1,03/04/26\nJ2,S1,13/04/26\n"}
    project = read_project(make_project(records))
    (finding,) = of_kind(project, "date-could-be-two")
    assert str(finding.location) == "records/joints.csv:2:C"
    assert "3 April 2026" in finding.message
    assert "4 March 2026" in finding.message
    assert "joints.press_date: {date_order: dmy}" in finding.remedy
    assert finding.outcome is Outcome.CANNOT_TELL
    assert [j.press_date and j.press_date.isoformat() for j in project.records.joints] == [None, "2026-04-13"]


def test_one_answer_settles_a_whole_column(make_project: Make) -> None:
    records = {"joints.csv": "joint_id,section_id,press_date\nJ1,S1,03/04/26\nJ2,S1,04/04/26\nJ3,S2,05/04/26\n"}
    project = read_project(make_project(records, "answers: {joints.press_date: {date_order: dmy}}\n"))
    assert not project.findings
    assert [str(j.press_date) for j in project.records.joints] == ["2026-04-03", "2026-04-04", "2026-04-05"]
    assert len([r for r in project.repairs if r.field == "press_date"]) == 3


def test_a_nominal_size_needs_the_material_of_its_row(make_project: Make) -> None:
    records = {"joints.csv": "joint_id,section_id,od_mm,material_tube\nJ1,S1,DN20,\nJ2,S1,DN20,copper\n"}
    project = read_project(make_project(records))
    (finding,) = of_kind(project, "size-needs-material")
    assert finding.location is not None
    assert (finding.location.row, finding.location.column) == (2, "C")
    assert [j.od_mm for j in project.records.joints] == [None, 22.0]


def test_initials_that_match_two_operatives_are_a_finding(make_project: Make) -> None:
    records = {
        "operatives.csv": "operative_id,name,initials\nOP-1,Jan Sorrel,J.S.\nOP-2,June Stiles,JS\nOP-3,Mo Reed,MR\n",
        "joints.csv": 'joint_id,section_id,operative_id\nJ1,S1,JS\nJ2,S1,mr\nJ3,S1,"Reed, Mo"\nJ4,S1,OP-1\n',
    }
    project = read_project(make_project(records))
    (finding,) = of_kind(project, "person-could-be-two")
    assert "OP-1 or OP-2" in finding.message
    assert [j.operative_id for j in project.records.joints] == [None, "OP-3", "OP-3", "OP-1"]


def test_an_answer_says_who_the_initials_are(make_project: Make) -> None:
    records = {
        "operatives.csv": "operative_id,name,initials\nOP-1,Jan Sorrel,JS\nOP-2,June Stiles,JS\n",
        "joints.csv": "joint_id,section_id,operative_id\nJ1,S1,JS\n",
    }
    project = read_project(make_project(records, "answers: {joints.operative_id: {words: {JS: OP-2}}}\n"))
    assert project.records.joints[0].operative_id == "OP-2"
    assert not project.findings


def test_steel_could_be_two_materials(make_project: Make) -> None:
    project = read_project(make_project({"joints.csv": "joint_id,section_id,material_tube\nJ1,S1,steel\n"}))
    (finding,) = of_kind(project, "word-could-be-two")
    assert "stainless steel or carbon steel" in finding.message
    assert project.records.joints[0].material_tube is None


def test_a_number_without_a_unit_is_not_read(make_project: Make) -> None:
    records = {"tests.csv": "Test No,Section,Stage,Attempt,Test Pressure\nPT-1,S1,strength,1,6\n"}
    project = read_project(make_project(records))
    (finding,) = of_kind(project, "unit-not-stated")
    assert "unit: bar" in finding.remedy
    assert project.records.tests[0].start_pressure_bar is None


@pytest.mark.parametrize(
    ("heading", "yml"),
    [
        ("Test Pressure (psi)", ""),
        ("Test Pressure", "answers: {tests.start_pressure_bar: {unit: psi}}\n"),
    ],
)
def test_units_are_converted_with_a_repair(make_project: Make, heading: str, yml: str) -> None:
    """100 psi is 6.894757 bar: NIST SP 811, 1 psi = 6894.757 Pa (published)."""
    records = {"tests.csv": f"Test No,Section,Stage,Attempt,{heading}\nPT-1,S1,strength,1,100\n"}
    project = read_project(make_project(records, yml))
    assert project.records.tests[0].start_pressure_bar == pytest.approx(6.894757, abs=5e-7)
    assert any(r.field == "start_pressure_bar" and "psi" in r.reason for r in project.repairs)


def test_an_unknown_reference_points_at_the_cell(make_project: Make) -> None:
    project = read_project(make_project({"joints.csv": "joint_id,section_id,tool_id\nJ1,S9,PT-1\n"}))
    found = {(f.location.column, f.outcome) for f in of_kind(project, "unknown-reference") if f.location}
    assert found == {("B", Outcome.FAIL), ("C", Outcome.FAIL)}
    assert project.records.joints[0].section_id is None


def test_a_reference_in_other_case_is_matched_with_a_repair(make_project: Make) -> None:
    project = read_project(make_project({"joints.csv": "joint_id,section_id\nJ1,s1\n"}))
    assert project.records.joints[0].section_id == "S1"
    assert any(r.raw == "s1" and r.read == "S1" for r in project.repairs)


def test_identical_rows_count_once_and_conflicting_ids_are_a_finding(make_project: Make) -> None:
    records = {"sections.csv": "section_id,name\nS1,Riser\nS1,Riser\nS2,Branch\nS2,Other\n"}
    project = read_project(make_project(records))
    assert [(s.section_id, s.name) for s in project.records.sections] == [("S1", "Riser"), ("S2", "Branch")]
    (finding,) = of_kind(project, "id-used-twice")
    assert str(finding.location) == "records/sections.csv:5:A"
    assert str(finding.related[0]) == "records/sections.csv:4:A"


def test_conflicting_joint_rows_are_both_kept(make_project: Make) -> None:
    project = read_project(make_project({"joints.csv": "joint_id,section_id,level\nJ1,S1,1\nJ1,S1,2\nJ1,S1,2\n"}))
    assert [j.level for j in project.records.joints] == ["1", "2"]


def test_rows_in_are_rows_used_and_rows_set_aside(make_project: Make) -> None:
    log = (
        "Joint log,,\nJt No,Section,Size\nJ1,S1,22\n,S1,22\n\nSub-total,,1\nJ2,S2,28\nall pressed by the day shift,,\n"
    )
    project = read_project(make_project({"joints.csv": log}))
    (account,) = [a for a in project.accounts if a.table == "joints"]
    assert (account.rows_in, account.rows_used, account.rows_set_aside) == (7, 2, 5)
    reasons = {s.location.row: s.reason for s in project.set_aside if s.table == "joints"}
    assert set(reasons) == {1, 2, 4, 6, 8}
    assert all(reasons.values())


@pytest.mark.parametrize("words", ["Sub-total LTHW-F-L3-S", "Subtotal", "Sub total: S1", "TOTAL", "Grand total S1"])
def test_sub_totals_become_no_joints(make_project: Make, words: str) -> None:
    log = f"joint_id,section_id,od_mm,level,location\nJ1,S1,22,1,x\n{words},,1,,\nJ2,S1,22,1,x\n"
    project = read_project(make_project({"joints.csv": log}))
    assert [j.joint_id for j in project.records.joints] == ["J1", "J2"]
    assert any(words in s.raw for s in project.set_aside)


def test_a_log_by_fitting_is_expanded_to_its_ends(make_project: Make) -> None:
    """An elbow has two press ends, a tee three: common practice, no published source."""
    log = "joint_id,section_id,unit_of_count,fitting_kind,od_mm\nJ1,S1,fitting,elbow,22\nJ2,S1,fitting,tee,22\n"
    log += "J3,S1,fitting,reducer,22\nJ4,S1,fitting,valve,22\nJ5,S1,end,tee,22\n"
    project = read_project(make_project({"joints.csv": log}))
    ids = [j.joint_id for j in project.records.joints]
    assert ids == ["J1-1", "J1-2", "J2-1", "J2-2", "J2-3", "J3-1", "J3-2", "J4", "J5"]
    assert [j.recorded_as_end for j in project.records.joints] == [False] * 8 + [True]
    assert project.records.joints[6].od_mm is None, "the second size of a reducer is not recorded"
    assert [f.subject.id for f in of_kind(project, "fitting-ends-unknown")] == ["J4"]
    (account,) = [a for a in project.accounts if a.table == "joints"]
    assert (account.rows_used, account.records) == (5, 9)


def test_a_blank_means_unknown_until_the_project_says_otherwise(make_project: Make) -> None:
    log = {"joints.csv": "joint_id,section_id\nJ1,S1\nJ2,\nJ3,S2\n"}
    assert [j.section_id for j in read_project(make_project(log)).records.joints] == ["S1", None, "S2"]
    answered = read_project(make_project(log, "answers: {joints.section_id: {blank: same_as_above}}\n"))
    assert [j.section_id for j in answered.records.joints] == ["S1", "S1", "S2"]
    assert any("value above" in r.reason for r in answered.repairs)


def test_a_size_written_with_its_wall_gives_both(make_project: Make) -> None:
    project = read_project(make_project({"tubes.csv": "section_id,od_mm,length_m\nS1,22 x 0.9,4\n"}))
    assert (project.records.tubes[0].od_mm, project.records.tubes[0].wall_mm) == (22.0, 0.9)


def test_two_equal_tube_lengths_are_two(make_project: Make) -> None:
    project = read_project(make_project({"tubes.csv": "section_id,od_mm,wall_mm,length_m\nS1,22,0.9,4\nS1,22,0.9,4\n"}))
    assert len(project.records.tubes) == 2


def test_an_unknown_column_is_told_with_the_nearest_heading(make_project: Make) -> None:
    project = read_project(make_project({"joints.csv": "joint_id,section_id,Pressd by,Shift\nJ1,S1,x,day\n"}))
    messages = [f.message for f in of_kind(project, "unknown-column")]
    assert len(messages) == 2
    assert "pressed by" in messages[0].casefold()


def test_a_known_and_unneeded_column_can_be_ignored(make_project: Make) -> None:
    yml = "records: [{table: joints, file: records/joints.csv, ignore: [Shift]}]\n"
    project = read_project(make_project({"joints.csv": "joint_id,section_id,Shift\nJ1,S1,day\n"}, yml))
    assert not project.findings


def test_a_mapping_names_headings_units_and_fixed_values(make_project: Make) -> None:
    yml = """records:
  - table: tubes
    file: records/run list.csv
    columns: {section_id: Run, length_m: {heading: Cut, unit: mm}}
    fixed: {material: copper, tube_series: table_x}
"""
    project = read_project(make_project({"run list.csv": "Run,Size,Cut\nS1,22,2500\n"}, yml))
    (tube,) = project.records.tubes
    assert (tube.section_id, tube.length_m, tube.material, tube.tube_series) == ("S1", 2.5, "copper", "table_x")
    cell = tube.source.cell("material")
    assert cell is not None
    assert str(cell.location) == "project.yml"


def test_a_mapped_heading_that_is_not_there_is_told(make_project: Make) -> None:
    yml = "records: [{table: joints, file: records/joints.csv, columns: {press_date: Day made}}]\n"
    project = read_project(make_project({"joints.csv": "joint_id,section_id,date\nJ1,S1,2026-03-02\n"}, yml))
    assert len(of_kind(project, "mapped-heading-missing")) == 1


def test_a_file_that_nobody_asked_for_is_told(make_project: Make) -> None:
    project = read_project(make_project({"levels 3 and 4.csv": "a,b\n1,2\n", "notes.docx": b"PK"}))
    assert {f.location.file for f in of_kind(project, "file-not-used") if f.location} == {
        "records/levels 3 and 4.csv",
        "records/notes.docx",
    }


@pytest.mark.parametrize(
    ("content", "slug"),
    [(b"", "file-empty"), (b"joint_id,section_id\n", "table-empty"), (b'a,"b\n1,2\n', "quote-not-closed")],
)
def test_a_file_that_cannot_be_used_is_a_finding_and_the_rest_is_read(
    make_project: Make, content: bytes, slug: str
) -> None:
    project = read_project(make_project({"joints.csv": content}))
    assert [f.location.file for f in of_kind(project, slug) if f.location] == ["records/joints.csv"]
    assert len(project.records.sections) == 2


def test_a_file_above_the_limit_is_refused_with_both_sizes(make_project: Make) -> None:
    rows = "J{0},S1,{1}\n"
    log = "joint_id,section_id,remarks\n" + "".join(rows.format(i, "x" * 1000) for i in range(1100))
    project = read_project(make_project({"joints.csv": log}, "limits: {max_file_mb: 1}\n"))
    (finding,) = of_kind(project, "file-too-large")
    assert finding.location is not None
    assert finding.location.file == "records/joints.csv"
    assert not project.records.joints


def test_a_workbook_that_is_none_is_a_finding(make_project: Make) -> None:
    project = read_project(make_project({"joints.xlsx": b"not a zip"}))
    assert len(of_kind(project, "workbook-broken")) == 1


def test_sheets_of_a_workbook_are_read_by_name_or_mapping(make_project: Make, tmp_path: Path) -> None:
    folder = make_project({}, "records: [{table: joints, file: records/log.xlsx, sheets: ['L*']}]\n")
    book = openpyxl.Workbook()
    for level in (1, 2):
        sheet = book.create_sheet(f"L{level}")
        sheet.append(["Jt No", "Section"])
        sheet.append([f"J{level}", "S1"])
    other = book.create_sheet("tools")
    other.append(["tool_id", "kind"])
    other.append(["PT-1", "press tool"])
    book.remove(book["Sheet"])
    book.save(tmp_path / "records" / "log.xlsx")
    project = read_project(folder)
    assert [j.joint_id for j in project.records.joints] == ["J1", "J2"]
    assert project.records.joints[1].source.table.sheet == "L2"
    assert [t.tool_id for t in project.records.tools] == ["PT-1"]


def test_merged_cells_fill_down_inside_the_merge_only(make_project: Make, tmp_path: Path) -> None:
    folder = make_project({})
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    sheet.title = "joints"
    for row in (["Section", "Jt No"], ["S1", "J1"], [None, "J2"], [None, "J3"]):
        sheet.append(row)
    sheet.merge_cells("A2:A3")
    book.save(tmp_path / "records" / "log.xlsx")
    project = read_project(folder)
    assert [j.section_id for j in project.records.joints] == ["S1", "S1", None]
    cell = project.records.joints[1].source.cell("section_id")
    assert cell is not None
    assert (cell.location.row, cell.raw) == (2, "S1")
    assert any("merged" in r.reason for r in project.repairs)


@pytest.mark.parametrize(("base", "serial"), [("1900", 46083), ("1904", 44621)])
def test_day_numbers_of_a_workbook_count_from_its_own_year(
    make_project: Make, tmp_path: Path, base: str, serial: int
) -> None:
    """2 March 2026 is day 46083 from 1900 and 44621 from 1904, 1462 less: ECMA-376 part 1, 18.17.4.1 (from memory)."""
    folder = make_project({"tests.csv": f"test_id,section_ids,date\nPT-1,S1,{serial}\n"})
    book = openpyxl.Workbook()
    if base == "1904":
        book.epoch = openpyxl.utils.datetime.CALENDAR_MAC_1904
    sheet = book.active
    assert sheet is not None
    sheet.title = "joints"
    for row in (["joint_id", "section_id", "press_date"], ["J1", "S1", serial]):
        sheet.append(row)
    book.save(tmp_path / "records" / "log.xlsx")
    project = read_project(folder)
    assert str(project.records.joints[0].press_date) == "2026-03-02"
    assert any(r.field == "press_date" and "serial" in r.reason for r in project.repairs)
    assert project.records.tests[0].date is None, "in a CSV file nothing says from which year a number counts"
    assert len(of_kind(project, "date-is-serial")) == 1


@pytest.mark.parametrize("path", ["../secret.csv", "/etc/hostname", "a/../../b.csv", "C:\\x.csv"])
def test_a_record_path_that_leaves_the_project_is_refused(make_project: Make, path: str) -> None:
    project = read_project(make_project({}, f"records: [{{table: joints, file: '{path}'}}]\n"))
    assert len(of_kind(project, "path-leaves-project")) == 1


def test_a_link_out_of_the_project_is_refused(make_project: Make, tmp_path: Path) -> None:
    folder = make_project({})
    outside = tmp_path.parent / f"{tmp_path.name}-outside.csv"
    outside.write_text("joint_id,section_id\nJ1,S1\n", encoding="utf-8")
    (folder / "records" / "joints.csv").symlink_to(outside)
    project = read_project(folder)
    assert len(of_kind(project, "path-leaves-project")) == 1
    assert not project.records.joints


def test_documents_are_looked_at_and_paths_out_are_refused(make_project: Make) -> None:
    folder = make_project({"documents.csv": "document_id,file\nD1,a.txt\nD2,b.txt\nD3,../project.yml\nD4,\n"})
    (folder / "documents").mkdir()
    (folder / "documents" / "a.txt").write_bytes(b"hello\n")
    project = read_project(folder)
    documents = {d.document_id: d for d in project.records.documents}
    # The digest of 'hello\n' is the one that the BagIt tools print for it (published).
    assert documents["D1"].sha256 == "5891b5b522d5df086d0ff0b110fbd9d21bb4fc7163af34d08286a2e846f6be03"
    assert documents["D2"].sha256 is None
    assert documents["D3"].file is None
    assert [f.subject.id for f in of_kind(project, "document-missing")] == ["D2"]
    assert [f.subject.id for f in of_kind(project, "document-refused")] == ["D3"]


def test_without_a_section_nothing_can_be_built_and_one_sentence_says_why(make_project: Make) -> None:
    with pytest.raises(UnusableProject, match=r"No section could be read.*records/sections\.csv"):
        read_project(make_project({"sections.csv": "Zone,Colour\n1,red\n"}))


AWKWARD = ["../../x", "CON", "a/b", "<b>&\"'", "R2 \u202ereversed", "=1+1", "\U0001f6b0 riser"]


@pytest.mark.parametrize("identity", AWKWARD)
def test_awkward_ids_are_read_and_stay_text(make_project: Make, identity: str) -> None:
    quoted = '"' + identity.replace('"', '""') + '"'
    project = read_project(make_project({"sections.csv": f"section_id,name\n{quoted},Riser\n"}))
    (section,) = project.records.sections
    assert section.section_id == identity.replace("\u202e", "")
    if identity in ("../../x", "CON", "a/b", "=1+1"):
        assert [str(f.location) for f in of_kind(project, "awkward-id")] == ["records/sections.csv:2:A"]


def test_an_id_of_300_characters_is_a_finding_and_its_row_is_set_aside(make_project: Make) -> None:
    project = read_project(make_project({"joints.csv": f"joint_id,section_id\n{'x' * 300},S1\nJ2,S1\n"}))
    (finding,) = of_kind(project, "id-too-long")
    assert str(finding.location) == "records/joints.csv:2:A"
    assert [j.joint_id for j in project.records.joints] == ["J2"]
    assert all(account.adds_up for account in project.accounts)


@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)
@given(st.lists(st.lists(st.text(max_size=12), min_size=3, max_size=3), max_size=6))
def test_any_text_in_a_log_is_read_or_told_and_the_sum_holds(make_project: Make, rows: list[list[str]]) -> None:
    quoted = ["joint_id,od_mm,press_date"]
    for row in rows:
        quoted.append(",".join('"' + text.replace('"', '""').replace("\0", "") + '"' for text in row))
    text = "\n".join(quoted).encode("utf-8", "replace")
    project = read_project(make_project({"joints.csv": text}))
    assert all(account.adds_up for account in project.accounts)
    told = {f.location.row for f in project.findings if f.location and f.location.file == "records/joints.csv"}
    for joint in project.records.joints:
        size, date = joint.source.cell("od_mm"), joint.source.cell("press_date")
        for cell, value in ((size, joint.od_mm), (date, joint.press_date)):
            assert cell is not None
            assert value is not None or not cell.raw.strip() or joint.source.row in told
