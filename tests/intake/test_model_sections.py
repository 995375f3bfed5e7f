"""Lists of elements out of building models: what they do not say stays unknown, and nothing is lost."""

from collections import Counter
from collections.abc import Callable
from pathlib import Path

import pytest

from witnessmark.intake.errors import UnusableProject
from witnessmark.intake.project_reader import read_project
from witnessmark.model.project import Project
from witnessmark.workings.work import work

Make = Callable[..., Path]
REAL = Path(__file__).resolve().parents[3] / "shared" / "real"
HEAD = (
    "GlobalId,ifc_class,name,system,storey,outer_diameter_mm,outer_source,nominal_diameter_mm,length_mm,material,"
    "connected\n"
)
YML = "records: [{{file: records/model.csv, reader: model_elements{options}}}]\n"


def read(make_project: Make, rows: str, options: str = "") -> Project:
    yml = YML.format(options=f", options: {{{options}}}" if options else "")
    return read_project(make_project({"model.csv": HEAD + rows, "sections.csv": "section_id,name\n"}, yml))


def kinds(project: Project) -> Counter[str]:
    return Counter(f.rule.slug for f in project.findings if f.location and f.location.file == "records/model.csv")


PIPES = (
    "a,IfcFlowSegment,1.1,1_RL  Rücklauf,EG,15,pset,12,1500,Kupferrohr 15 x 1 mm,b\n"
    "b,IfcFlowFitting,1.2,1_RL  Rücklauf,EG,15,pset,12,,,a c\n"
    "c,IfcFlowSegment,1.3,1_RL  Rücklauf,OG,15,pset,12,500,Kupferrohr 15 x 1 mm,\n"
    "d,IfcFlowSegment,2.1,2_VL,EG,15,pset,12,250,Kupferrohr 15 x 1 mm,\n"
    "e,IfcFlowSegment,2.2,2_VL,EG,15,pset,12,250,Kupferrohr 15 x 1 mm,\n"
    "f,IfcFlowTerminal,,,EG,,,,,,\n"
)


def test_elements_that_touch_become_one_section_that_says_so(make_project: Make) -> None:
    project = read(make_project, PIPES)
    sections = {s.section_id: s for s in project.records.sections}
    assert set(sections) == {"1_RL Rücklauf/1.1", "2_VL/EG, 15 mm, unconnected"}
    first = sections["1_RL Rücklauf/1.1"]
    assert first.level == "EG, OG"
    assert first.remarks is not None
    assert "touch" in first.remarks
    assert "2 pipes, 1 fitting" in first.remarks
    assert kinds(project)["sections-inferred"] == 1


def test_lengths_and_walls_come_from_the_model_with_their_cells(make_project: Make) -> None:
    """15 x 1 copper holds 0.1327 L/m: EN 1057 size (published), nominal bore."""
    project = read(make_project, PIPES)
    content = work(project).sections["1_RL Rücklauf/1.1"].content_l
    assert content.value == pytest.approx(2.0 * 0.1327, rel=1e-3)
    assert {i.location.row for i in content.inputs if i.location} == {2, 4}


def test_devices_become_nodes(make_project: Make) -> None:
    (node,) = read(make_project, PIPES).records.nodes
    assert (node.node_id, node.kind, node.level) == ("f", "terminal", "EG")


def test_every_row_is_used_or_set_aside(make_project: Make) -> None:
    rows = (
        PIPES
        + ",IfcFlowSegment,9,2_VL,EG,15,pset,12,100,Kupfer,\na,IfcFlowSegment,1.1,2_VL,EG,15,pset,12,100,Kupfer,\n"
    )
    project = read(make_project, rows)
    (account,) = [a for a in project.accounts if a.table == "model elements"]
    assert (account.rows_in, account.rows_used, account.rows_set_aside) == (9, 6, 3)
    assert kinds(project)["row-without-id"] == 1
    assert kinds(project)["id-used-twice"] == 1


def test_a_pattern_of_the_names_gives_the_runs(make_project: Make) -> None:
    project = read(make_project, PIPES, "section_name: '^([0-9]+)[.]'")
    assert {s.section_id for s in project.records.sections} == {"1_RL Rücklauf/1", "2_VL/2"}


def test_project_yml_describes_the_systems_of_the_model(make_project: Make) -> None:
    options = "systems: {2_VL: {system_id: HTG-F, service: heating_flow, max_operating_pressure_bar: 3}}"
    systems = {s.system_id: s for s in read(make_project, PIPES, options).records.systems}
    assert systems["HTG-F"].service == "heating_flow"
    assert systems["HTG-F"].max_operating_pressure_bar == 3.0
    assert systems["1_RL Rücklauf"].service is None


@pytest.mark.parametrize(
    "options",
    [
        "systems: {2_VL: {servce: heating_flow}}",
        "systems: {2_VL: {service: warm}}",
        "section_name: '('",
        "systems: {2_VL: 3}",
    ],
)
def test_options_that_cannot_be_are_one_sentence(make_project: Make, options: str) -> None:
    with pytest.raises(UnusableProject, match=r"^project\.yml: options"):
        read(make_project, PIPES, options)


@pytest.mark.parametrize(
    ("row", "slug"),
    [
        ("a,IfcFlowSegment,1,S,EG,12,mesh,,500,,\n", "size-from-drawing"),
        ("a,IfcFlowSegment,1,S,EG,,,20,500,,\n", "size-needs-material"),
        ("a,IfcFlowSegment,1,S,EG,,,,500,Kupfer,\n", "size-missing"),
        ("a,IfcFlowSegment,1,S,EG,22,pset,20,500,Kupferrohr 15 x 1 mm,\n", "size-contradicts"),
        ("a,IfcFlowSegment,1,S,EG,22,pset,20,,Kupfer,\n", "length-missing"),
        ("a,IfcFlowSegment,1,S,EG,22,pset,20,-5,Kupfer,\n", "below-minimum"),
        ("a,IfcFlowSegment,1,S,EG,22,pset,20,500,Mehrschichtverbund,\n", "unknown-word"),
    ],
)
def test_what_the_model_does_not_say_is_a_finding(make_project: Make, row: str, slug: str) -> None:
    project = read(make_project, row)
    assert kinds(project)[slug] == 1
    assert len(project.records.sections) == 1


def test_thousands_of_pieces_of_one_run_are_one_section(make_project: Make) -> None:
    rows = "".join(f"p{n},IfcFlowSegment,r,S,EG,22,pset,20,10,Kupferrohr 22 x 1 mm,p{n + 1}\n" for n in range(3000))
    project = read(make_project, rows)
    (section,) = project.records.sections
    assert len(project.records.tubes) == 3000
    assert work(project).sections[section.section_id].length_m.value == pytest.approx(30.0)


def test_a_real_model_becomes_a_pack_in_which_nothing_is_invented(make_project: Make) -> None:
    """Pipework of a house out of an open building model that others drew; read where it stands beside the checkout."""
    source = REAL / "building-a-heating.csv"
    if not source.is_file():
        pytest.skip("the folder shared/real with open building models does not stand beside the checkout")
    yml = "records: [{file: records/model.csv, reader: model_elements}]\n"
    project = read_project(make_project({"model.csv": source.read_bytes(), "sections.csv": "section_id,name\n"}, yml))
    (account,) = [a for a in project.accounts if a.table == "model elements"]
    assert (account.rows_in, account.rows_used, account.rows_set_aside) == (405, 404, 1)
    assert {s.system_id for s in project.records.systems} == {"1_RL Rücklauf", "2_VL Vorlauf"}
    assert len(project.records.tubes) == 231
    assert len(project.records.nodes) == 19
    assert kinds(project)["size-from-drawing"] == 12
    assert sum(tube.od_mm is None for tube in project.records.tubes) == 12
    assert not project.records.joints, "a model holds no pressed joint"
    unknown = [s for s in work(project).sections.values() if not s.content_l.known]
    assert unknown, "sections with a pipe of no recorded diameter hold an unknown volume"
    assert all(s.content_l.missing for s in unknown)
